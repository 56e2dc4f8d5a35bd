import type { Reply } from '../../../src-shared/calls/all.ts';
import { lastUsableDay } from '../../../src-shared/stock/use-by.ts';
import { addDays, type Day } from '../../../src-shared/time/day.ts';
import { type Called, useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { RunningOut } from './running-out.tsx';

type Container = Reply<'cabinet'>['containers'][number];

/** Why a container that still holds something may not be used, in the word for the margin. */
const unusable: Partial<Record<Container['state'], string>> = {
  expired: 'Expired',
  'past-in-use': 'Open too long',
  quarantined: 'Set aside',
};
/** So many lines of each kind stand on Today; the rest is in the cabinet. */
const most = 4;
/** What can still be used longer than this is not said on Today (practice: two weeks of work ahead). */
const SOON_DAYS = 14;

/** Bottles that must go, those that may be used only a few days more, and after that what runs out. */
export function Stock({ today }: { today: string }) {
  const cabinet = useCall('cabinet', {});
  return (
    <>
      <InCabinet cabinet={cabinet} today={today} />
      {cabinet.state === 'loading' ? null : <RunningOut today={today} />}
    </>
  );
}

function InCabinet({ cabinet, today }: { cabinet: Called<Reply<'cabinet'>>; today: string }) {
  const soon = addDays(today as Day, SOON_DAYS);
  return (
    <Section title="In the cabinet">
      <Await call={cabinet} what="Reading the cabinet">
        {({ containers }) => {
          const gone = containers.filter((one) => unusable[one.state] !== undefined);
          const ending = containers.filter(
            (one) =>
              (one.state === 'open' || one.state === 'sealed') && lastUsableDay(one.unusableFrom) <= soon,
          );
          const more = Math.max(0, gone.length - most) + Math.max(0, ending.length - most);
          if (containers.length === 0) {
            return (
              <Sentences>
                <Sentence margin="Empty" deed={<CommandDeed id="receive-batch" />}>
                  Nothing is in the cabinet.
                </Sentence>
              </Sentences>
            );
          }
          return (
            <Sentences label="In the cabinet">
              {gone.slice(0, most).map((one) => (
                <Line
                  key={one.container}
                  container={one}
                  margin={unusable[one.state] ?? ''}
                  mind={one.state !== 'quarantined'}
                  deed={one.state === 'quarantined' ? 'See why' : 'Dispose of it'}
                >
                  {one.left.text} of <strong>{one.name}</strong> may not be used.
                </Line>
              ))}
              {ending.slice(0, most).map((one) => (
                <Line key={one.container} container={one} margin="Use first" deed="See the container">
                  {one.left.text} of <strong>{one.name}</strong>: use by {one.useBy}.
                </Line>
              ))}
              {more === 0 ? null : (
                <Sentence margin="More" deed={<DeedLink to="order">See all on Order</DeedLink>}>
                  {count(more, 'container more', 'containers more')} must go or be used soon.
                </Sentence>
              )}
              {gone.length + ending.length > 0 ? null : (
                <Sentence margin="In order" deed={<DeedLink to="cabinet">See the cabinet</DeedLink>}>
                  Nothing has to go, and nothing ends within {SOON_DAYS} days.
                </Sentence>
              )}
            </Sentences>
          );
        }}
      </Await>
    </Section>
  );
}

function Line({
  container,
  margin,
  mind = false,
  deed,
  children,
}: {
  container: Container;
  margin: string;
  mind?: boolean;
  deed: string;
  children: React.ReactNode;
}) {
  return (
    <Sentence
      margin={margin}
      mind={mind}
      small={`${container.label}, batch ${container.batch}`}
      deed={
        <DeedLink
          to="cabinet/container/:container"
          params={{ container: container.container }}
          query={mind ? { do: 'dispose' } : {}}
        >
          {deed}
        </DeedLink>
      }
    >
      {children}
    </Sentence>
  );
}
