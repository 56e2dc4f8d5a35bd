import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { sayAgo } from '../../../src-shared/time/ago.ts';
import { type Day, daysBetween } from '../../../src-shared/time/day.ts';
import { dayOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Warning } from '../../../src-shared/working.ts';
import type { Reader } from '../../store/store.ts';
import { onlyHolding, recordOf, recordsOf } from './holding.ts';

export type Equipment = DataOf<'equipment-set'>;
export type EquipmentCheck = DataOf<'equipment-checked'>;
/** A check with when it was, by whom it was written, and its place in the journal. */
export type CheckRow = { data: EquipmentCheck; at: string; seq: number };

/** Shots after which a gun is checked again (read, two sources). */
export const SHOTS_BETWEEN_CHECKS = 200;
/** Days after which the check of a weigher says little (practice). */
export const WEIGHER_DAYS = 30;

/** A syringe, gun or weigher of the farm. Refuses (`no-such-equipment`). */
export function equipmentOf(tx: Reader, id: string, field = 'equipment'): Equipment {
  const found = recordOf<Equipment>(tx, 'equipment', id);
  if (!found) {
    throw new Refusal('no-such-equipment', 'This syringe, gun or weigher is not in the book.', {
      field,
      next: 'Choose another, or add it under Farm.',
    });
  }
  return found;
}

/**
 * A line of work with what its syringe or gun holds and how far apart its marks are filled in from the farm's own.
 * Refuses (`no-such-equipment`, `not-for-dosing`).
 */
export function withEquipment<L extends { equipment?: string | undefined; syringe?: Syringe | undefined }>(
  tx: Reader,
  line: L,
  field: string,
): L {
  if (line.equipment === undefined) return line;
  const { capacity, graduation, name } = equipmentOf(tx, line.equipment, field);
  if (capacity !== undefined && graduation !== undefined)
    return { ...line, syringe: { capacity, graduation } };
  throw new Refusal('not-for-dosing', `${name} is not for giving medicine.`, {
    field,
    next: 'Choose a syringe or a dosing gun.',
  });
}
type Syringe = { capacity: string; graduation: string };

/**
 * What to say of the gun of a line before a dose is given with it: that it is to be checked, and, into a muscle, that
 * one cannot draw back with it. Nothing for a syringe, or when it is in order.
 */
export function dueForLine(
  tx: Reader,
  line: { equipment?: string | undefined },
  route: string | undefined,
  today: Day,
): Warning[] {
  const one = line.equipment === undefined ? undefined : recordOf<Equipment>(tx, 'equipment', line.equipment);
  if (!one) return [];
  const due = standingOf(tx, one, today).due;
  const text = `${one.name} cannot draw back: into a muscle one does not see whether it is in a vein.`;
  return [
    ...(due ? [due] : []),
    ...(route === 'intramuscular' && one.drawsBack === false ? [{ code: 'gun-cannot-draw-back', text }] : []),
  ];
}

/** What to say of the farm's weighers before doses go by their weights: each that is not checked, or long ago. */
export function weighersDue(tx: Reader, today: Day): Warning[] {
  return allEquipment(tx)
    .filter((one) => one.what === 'weigher' && one.active)
    .flatMap((one) => standingOf(tx, one, today).due ?? []);
}

/** Everything the farm has, by name; what is laid by last. */
export function allEquipment(tx: Reader): Equipment[] {
  return recordsOf<Equipment>(tx, 'equipment').toSorted((a, b) => Number(b.active) - Number(a.active));
}

/** Every check of one, the last by when it happened first. */
export function checksOf(tx: Reader, equipment: string): CheckRow[] {
  return tx
    .all<{ data: string; at: string; seq: number }>(
      "SELECT data, at, seq FROM record WHERE subject = ? AND what = 'equipment-check' ORDER BY at DESC, seq DESC",
      `equipment:${equipment}`,
    )
    .map((row) => ({ ...row, data: JSON.parse(row.data) as EquipmentCheck }));
}

/** Shots given with it since an instant, or ever. */
export function shotsSince(tx: Reader, equipment: string, at = ''): number {
  return (
    tx.get<{ n: number | null }>(
      'SELECT sum(shots) AS n FROM equipment_use WHERE subject = ? AND at > ?',
      `equipment:${equipment}`,
      at,
    )?.n ?? 0
  );
}

/** Local day, in the holding's zone, of an instant. */
export function dayIn(tx: Reader, at: string): Day {
  return dayOf(parseInstant(at, 'at'), onlyHolding(tx)?.zone ?? 'UTC');
}

/** One thing with its last check and what was given with it since. */
export type Standing = { last: CheckRow | undefined; shots: number; due: Warning | undefined };

/**
 * Whether it should be checked before it is used: a gun that was never checked, has given 200 shots since, or was
 * found wrong; a weigher that was never checked, not for 30 days, or was found wrong. A syringe needs none.
 */
export function standingOf(tx: Reader, one: Equipment, today: Day): Standing {
  const last = checksOf(tx, one.equipment)[0];
  const shots = one.what === 'gun' ? shotsSince(tx, one.equipment, last?.at) : 0;
  return { last, shots, due: dueOf(tx, one, last, shots, today) };
}

function dueOf(
  tx: Reader,
  one: Equipment,
  last: CheckRow | undefined,
  shots: number,
  today: Day,
): Warning | undefined {
  if (one.what === 'syringe') return undefined;
  const code = one.what === 'gun' ? 'gun-check-due' : 'weigher-check-due';
  const shoot = 'Shoot ten doses into a measure before the next animal.';
  if (!last) {
    const text =
      one.what === 'gun'
        ? `${one.name} has never been checked. ${shoot}`
        : `${one.name} has never been checked against a known weight: doses by its weights may be wrong.`;
    return { code, text };
  }
  const day = dayIn(tx, last.at);
  if (last.data.verdict !== 'right') {
    return {
      code,
      text: `${one.name} was not right at its last check, ${sayAgo(day, today)}. ${last.data.says}`,
    };
  }
  if (one.what === 'gun') {
    if (shots < SHOTS_BETWEEN_CHECKS) return undefined;
    return { code, text: `${shots} shots have been given with ${one.name} since its last check. ${shoot}` };
  }
  if (daysBetween(day, today) <= WEIGHER_DAYS) return undefined;
  return {
    code,
    text: `${one.name} was last checked against a known weight ${sayAgo(day, today)}: check it before weighing.`,
  };
}
