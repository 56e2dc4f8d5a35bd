import type { z } from 'zod';
import type { declarationLineSchema } from '../../../src-shared/entries/declared.ts';
import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import { type Instant, instantOf, isoWithOffset, printInstant } from '../../../src-shared/time/zone.ts';
import { bars, clearsAt, type Destination, speaksOf } from '../../../src-shared/withdrawal/verdict.ts';
import type { Reader } from '../../store/store.ts';
import { asOfYoung } from '../reading/at-foot.ts';
import { type HoldRow, holdsOn } from '../reading/holds.ts';
import { sayHold } from '../reading/say-hold.ts';
import { type SubjectRow, shownOf } from '../reading/subjects.ts';
import type { Administered } from '../treat/core.ts';

export type DeclarationLine = z.output<typeof declarationLineSchema>;
/** Holds to reckon with in the place of the written ones, by their source: for saying what a change would do. */
export type ChangedHolds = ReadonlyMap<string, readonly HoldDecision[]>;

/** The holds on each of these subjects, inherited ones included; every subject has a list. */
export function holdsBySubject(
  tx: Reader,
  subjects: readonly string[] | 'present',
  { changed, produce }: { changed?: ChangedHolds | undefined; produce?: string } = {},
): Map<string, HoldRow[]> {
  const found = new Map<string, HoldRow[]>();
  if (subjects !== 'present') for (const subject of subjects) found.set(subject, []);
  for (const row of holdsOn(tx, subjects, produce)) {
    const list = found.get(row.subject) ?? [];
    found.set(row.subject, list);
    list.push(...(changed === undefined ? [row] : asChanged(row, changed)));
  }
  return found;
}

function asChanged(row: HoldRow, changed: ChangedHolds): HoldRow[] {
  const holds = changed.get(row.source);
  if (holds === undefined) return [row];
  return holds
    .filter((hold) => hold.produce === row.produce && hold.market === row.market && hold.clock === row.clock)
    .map((hold) => ({
      ...row,
      state: hold.state,
      until: hold.until ?? null,
      event: hold.event ?? null,
      period: hold.period ?? null,
      data: JSON.stringify(hold),
    }))
    .map((changed) => (changed.cause === 'at-foot' ? asOfYoung(changed) : changed));
}

/** A hold that is said in other words than its row would be. */
export type SaidHold = HoldRow & { says?: string };

export type HeldRow = ReturnType<typeof shownOf> & {
  clear?: string;
  why: string;
  holds: ReturnType<typeof sayHold>[];
};

/**
 * Says subjects that may not go, each with everything that bars it. Holds that read the same are put into words once:
 * a whole flock that was treated in one go is held by one and the same hold.
 */
export function heldRows(zone: string): (row: SubjectRow, barring: readonly SaidHold[]) => HeldRow {
  const said = new Map<string, ReturnType<typeof sayHold>>();
  const say = (hold: SaidHold) => {
    const { source, says } = hold;
    // Everything it is put into words by, the decision with its working first: most of it is told apart by that alone.
    const key = `${hold.data}|${hold.product}|${hold.possible ?? ''}|${hold.cause}|${hold.state}|${hold.until}|${hold.event}|${hold.period}|${hold.from_at}|${hold.produce}|${hold.market}|${hold.clock}|${says}`;
    const known = said.get(key);
    if (known !== undefined) return known.source === source ? known : { ...known, source };
    const words = { ...sayHold(hold, zone), ...(says === undefined ? {} : { text: says }) };
    said.set(key, words);
    return words;
  };
  const times = new Map<string, string>();
  const local = (instant: string) => {
    const known = times.get(instant) ?? isoWithOffset(instant as Instant, zone);
    times.set(instant, known);
    return known;
  };
  return (row, barring) => {
    const clear = clearsAt(barring);
    const holds = barring.map(say);
    return {
      ...shownOf(row),
      ...(clear === undefined ? {} : { clear: local(clear) }),
      why: holds.map((hold) => hold.text).join('; '),
      holds,
    };
  };
}

/** One subject that may not go, with everything that bars it. */
export function heldRow(row: SubjectRow, barring: readonly HoldRow[], zone: string): HeldRow {
  return heldRows(zone)(row, barring);
}

/** The holds that bar a produce on its way to a destination at an instant, with all that began by another. */
export function barring(
  holds: readonly HoldRow[],
  produce: string,
  at: string,
  begunBy = at,
  destination: Destination = 'domestic',
): HoldRow[] {
  return holds.filter((hold) => bars(hold, produce, at, begunBy, destination));
}

/** What was given on a day counts on that day, when no time is said. A written time stands for itself. */
export function begunBy(local: string, zone: string): string {
  return instantOf(local, zone, 'end');
}

/** The latest end, before an instant, of what once barred this produce; nothing when nothing ever did. */
export function clearSince(
  holds: readonly HoldRow[],
  produce: string,
  at: string,
  destination: Destination = 'domestic',
): string | undefined {
  let latest: string | undefined;
  for (const hold of holds) {
    if (!speaksOf(hold, produce, destination)) continue;
    if (hold.until === null || hold.until > at || hold.from_at > at || hold.until === hold.from_at) continue;
    if (latest === undefined || hold.until > latest) latest = hold.until;
  }
  return latest;
}

/** Whether a meat hold stands for a period above zero. What is not stated is not zero. */
export function isAboveZero(hold: Pick<HoldRow, 'state' | 'period'>): boolean {
  if (hold.state === 'none') return false;
  return hold.state !== 'until' || hold.period === null || !/^0 [dh]$/.test(hold.period);
}

/** The word for one piece of each medicine, looked up once. */
export function pieceWords(tx: Reader): (revision: string | undefined) => string | undefined {
  const known = new Map<string, string | undefined>();
  return (revision) => {
    if (revision === undefined) return undefined;
    if (!known.has(revision)) {
      const row = tx.get<{ piece: string | null }>(
        "SELECT terms ->> '$.piece' AS piece FROM revision WHERE id = ?",
        revision,
      );
      known.set(revision, row?.piece ?? undefined);
    }
    return known.get(revision);
  };
}

/** The revision whose words an administration is printed in. */
export function revisionIn(data: Administered): string | undefined {
  return data.source.kind === 'ours' ? data.source.draws[0]?.revision : data.source.revision;
}

/** The batches a dose came from, as printed on the boxes. */
export function batchesIn(data: Administered): string {
  if (data.source.kind !== 'ours') return data.source.batch ?? '';
  return [...new Set(data.source.draws.map((draw) => draw.batch))].filter((batch) => batch !== '').join(', ');
}

/** How days are counted, for people who must be able to count after us. */
export const COUNTING_WORDS: Readonly<Record<'24-hour' | 'whole-days' | 'later', string>> = {
  '24-hour':
    'a day is 24 hours, counted from the last dose, or from the end of its day when only the day is known.',
  'whole-days':
    'whole calendar days after the day of the last dose; held until the start of the day that follows them.',
  later:
    'the later of two ends: 24-hour days from the last dose (from the end of its day when only the day is known), or whole calendar days after the day of the last dose.',
};

/** The instant as paper shows it. */
export function printAt(at: string, zone: string): string {
  return printInstant(at as Instant, zone);
}
