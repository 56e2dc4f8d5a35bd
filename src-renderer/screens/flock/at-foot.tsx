import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { SubjectPicker, type SubjectRow } from '../../parts/subject-picker.tsx';
import { go, useLocation, useParams } from '../../router.tsx';
import { type SubjectPage, sayLocal } from './words.ts';

type Link = Reply<'at-foot'>['links'][number];

/** Lambs and their dam: what she is treated with while they suck her holds them too. */
export default function AtFootScreen() {
  const { subject } = useParams('flock/subject/:subject/at-foot');
  const { foot } = useLocation().query;
  const page = useCall('subject', { subject });
  const links = useCall('at-foot', { subject });
  return (
    <Await call={page} what="Opening the page">
      {(value) => (
        <Await call={links} what="Looking who sucks whom">
          {(said) => (
            <Page
              key={foot ?? 'new'}
              page={value}
              links={said.links}
              link={said.links.find((one) => one.foot === foot)}
            />
          )}
        </Await>
      )}
    </Await>
  );
}

function Page({ page, links, link }: { page: SubjectPage; links: readonly Link[]; link: Link | undefined }) {
  const { who } = page;
  const lamb = link?.lamb ?? who;
  const farm = useCall('farm', {});
  return (
    <Screen
      title={link === undefined ? `The dam of ${who.shown}` : `${lamb.shown} at foot of ${link.dam.shown}`}
      lead={leadOf(farm.state === 'ready' ? farm.value.holdings : [])}
    >
      <LinkForm page={page} link={link} />
      {links.length === 0 ? null : (
        <Section title="On record">
          <Links links={links} />
        </Section>
      )}
    </Screen>
  );
}

/** What follows for the lambs, by the rule of the farm. */
function leadOf(holdings: Reply<'farm'>['holdings']): string {
  const begin = 'What she is treated with while they suck her holds their meat';
  return holdings.some(({ atFoot }) => atFoot === 'as-the-label')
    ? `${begin} as the label says of lambs that suck. Where it says nothing, or there is doubt, it is held as long as hers.`
    : `${begin} as long as hers, and longer where the label says so of lambs that suck.`;
}

/** Who sucks or sucked whom. */
export function Links({ links }: { links: readonly Link[] }) {
  return (
    <Sentences label="At foot">
      {links.map((one) => (
        <Sentence
          key={one.foot}
          margin={one.until === undefined ? 'At foot' : 'Weaned'}
          small={`From ${sayLocal(one.from)}${one.until === undefined ? '' : ` until ${sayLocal(one.until)}`}.`}
          deed={
            <DeedLink
              to="flock/subject/:subject/at-foot"
              params={{ subject: one.lamb.subject }}
              query={{ foot: one.foot }}
            >
              {one.until === undefined ? 'Wean' : 'Correct the dates'}
            </DeedLink>
          }
        >
          <strong>{one.lamb.shown}</strong>, dam {one.dam.shown}
        </Sentence>
      ))}
    </Sentences>
  );
}

function LinkForm({ page, link }: { page: SubjectPage; link: Link | undefined }) {
  const { subject } = page.who;
  const [dam, setDam] = useState<Pick<SubjectRow, 'subject' | 'shown'> | undefined>(link?.dam);
  const toPage = () => go({ to: 'flock/subject/:subject', params: { subject } });
  const form = useForm(`flock/at-foot/${subject}/${link?.foot ?? ''}`, {
    dam: '',
    from: link?.from ?? '',
    until: link?.until ?? '',
  });
  const write = useWrite('set-at-foot', () => {
    void form.drop().then(toPage);
  });
  const send = () => {
    if (dam === undefined) return form.show([{ field: 'dam', message: 'Name the ewe it sucks.' }]);
    const { from, until } = form.values;
    void write.send({
      subject: link?.lamb.subject ?? subject,
      dam: dam.subject,
      ...(link === undefined ? {} : { foot: link.foot }),
      ...withoutEmpty({ from, until }),
    });
  };
  return (
    <Form form={form} write={write} deed="Write it down" onLeave={toPage} onSend={send}>
      {link === undefined ? (
        <SubjectPicker
          name="dam"
          label="Dam, or the lot of ewes"
          hint={dam === undefined ? 'Type or read her number, then Enter.' : `${dam.shown} is the dam.`}
          error={form.text('dam').error}
          onPick={setDam}
        />
      ) : (
        <p>Dam: {link.dam.shown}.</p>
      )}
      <DayField
        {...form.text('from')}
        label="At foot from"
        optional
        hint="Left empty: ever since it came into the book."
      />
      <DayField {...form.text('until')} label="Weaned on" optional hint="Left empty while it still sucks." />
    </Form>
  );
}
