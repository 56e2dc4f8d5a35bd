import { DeedLink } from '../../parts/deed.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { sayWeighed } from '../../parts/weight-values.ts';
import { go } from '../../router.tsx';
import { type SubjectPage, sayLocal } from './words.ts';

type Treatment = SubjectPage['treatments'][number];
type Weighing = SubjectPage['weighings'][number] & { key: string };

const treatmentColumns: readonly Column<Treatment>[] = [
  { key: 'local', head: 'When', text: (row) => row.local, show: (row) => sayLocal(row.local) },
  { key: 'product', head: 'Medicine', isName: true, text: (row) => row.product },
  { key: 'quantity', head: 'Given', text: (row) => row.quantity, isNumber: true },
  { key: 'reason', head: 'Why', text: (row) => row.reason },
  { key: 'until', head: 'Meat withdrawal until', text: (row) => row.until },
];

/** What was given to it, or to a lot while it was in there. Enter opens one, where it can be corrected. */
export function Treatments({ page }: { page: SubjectPage }) {
  const last = page.treatments.reduce<Treatment | undefined>(
    (latest, row) => (latest === undefined || row.local > latest.local ? row : latest),
    undefined,
  );
  return (
    <Section
      title="Treatments"
      deeds={
        last === undefined ? undefined : (
          <>
            <DeedLink to="book/reaction/:administration" params={{ administration: last.administration }}>
              Write down a reaction to {last.product}
            </DeedLink>
            <DeedLink to="book/paper" query={{ form: 'animals', subject: page.who.subject }}>
              Print its page of the book
            </DeedLink>
          </>
        )
      }
    >
      <List
        rows={page.treatments}
        columns={treatmentColumns}
        rowKey={(row) => row.administration}
        label="Treatments"
        fileName={`treatments ${page.who.shown}`}
        first={{ key: 'local', isDown: true }}
        onOpen={(row) =>
          go({ to: 'book/treatment/:administration', params: { administration: row.administration } })
        }
        empty={<Empty>Nothing was given to it on record.</Empty>}
      />
    </Section>
  );
}

const weighingColumns: readonly Column<Weighing>[] = [
  { key: 'local', head: 'When', text: (row) => row.local, show: (row) => sayLocal(row.local) },
  { key: 'weight', head: 'Weight', text: (row) => row.weight, isNumber: true },
  { key: 'how', head: 'How', text: (row) => sayWeighed(row.how) },
];

/** Its weights, the last one first. */
export function Weighings({ page }: { page: SubjectPage }) {
  const { subject, present, shown } = page.who;
  const deed = (
    <DeedLink to="flock/subject/:subject/weigh" params={{ subject }}>
      Write down a weight
    </DeedLink>
  );
  return (
    <Section title="Weights">
      {page.predicted === undefined ? null : <p className="hint">{page.predicted}</p>}
      <List
        rows={page.weighings.map((row, n) => ({ ...row, key: `${n} ${row.local}` }))}
        columns={weighingColumns}
        rowKey={(row) => row.key}
        label="Weights"
        fileName={`weights ${shown}`}
        empty={
          <Empty deed={present ? deed : undefined}>
            It was never weighed. A dose by weight cannot be worked out without one.
          </Empty>
        }
      />
    </Section>
  );
}

/** Every number it answers to, those it had before too. */
export function Numbers({ page }: { page: SubjectPage }) {
  const { who, before, dam } = page;
  if (who.subject.startsWith('lot:')) return null;
  const lines: readonly (readonly [string, string | undefined])[] = [
    ['Tag', who.tag],
    ['Chip', who.chip],
    ['Own number', who.management],
    ['Before', before.length === 0 ? undefined : before.join(', ')],
    ['Dam', dam],
  ];
  return (
    <Section title="Numbers">
      <Sentences label="Numbers">
        {lines.map(([margin, number]) =>
          number === undefined ? null : (
            <Sentence
              key={margin}
              margin={margin}
              small={margin === 'Before' ? 'It is still found by these.' : undefined}
            >
              {number}
            </Sentence>
          ),
        )}
      </Sentences>
    </Section>
  );
}

/** The groups it is in. */
export function Groups({ page }: { page: SubjectPage }) {
  if (page.groups.length === 0) return null;
  return (
    <Section title="Groups">
      <Sentences label="Groups">
        {page.groups.map((one) => (
          <Sentence
            key={one.group}
            deed={
              <DeedLink to="flock/group/:group" params={{ group: one.group }}>
                Open the group
              </DeedLink>
            }
          >
            {one.name}
          </Sentence>
        ))}
      </Sentences>
    </Section>
  );
}

/** The marks it carries, and how long each is likely to be seen. */
export function Marks({ page }: { page: SubjectPage }) {
  if (page.marks.length === 0) return null;
  return (
    <Section title="Marks">
      <Sentences label="Marks">
        {page.marks.map((mark) => (
          <Sentence
            key={`${mark.local} ${mark.colour} ${mark.place}`}
            margin={sayLocal(mark.local)}
            small={
              mark.lastsUntil === undefined
                ? undefined
                : `Likely to be seen until ${sayLocal(mark.lastsUntil)}.`
            }
          >
            {mark.colour}, {mark.place}
          </Sentence>
        ))}
      </Sentences>
    </Section>
  );
}
