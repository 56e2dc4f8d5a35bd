import type { z } from 'zod';
import type { declarationLineSchema } from '../../../src-shared/entries/declared.ts';
import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import {
  type Instant,
  instantOf,
  isoWithOffset,
  localOf,
  printInstant,
} from '../../../src-shared/time/zone.ts';
import { bars, clearsAt } from '../../../src-shared/withdrawal/verdict.ts';
import type { Reader } from '../../store/store.ts';
import { type HoldRow, holdsOn, treatmentsOn } from '../reading/holds.ts';
import { sayHold, untilText } from '../reading/say-hold.ts';
import { type SubjectRow, shownOf } from '../reading/subjects.ts';
import type { Administered } from '../treat/core.ts';

export type DeclarationLine = z.output<typeof declarationLineSchema>;
/** Holds to reckon with in the place of the written ones, by their source: for saying what a change would do. */
export type ChangedHolds = ReadonlyMap<string, readonly HoldDecision[]>;

/** The holds on each of these subjects, inherited ones included; every subject has a list. */
export function holdsBySubject(
  tx: Reader,
  subjects: readonly string[] | 'present',
  changed?: ChangedHolds,
): Map<string, HoldRow[]> {
  const found = new Map<string, HoldRow[]>();
  if (subjects !== 'present') for (const subject of subjects) found.set(subject, []);
  for (const row of holdsOn(tx, subjects)) {
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
    }));
}

/** A subject that may not go, with everything that bars it. */
export function heldRow(row: SubjectRow, barring: readonly HoldRow[], zone: string) {
  const clear = clearsAt(barring);
  const holds = barring.map((hold) => sayHold(hold, zone));
  return {
    ...shownOf(row),
    ...(clear === undefined ? {} : { clear: isoWithOffset(clear as Instant, zone) }),
    why: holds.map((hold) => hold.text).join('; '),
    holds,
  };
}

/** The holds that bar a produce at an instant, with all that began by another: the end of a day without a time. */
export function barring(holds: readonly HoldRow[], produce: string, at: string, begunBy = at): HoldRow[] {
  return holds.filter((hold) => bars(hold, produce, at, begunBy));
}

/** What was given on a day counts on that day, when no time is said. A written time stands for itself. */
export function begunBy(local: string, zone: string): string {
  return instantOf(local, zone, 'end');
}

/** The latest end, before an instant, of what once barred this produce; nothing when nothing ever did. */
export function clearSince(holds: readonly HoldRow[], produce: string, at: string): string | undefined {
  let latest: string | undefined;
  for (const hold of holds) {
    if (hold.produce !== produce || hold.clock !== 'food' || hold.market !== 'domestic') continue;
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

/**
 * What a declaration says of each subject: its treatments with a period above zero that happened before an
 * instant, each with its end, and since when nothing bars its meat.
 */
export function declarationLines(
  tx: Reader,
  subjects: readonly { row: SubjectRow; heads: number }[],
  at: string,
  zone: string,
  changed?: ChangedHolds,
): DeclarationLine[] {
  const names = subjects.map(({ row }) => row.subject);
  const holds = holdsBySubject(tx, names, changed);
  const treatments = new Map<string, { id: string; local: string; at: string; data: string }[]>();
  for (const row of treatmentsOn(tx, names)) {
    treatments.set(row.subject, [...(treatments.get(row.subject) ?? []), row]);
  }
  const piece = pieceWords(tx);
  return subjects.map(({ row, heads }) => {
    const own = holds.get(row.subject) ?? [];
    const meat = new Map(
      own
        .filter((hold) => hold.produce === 'meat' && hold.clock === 'food' && hold.market === 'domestic')
        .map((hold) => [hold.source, hold]),
    );
    const since = clearSince(own, 'meat', at);
    return {
      subject: row.subject,
      shown: row.shown,
      class: row.class,
      heads,
      ...(since === undefined ? {} : { clearSince: since }),
      treatments: [
        ...(treatments.get(row.subject) ?? []).flatMap((given) => {
          const hold = meat.get(`administration:${given.id}`);
          if (given.at > at || !hold || !isAboveZero(hold)) return [];
          return [treatmentLine(given, hold, zone, piece)];
        }),
        ...[...meat.values()]
          .filter(
            (hold) => WITHOUT_RECORD[hold.cause] !== undefined && hold.from_at <= at && isAboveZero(hold),
          )
          .map((hold) => unrecordedLine(hold, zone)),
      ],
    };
  });
}

/** Holds that stand for a treatment which nobody recorded: who may have been treated counts as treated. */
const WITHOUT_RECORD: Readonly<Record<string, string>> = {
  'possibly-treated': 'May have been treated; not recorded',
  'bought-in': 'Came in with no statement about treatments',
  'at-foot': 'At foot of a treated ewe',
  other: 'Held by hand',
};

function unrecordedLine(hold: HoldRow, zone: string): DeclarationLine['treatments'][number] {
  return {
    administration: hold.source,
    product: WITHOUT_RECORD[hold.cause] ?? hold.cause,
    batch: '',
    local: localOf(hold.from_at as Instant, zone),
    quantity: 'not known',
    period: hold.period ?? 'not stated',
    until: untilText(hold, zone),
  };
}

function treatmentLine(
  given: { id: string; local: string; data: string },
  hold: HoldRow,
  zone: string,
  piece: ReturnType<typeof pieceWords>,
): DeclarationLine['treatments'][number] {
  const data = JSON.parse(given.data) as Administered;
  const dose = printAmount(amountOf(data.dose.kind, unitsOf(data.dose)), piece(revisionIn(data)));
  return {
    administration: given.id,
    product: data.product,
    batch: batchesIn(data),
    local: given.local,
    // What one head got is what an inspector can compare with the label.
    quantity: data.heads === 1 ? dose : `${dose} a head`,
    period: hold.period ?? 'not stated',
    until: untilText(hold, zone),
  };
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
