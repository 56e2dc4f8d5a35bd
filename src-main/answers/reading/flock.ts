import { DEPARTED_HOW } from '../../../src-shared/entries/departed.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import { type Identity, readIdentity } from '../../../src-shared/flock/identity.ts';
import { printWeight, type Weight } from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { type Day, parseDay, printDay } from '../../../src-shared/time/day.ts';
import { dayOf, instantOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import type { Act } from '../context.ts';
import { type Holding, onlyHolding, recordOf } from './holding.ts';
import type { SubjectRow } from './subjects.ts';

/** What a list shows of an animal or a lot. */
export function animalRowOf(row: SubjectRow) {
  const weight = weightOf(row);
  return {
    subject: row.subject,
    shown: row.shown,
    class: row.class,
    heads: row.heads,
    ...(row.tag === null ? {} : { tag: row.tag }),
    ...(row.chip === null ? {} : { chip: row.chip }),
    ...(row.management === null ? {} : { management: row.management }),
    ...(row.sex === null ? {} : { sex: row.sex }),
    ...(row.born === null ? {} : { born: row.born }),
    milking: row.milking === 1,
    present: row.present === 1,
    ...(weight ? { weight: printWeight(weight) } : {}),
    ...(row.weighed_on === null ? {} : { weighedOn: row.weighed_on }),
    ...(row.weighed_how === null ? {} : { weighedHow: row.weighed_how }),
  };
}

/** The last weight in the book, or nothing. */
export function weightOf(row: Pick<SubjectRow, 'weight' | 'weight_unit'>): Weight | undefined {
  return row.weight === null || row.weight_unit === null
    ? undefined
    : { value: row.weight, unit: row.weight_unit };
}

/** The holding a subject is on, or the only one there is. */
export function holdingOfSubject(tx: Reader, row: Pick<SubjectRow, 'holding'>): Holding | undefined {
  return recordOf<Holding>(tx, 'holding', row.holding) ?? onlyHolding(tx);
}

/** An animal that a number names, whether it is still there or not. */
export type Owner = {
  key: string;
  id: string;
  shown: string;
  present: number;
  left_on: string | null;
  left_how: string | null;
};

/** The animals that these identity keys name or once named, by key. One query, however many keys. */
export function ownersOf(tx: Reader, keys: readonly string[]): Map<string, Owner[]> {
  const rows = tx.all<Owner>(
    `SELECT identity.key, animal.id, animal.shown, animal.present, animal.left_on, animal.left_how
     FROM json_each(?) AS wanted JOIN identity ON identity.key = wanted.value
     JOIN animal ON animal.id = substr(identity.subject, 8) ORDER BY animal.seq`,
    JSON.stringify(keys),
  );
  const owners = new Map<string, Owner[]>();
  for (const row of rows) {
    const same = owners.get(row.key);
    if (same) same.push(row);
    else owners.set(row.key, [row]);
  }
  return owners;
}

const LEFT: Readonly<Record<(typeof DEPARTED_HOW)[number], string>> = {
  slaughter: 'sent to slaughter',
  sold: 'sold',
  died: 'died',
  'killed-on-farm': 'killed on the farm',
  moved: 'moved away',
  lost: 'lost',
};
const isHow = (how: string | null): how is (typeof DEPARTED_HOW)[number] =>
  DEPARTED_HOW.some((one) => one === how);

/** "left on 3 Mar 2026 (sold)". */
export function sayLeft(owner: Pick<Owner, 'left_on' | 'left_how'>): string {
  const on = owner.left_on === null ? '' : ` on ${printDay(owner.left_on.slice(0, 10) as Day)}`;
  return `left${on}${isHow(owner.left_how) ? ` (${LEFT[owner.left_how]})` : ''}`;
}

/** A number a person typed, its refusals naming the field of the form. */
export function identityIn(field: string, text: string): Identity {
  try {
    return readIdentity(text);
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    throw new Refusal(thrown.code, thrown.message, { field, next: thrown.next });
  }
}

const NOT_STATED = 'Nobody has stated that no withdrawal period runs from earlier treatments.';

/** The holds of an animal or lot whose earlier treatments nobody has spoken for: time alone never ends them. */
export function unknownStanding(): HoldDecision[] {
  return (['meat', 'milk'] as const).map((produce) => ({
    produce,
    market: 'domestic',
    clock: 'food',
    state: 'unknown',
    event: 'statement',
    says: NOT_STATED,
    rule: 'Unknown is never zero: held until a statement by the earlier keeper or the vet is recorded.',
    working: [],
  }));
}

/** Puts the hold for unknown earlier treatments on a subject. */
export function holdUntilStatement(act: Act, subject: string, happened: Happened, from?: string): void {
  act.add(
    'held',
    {
      hold: act.id(),
      subject,
      cause: 'bought-in',
      holds: unknownStanding(),
      why: from === undefined ? NOT_STATED : `Came from ${from}. ${NOT_STATED}`,
    },
    happened,
  );
}

/**
 * When something happened that cannot lie in the future. A day alone sorts at the end of that day for `end`, so
 * that what was given on it is counted in; but never after now, or what happens later today would come before it.
 * Refuses (`in-the-future`).
 */
export function happenedBy(
  act: Act,
  holding: Holding | undefined,
  side: 'start' | 'end',
  local: string | undefined,
): Happened {
  const happened = act.happened(holding, local, side);
  if (local === undefined) return happened;
  const begins = side === 'start' ? happened.at : instantOf(happened.local, happened.zone, 'start');
  if (begins > act.now) {
    throw new Refusal('in-the-future', 'This is dated in the future.', {
      field: 'happened',
      next: 'Give the day on which it happened, or leave the date out for now.',
    });
  }
  return happened.at > act.now ? { ...happened, at: act.now } : happened;
}

/** The same, but sorted after an instant: what happened to a thing cannot come before the thing. */
export function notBefore(happened: Happened, instant: string | undefined): Happened {
  return instant !== undefined && happened.at < instant ? { ...happened, at: instant } : happened;
}

/** When the first entry that counts brought this animal or lot into the book. */
export function cameAt(tx: Reader, subject: string): string | undefined {
  const table = subject.startsWith('lot:') ? 'lot' : 'animal';
  return tx.get<{ at: string }>(
    `SELECT at FROM subject_entry WHERE subject = ? AND seq = (SELECT seq FROM ${table} WHERE id = ?)`,
    subject,
    subject.slice(subject.indexOf(':') + 1),
  )?.at;
}

/** A day that exists and is not still to come. Refuses (`bad-day`, `in-the-future`). */
export function checkedDay(
  act: Act,
  holding: Holding,
  field: string,
  day: string | undefined,
): string | undefined {
  if (day === undefined) return undefined;
  if (parseDay(day, field) > dayOf(parseInstant(act.now, 'clock'), holding.zone)) {
    throw new Refusal('in-the-future', 'This day is still to come.', { field, next: 'Correct the date.' });
  }
  return day;
}
