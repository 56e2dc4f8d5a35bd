import { type HoldDecision, unitsOf } from '../../../src-shared/entries/parts.ts';
import { listed } from '../../../src-shared/list-words.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { addDays, type Day } from '../../../src-shared/time/day.ts';
import { type Instant, localOf, startOfDay } from '../../../src-shared/time/zone.ts';
import { bars, type Destination, speaksOf } from '../../../src-shared/withdrawal/verdict.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import { type HoldRow, treatmentsOn } from '../reading/holds.ts';
import { possibleOf } from '../reading/possible-hold.ts';
import { sayHold, untilText } from '../reading/say-hold.ts';
import type { SubjectRow } from '../reading/subjects.ts';
import type { Administered } from '../treat/core.ts';
import {
  batchesIn,
  type ChangedHolds,
  clearSince,
  type DeclarationLine,
  holdsBySubject,
  isAboveZero,
  pieceWords,
  revisionIn,
} from './lines.ts';

/** What the lines of a paper are worked out for. */
export type LinesFor = {
  /** The instant from which it is reckoned, and the end of the day that was meant where no time was said. */
  at: string;
  begun: string;
  zone: string;
  /** Produce whose periods are said, the first of them the one it must be clear of. */
  says: readonly string[];
  destination: Destination;
  /** Whether it says what still runs, one by one. */
  isRunning: boolean;
  /** Treatments are listed whose period ended within so many days before; absent, all that the book has. */
  relevantDays?: number | undefined;
  changed?: ChangedHolds | undefined;
};

/**
 * What a paper says of each subject: its treatments with a period above zero that happened before an instant, each
 * with its end; since when nothing bars the produce it must be clear of; and what still runs.
 */
export function declarationLines(
  tx: Reader,
  subjects: readonly { row: SubjectRow; heads: number }[],
  what: LinesFor,
): DeclarationLine[] {
  const { at, zone, says, destination, changed } = what;
  const names = subjects.map(({ row }) => row.subject);
  const holds = holdsBySubject(tx, names, { changed });
  const treatments = new Map<string, { id: string; local: string; at: string; data: string }[]>();
  for (const row of treatmentsOn(tx, names)) {
    const list = treatments.get(row.subject) ?? [];
    treatments.set(row.subject, list);
    list.push(row);
  }
  const piece = pieceWords(tx);
  return subjects.map(({ row, heads }) => {
    const own = holds.get(row.subject) ?? [];
    const bySource = new Map<string, HoldRow[]>();
    for (const hold of own) {
      if (!says.some((produce) => speaksOf(hold, produce, destination)) || !isRelevant(hold, what)) continue;
      bySource.set(hold.source, [...(bySource.get(hold.source) ?? []), hold]);
    }
    const since = clearSince(own, says[0] ?? 'meat', at, destination);
    return {
      subject: row.subject,
      shown: row.shown,
      class: row.class,
      heads,
      ...optional('clearSince', since),
      ...(what.isRunning ? { runs: runsOf(own, what) } : {}),
      treatments: [
        ...(treatments.get(row.subject) ?? []).flatMap((given) => {
          const about = bySource.get(`administration:${given.id}`);
          if (given.at > at || about === undefined) return [];
          return [treatmentLine(given, about, what, piece)];
        }),
        ...[...bySource.values()].flatMap((about) => {
          const [first] = about;
          if (first === undefined || WITHOUT_RECORD[first.cause] === undefined || first.from_at > at)
            return [];
          return [unrecordedLine(first, about, zone, says)];
        }),
      ],
    };
  });
}

/** Above zero, and not over for longer than the paper looks back. */
function isRelevant(hold: HoldRow, { at, zone, relevantDays }: LinesFor): boolean {
  if (!isAboveZero(hold)) return false;
  if (relevantDays === undefined || hold.until === null) return true;
  return hold.until >= lookedBackTo(at, zone, relevantDays);
}

function lookedBackTo(at: string, zone: string, days: number): string {
  return startOfDay(addDays(localOf(at as Instant, zone).slice(0, 10) as Day, -days), zone);
}

/** What still runs at the instant, in words, whatever the destination: a buyer may have any. */
function runsOf(holds: readonly HoldRow[], { at, begun, zone, says }: LinesFor): string[] {
  const running = holds.filter((hold) =>
    says.some((produce) => bars(hold, produce, at, begun, hold.clock === 'organic' ? 'organic' : 'export')),
  );
  return [...new Set(running.map((hold) => sayHold(hold, zone).text))];
}

/** Holds that stand for a treatment which nobody recorded: who may have been treated counts as treated. */
const WITHOUT_RECORD: Readonly<Record<string, string>> = {
  'possibly-treated': 'May have been treated; not recorded',
  'bought-in': 'Came in with no statement about treatments',
  'at-foot': 'At foot of a treated ewe',
  other: 'Held by hand',
};

function sayUnrecorded(hold: HoldRow): string {
  const { products } = possibleOf(hold);
  if (products !== undefined) return `May have been treated with ${listed(products)}; not recorded`;
  return WITHOUT_RECORD[hold.cause] ?? hold.cause;
}

function unrecordedLine(
  first: HoldRow,
  about: readonly HoldRow[],
  zone: string,
  says: readonly string[],
): DeclarationLine['treatments'][number] {
  return {
    administration: first.source,
    product: sayUnrecorded(first),
    batch: '',
    local: localOf(first.from_at as Instant, zone),
    quantity: 'not known',
    ...periodsOf(about, zone, says),
  };
}

function treatmentLine(
  given: { id: string; local: string; data: string },
  about: readonly HoldRow[],
  { zone, says }: LinesFor,
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
    ...periodsOf(about, zone, says),
  };
}

const SHORT: Readonly<Record<string, string>> = {
  meat: 'meat',
  milk: 'milk',
  'wool-harvest': 'shearing',
  'wool-handling': 'handling wool',
};

/** Period and end of each produce that is said; with one produce on one clock alone, without naming it. */
function periodsOf(about: readonly HoldRow[], zone: string, says: readonly string[]) {
  const sorted = about.toSorted((a, b) => says.indexOf(a.produce) - says.indexOf(b.produce));
  const isOne = sorted.length === 1 && says.length === 1;
  const named = (hold: HoldRow) =>
    isOne
      ? ''
      : `${SHORT[hold.produce] ?? hold.produce}${hold.clock === 'organic' ? ' organic' : hold.market === 'export' ? ' for export' : ''} `;
  return {
    period: sorted
      .map((hold) => `${named(hold)}${hold.period ?? (awakeOf(hold) === 'life' ? 'for life' : 'not stated')}`)
      .join('; '),
    until: sorted
      .map((hold) => {
        const end = untilText({ ...hold, state: awakeOf(hold) }, zone);
        return `${named(hold)}${end}${hold.state === 'dormant' ? ', if it comes into milk' : ''}`;
      })
      .join('; '),
  };
}

/** What a sleeping clock would wake to; any other hold is as it is. */
function awakeOf(hold: HoldRow): HoldRow['state'] {
  if (hold.state !== 'dormant') return hold.state;
  return (JSON.parse(hold.data) as HoldDecision).wakes ?? 'unknown';
}
