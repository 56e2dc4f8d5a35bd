import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Context } from '../context.ts';
import { holdsBySubject } from '../declare/lines.ts';
import { verdictsOn } from '../flock/standing.ts';
import { holdingOfSubject } from '../reading/flock.ts';
import { printLocal } from '../reading/labels.ts';
import { type SubjectRow, subjectsOf } from '../reading/subjects.ts';

export type Place = Reply<'recall'>['got'][number]['now'][number];

/**
 * Where the heads of treated animals and lots are now: they themselves, and whoever got heads from them since. What a
 * lot gave away before is left out; what it gave at the very moment is not (the cautious reading, as with holds).
 * @param treated subjects with the instant of their first treatment
 */
export function whereNow(context: Context, treated: ReadonlyMap<string, string>): Map<string, Place[]> {
  const tx = context.store.read;
  const heirs = tx.all<{ root: string; subject: string; since: string }>(
    `WITH RECURSIVE heirs(root, subject, since) AS (
       SELECT value ->> 0, value ->> 0, value ->> 1 FROM json_each(?)
       UNION
       SELECT heirs.root, lineage.subject, lineage.at
       FROM heirs JOIN lineage ON lineage.parent = heirs.subject AND lineage.at >= heirs.since
     )
     SELECT root, subject, min(since) AS since FROM heirs GROUP BY root, subject ORDER BY root, since, subject`,
    JSON.stringify([...treated]),
  );
  const names = [...new Set(heirs.map(({ subject }) => subject))];
  const rows = new Map(subjectsOf(tx, names).map((row) => [row.subject, row]));
  const holds = holdsBySubject(tx, names);
  const found = new Map<string, Place[]>();
  for (const { root, subject, since } of heirs) {
    const row = rows.get(subject);
    if (row === undefined) continue;
    const place = placeOf(context, row, since, holds.get(subject) ?? []);
    found.set(root, [...(found.get(root) ?? []), place]);
  }
  return found;
}

function placeOf(
  context: Context,
  row: SubjectRow,
  since: string,
  holds: Parameters<typeof verdictsOn>[1],
): Place {
  const isHere = row.present === 1;
  const isAnimal = row.subject.startsWith('animal:');
  const left = isAnimal && isHere ? [] : departures(context, row.subject, since, isAnimal);
  const here = isHere ? [isAnimal ? 'here' : `${row.heads} here`] : [];
  const says = [...here, ...left];
  return {
    subject: row.subject,
    shown: row.shown,
    class: row.class,
    heads: row.heads,
    isHere,
    says: says.length === 0 ? 'nobody of it is left' : says.join('; '),
    holds: isHere ? standing(context, row, holds) : [],
  };
}

const HOW: Readonly<Record<DataOf<'departed'>['how'], string>> = {
  slaughter: 'to slaughter',
  sold: 'sold',
  died: 'died',
  'killed-on-farm': 'killed on the farm',
  moved: 'moved away',
  lost: 'lost',
};

/** Who left, the day, how and where to; the number of the declaration that went along. */
function departures({ store }: Context, subject: string, since: string, isAnimal: boolean): string[] {
  return store.entriesOf(subject).flatMap((entry) => {
    if (entry.kind !== 'departed' || entry.state === 'voided' || entry.happened.at < since) return [];
    const { heads, how, to, declaration } = entry.data as DataOf<'departed'>;
    const number =
      declaration === undefined
        ? undefined
        : store.read.get<{ number: number }>('SELECT number FROM declaration WHERE id = ?', declaration)
            ?.number;
    const many = isAnimal ? '' : `${heads} `;
    const where = to === undefined ? '' : how === 'slaughter' ? `, ${to}` : ` to ${to}`;
    const paper = number === undefined ? '' : ` (declaration ${number})`;
    return [`${many}${HOW[how]} on ${printLocal(entry.happened.local)}${where}${paper}`];
  });
}

function standing(context: Context, row: SubjectRow, holds: Parameters<typeof verdictsOn>[1]): string[] {
  const holding = holdingOfSubject(context.store.read, row);
  return verdictsOn(context, holds, holding).map(({ produce, state, big }) => {
    const what = produce === 'meat' ? 'Meat' : 'Milk';
    if (state === 'until') return `${what} held until ${big}`;
    if (state === 'no-end')
      return `${what} held: ${big === 'Never' ? 'for life' : 'time alone never clears it'}`;
    return `${what}: ${big.toLowerCase()}`;
  });
}
