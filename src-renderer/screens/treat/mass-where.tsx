import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useKeptHere } from '../../hooks/kept-here.ts';
import { useCall } from '../../hooks/use-call.ts';
import type { FormState } from '../../hooks/use-form.ts';
import { Deed } from '../../parts/deed.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { type MassValues, whereForAll } from './mass-values.ts';
import { PushesHardFor } from './pushes-hard.tsx';
import { WhereShown } from './where-shown.tsx';
import { drawerAsk, FROM_DRAWER, type NeedleFor } from './where-values.ts';
import { hasPlaces } from './words.ts';

type Session = Reply<'session'>;
type Line = Session['lines'][number];
type Dose = Reply<'dose-for'>;

/**
 * A mass run: where it goes and with which needle, worked out for one of each class that waits. Nothing of it is
 * written until it is said for all of them, because each animal's own record may say another side.
 */
export function MassWhere({
  id,
  session,
  form,
}: {
  id: string;
  session: Session;
  form: FormState<MassValues>;
}) {
  const lines = session.lines.filter((line) => hasPlaces(line.route));
  if (lines.length === 0) return null;
  const classes = [...new Map(session.waiting.map((row) => [row.class, row])).values()];
  return classes.map((row) => (
    <ClassWhere
      key={row.class}
      id={id}
      row={row}
      lines={lines}
      form={form}
      who={`${row.class.replace('-', ' ')}s`}
      isOneClass={classes.length === 1}
    />
  ));
}

function ClassWhere({
  id,
  row,
  lines,
  form,
  who,
  isOneClass,
}: {
  id: string;
  row: Session['waiting'][number];
  lines: readonly Line[];
  form: FormState<MassValues>;
  who: string;
  isOneClass: boolean;
}) {
  const kept = useKeptHere(FROM_DRAWER);
  const call = useCall('dose-for', { session: id, subject: row.subject, ...drawerAsk(kept) });
  if (call.state !== 'ready') return null;
  return lines.map((line) => (
    <LineWhere
      key={line.line}
      line={line}
      dose={call.value}
      form={form}
      title={isOneClass ? line.name : `${line.name}, ${who}`}
      // One place can be said for all only when one medicine goes in by needle: two of them go to two places.
      isSayable={lines.length === 1}
    />
  ));
}

function LineWhere({
  line,
  dose,
  form,
  title,
  isSayable,
}: {
  line: Line;
  dose: Dose;
  form: FormState<MassValues>;
  title: string;
  isSayable: boolean;
}) {
  const [where, setWhere] = useState<NeedleFor['where']>(undefined);
  const own = dose.doses.find((each) => each.line === line.line);
  if (own === undefined || own.dose === null) return null;
  const { site, side, needle } = form.values;
  const said = isSayable ? { site, side, needle } : { site: '', side: '', needle: '' };
  const { who } = dose;
  return (
    <>
      <h3>
        {title}: as for {who.shown}
      </h3>
      <WhereShown
        name={title}
        route={line.route}
        ask={{
          subject: who.subject,
          medicine: line.medicine,
          doseLine: line.doseLine,
          volume: own.dose.draw.text,
          parts: own.dose.sites,
          ...(who.weight === undefined ? {} : { weight: who.weight }),
          ...(line.equipment === undefined ? {} : { equipment: line.equipment }),
        }}
        said={said}
        onSay={(change) => (isSayable ? form.set(change) : undefined)}
        onFound={setWhere}
        keeps={
          isSayable
            ? 'What you choose is written for all of them.'
            : 'Two injections go to two places: to write the place, take the animals one by one.'
        }
      />
      {isSayable ? <SaidForAll form={form} where={where} /> : null}
      <PushesHardFor medicine={line.medicine} capacity={line.syringe?.capacity} />
    </>
  );
}

/** What the book will have of place and needle, beside the deed that changes it. */
function SaidForAll({ form, where }: { form: FormState<MassValues>; where: NeedleFor['where'] }) {
  const said = whereForAll(form.values);
  const isEmpty = Object.keys(said).length === 0;
  if (isEmpty && where === undefined) return null;
  return (
    <Sentences label="In the book for all">
      {isEmpty ? (
        <Sentence
          margin="In the book"
          deed={
            <Deed
              onDo={() =>
                form.set({ site: where?.site ?? '', side: where?.side ?? '', needle: where?.needle ?? '' })
              }
            >
              All get it so: write it for all
            </Deed>
          }
        >
          No place and no needle yet, because nobody has said that all get it in the same one.
        </Sentence>
      ) : (
        <Sentence
          margin="In the book"
          deed={<Deed onDo={() => form.set({ site: '', side: '', needle: '' })}>Write no place</Deed>}
        >
          For all: <strong>{sayWhere(said)}</strong>.
        </Sentence>
      )}
    </Sentences>
  );
}

function sayWhere({ site, side, needle }: ReturnType<typeof whereForAll>): string {
  const sides = side === undefined ? undefined : side === 'both' ? 'both sides' : `${side} side`;
  return [site, sides, needle === undefined ? undefined : `needle ${needle}`]
    .filter((part) => part !== undefined)
    .join(', ');
}
