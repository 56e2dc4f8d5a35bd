import type { Reply } from '../../../src-shared/calls/all.ts';
import type { FormState } from '../../hooks/use-form.ts';
import { CommandDeed, Deed } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { List } from '../../parts/list.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { Steady } from '../../parts/steady.tsx';
import { count } from '../../parts/words.ts';
import { localInWords } from '../book/when.ts';
import { Accompany } from './accompany.tsx';
import { clearWords, departureAt, headsOf, keepGoing, readGoing, whyWords, without } from './clear-rows.ts';
import type { DeclareValues, Preview } from './declare-values.ts';

type Told = Reply<'preview-declaration'>;
type Refused = Told['refused'][number];

/** What the declaration would say, who stands against it and what may be done about each. */
export function Foreseen({
  form,
  preview,
  onChanged,
}: {
  form: FormState<DeclareValues>;
  preview: Preview;
  /** The row with the cursor is gone: the cursor needs another place. */
  onChanged: () => void;
}) {
  if (form.values.going.length === 0) return null;
  const takeOff = (subjects: readonly string[]) => {
    form.set({ going: without(form.values.going, subjects) });
    onChanged();
  };
  const leaveAt = (clear: string) => {
    const at = departureAt(clear);
    form.set({ day: at.slice(0, 10), time: at.slice(11) });
    onChanged();
  };
  return (
    <Steady call={preview} what="Looking who may go">
      {(told) => (
        <>
          <NotYet told={told} onTakeOff={takeOff} onLeaveAt={leaveAt} />
          <Accompany form={form} refused={told.refused} />
          {told.openSessions.length === 0 ? null : (
            <Section title="Work that is still open">
              <Sentences label="Open work">
                {told.openSessions.map((text) => (
                  <Sentence
                    key={text}
                    mind
                    margin="Open"
                    small="Record or close the session first, so that nothing given today is left out."
                    deed={<CommandDeed id="go-treat" />}
                  >
                    {text}.
                  </Sentence>
                ))}
              </Sentences>
            </Section>
          )}
          {told.lines.length === 0 ? null : (
            <Section title="The declaration will say">
              <Sentences label="It will say">
                {told.sentences.map((text) => (
                  <Sentence key={text}>{text}</Sentence>
                ))}
              </Sentences>
              <Lots form={form} told={told} />
              <Going told={told} onTakeOff={takeOff} />
            </Section>
          )}
        </>
      )}
    </Steady>
  );
}

/** So many are refused by name; the others are counted, and one deed takes all of them off. */
const named = 20;

function NotYet({
  told,
  onTakeOff,
  onLeaveAt,
}: {
  told: Told;
  onTakeOff: (subjects: readonly string[]) => void;
  onLeaveAt: (clear: string) => void;
}) {
  const { refused } = told;
  if (refused.length === 0) return null;
  const isAlone = refused.length === 1;
  return (
    <Section title={`${count(headsOf(refused), 'head', 'head')} may not go`}>
      <Sentences label="May not go">
        {isAlone ? null : <AllRefused refused={refused} onTakeOff={onTakeOff} onLeaveAt={onLeaveAt} />}
        {refused.slice(0, named).map((row) => (
          <RefusedLine
            key={row.subject}
            row={row}
            isAlone={isAlone}
            onTakeOff={onTakeOff}
            onLeaveAt={onLeaveAt}
          />
        ))}
        {refused.length <= named ? null : (
          <Sentence mind margin="More">
            And {(refused.length - named).toLocaleString('en-GB')} more.
          </Sentence>
        )}
      </Sentences>
    </Section>
  );
}

/** All who may not go in one line, with what can be done about them together. */
function AllRefused({
  refused,
  onTakeOff,
  onLeaveAt,
}: {
  refused: readonly Refused[];
  onTakeOff: (subjects: readonly string[]) => void;
  onLeaveAt: (clear: string) => void;
}) {
  const clears = refused.flatMap((row) => (row.clear === undefined ? [] : [row.clear]));
  // They come from one clock with one offset or two; as instants they compare whatever it was.
  const last = clears.toSorted((a, b) => Date.parse(a) - Date.parse(b)).at(-1);
  const isDated = last !== undefined && clears.length === refused.length;
  return (
    <Sentence
      mind
      margin="Together"
      deed={
        <>
          <Deed onDo={() => onTakeOff(refused.map((row) => row.subject))}>
            Take all {refused.length} off the list
          </Deed>
          {isDated ? (
            <Deed onDo={() => onLeaveAt(last)}>Leave on {localInWords(departureAt(last))} instead</Deed>
          ) : null}
        </>
      }
    >
      {isDated ? (
        <>
          The last of them is clear on <strong>{localInWords(last)}</strong>.
        </>
      ) : (
        'Waiting does not clear all of them.'
      )}
    </Sentence>
  );
}

