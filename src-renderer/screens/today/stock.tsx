import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';

type Container = Reply<'cabinet'>['containers'][number];

/** Why a container that still holds something may not be used, in the word for the margin. */
const unusable: Partial<Record<Container['state'], string>> = {
  expired: 'Expired',
  'past-in-use': 'Open too long',
  quarantined: 'Set aside',
};
/** So many lines of each kind stand on Today; the rest is in the cabinet. */
const most = 4;

/** Bottles that must go, and those that will be the first not to be usable any more. */
export function Stock() {
  const cabinet = useCall('cabinet', {});
  return (
    <Section title="In the cabinet">
      <Await call={cabinet} what="Reading the cabinet">
        {({ containers }) => {
          const gone = containers.filter((one) => unusable[one.state] !== undefined);
          const open = containers.filter((one) => one.state === 'open');
          const [sealed] = containers.filter((one) => one.state === 'sealed');
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
                  mind
                  deed="Deal with it"
                >
                  {one.left.text} of <strong>{one.name}</strong> may not be used.
                </Line>
              ))}
              {open.slice(0, most).map((one) => (
                <Line key={one.container} container={one} margin="Open" deed="Look at it">
                  {one.left.text} of <strong>{one.name}</strong>: use by {one.useBy}.
                </Line>
              ))}
              {sealed === undefined ? null : (
                <Line container={sealed} margin="Use first" deed="Look at it">
                  Of the sealed ones <strong>{sealed.name}</strong> lapses first: use by {sealed.useBy}.
                </Line>
              )}
              {gone.length + open.length <= 2 * most ? null : (
                <Sentence margin="More" deed={<DeedLink to="cabinet">See the whole cabinet</DeedLink>}>
                  Not all of it is shown here.
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
        <DeedLink to="cabinet/container/:container" params={{ container: container.container }}>
          {deed}
        </DeedLink>
      }
    >
      {children}
    </Sentence>
  );
}