function RefusedLine({
  row,
  isAlone,
  onTakeOff,
  onLeaveAt,
}: {
  row: Refused;
  isAlone: boolean;
  onTakeOff: (subjects: readonly string[]) => void;
  onLeaveAt: (clear: string) => void;
}) {
  const { clear } = row;
  return (
    <Sentence
      mind
      margin={clear === undefined ? 'No date' : 'Held'}
      small={clear === undefined ? row.why : `${whyWords(row)}.`}
      deed={
        isAlone ? (
          <>
            <Deed onDo={() => onTakeOff([row.subject])}>Take {row.shown} off the list</Deed>
            {clear === undefined ? null : (
              <Deed onDo={() => onLeaveAt(clear)}>Leave on {localInWords(departureAt(clear))} instead</Deed>
            )}
          </>
        ) : (
          <Deed label={`Take off ${row.shown}`} onDo={() => onTakeOff([row.subject])}>
            Take off
          </Deed>
        )
      }
    >
      <strong>{row.shown}</strong>{' '}
      {clear === undefined ? (
        'may not go: waiting alone does not clear it.'
      ) : (
        <>
          is held until <strong>{clearWords(row)}</strong>.
        </>
      )}
    </Sentence>
  );
}

/** Of a lot only some may go: how many is asked for each lot on the list. */
function Lots({ form, told }: { form: FormState<DeclareValues>; told: Told }) {
  const lots = told.lines.filter((line) => line.subject.startsWith('lot:'));
  const set = (subject: string, text: string) => {
    const heads = Number(text);
    form.set({
      going: form.values.going.map((kept) =>
        readGoing(kept).subject !== subject
          ? kept
          : keepGoing(Number.isInteger(heads) && heads > 0 ? { subject, heads } : { subject }),
      ),
    });
  };
  return lots.map((lot) => {
    const kept = form.values.going.map(readGoing).find((one) => one.subject === lot.subject);
    return (
      <Field
        key={lot.subject}
        name={`heads-${lot.subject}`}
        label={`How many head of ${lot.shown}`}
        size={6}
        inputMode="numeric"
        hint="Empty: all of them."
        value={kept?.heads === undefined ? '' : String(kept.heads)}
        onChange={(text) => set(lot.subject, text)}
      />
    );
  });
}

function Going({ told, onTakeOff }: { told: Told; onTakeOff: (subjects: readonly string[]) => void }) {
  return (
    <List
      rows={told.lines}
      rowKey={(row) => row.subject}
      label="Going"
      fileName="consignment"
      heads={(row) => row.heads}
      empty={null}
      columns={[
        { key: 'who', head: 'Animal or lot', text: (row) => row.shown, share: 1.5 },
        { key: 'class', head: 'Class', text: (row) => row.class.replaceAll('-', ' '), share: 0.8 },
        {
          key: 'heads',
          head: 'Head',
          text: (row) => String(row.heads),
          order: (row) => row.heads,
          isNumber: true,
          share: 0.5,
        },
        {
          key: 'treatments',
          head: 'What it names',
          text: (row) =>
            [
              ...(row.runs ?? []).map((text) => `Still runs: ${text}`),
              ...row.treatments.map(
                (one) => `${one.product}, ${localInWords(one.local)}, withdrawal until ${one.until}`,
              ),
            ].join('; ') || 'none',
          share: 3,
        },
        {
          key: 'off',
          head: 'Deed',
          text: () => '',
          show: (row) => <Deed onDo={() => onTakeOff([row.subject])}>Take off</Deed>,
          share: 0.7,
        },
      ]}
      fileColumns={[
        { key: 'who', head: 'Animal or lot', text: (row) => row.shown },
        { key: 'class', head: 'Class', text: (row) => row.class },
        { key: 'heads', head: 'Head', text: (row) => String(row.heads) },
      ]}
    />
  );
}
