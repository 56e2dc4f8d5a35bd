import {
  add,
  divide,
  type Fraction,
  fraction,
  multiply,
  toPlaces,
  ZERO,
} from '../../../src-shared/quantity/fraction.ts';
import { kilograms, parseWeight } from '../../../src-shared/quantity/weight.ts';
import type { Reader } from '../../store/store.ts';
import { type LotHeads, lotHeads } from '../reading/lot-heads.ts';

/** Animals of one class and one weight: their own last one by the day that counts, or none on record. */
type Heads = { class: string; heads: number; weight: string | null };

export type FarmAnimals = {
  living: number;
  slaughtered: number;
  /** Of all of them together with those sold; undefined where a whole class has no weight. */
  ownKg: Fraction | undefined;
  /** How it was put together, and what was taken for those without a weight. */
  says: string[];
};

/** Left in a way that weighs in the farm's own weight: those that died or were lost do not. */
const LEFT_WITH_WEIGHT = new Set(['slaughter', 'sold', 'moved']);

export type Span = { holding: string | undefined; from: string; to: string; end: string };

/**
 * The animals by which use is counted: those living at the end of the last day, and those that left in the span. Each
 * weighs what it weighed last by then.
 * `from` and `to` are local days, `end` the instant after the last of them.
 */
export function animalsReader(tx: Reader): (span: Span) => FarmAnimals {
  const lots = lotHeads(tx);
  return (span) => {
    const living = [...livingAnimals(tx, span), ...livingLots(tx, lots, span)];
    const left = [...leftAnimals(tx, span), ...leftLots(tx, lots, span)];
    const all = [...living, ...left.filter(({ how }) => LEFT_WITH_WEIGHT.has(how))];
    const weighed = weigh(all);
    return {
      living: sum(living),
      slaughtered: sum(left.filter(({ how }) => how === 'slaughter')),
      ...weighed,
      says: [
        `${count(sum(living))} living on the last day, and ${count(sum(all) - sum(living))} that were slaughtered, sold or moved in the year.`,
        ...weighed.says,
      ],
    };
  };
}

const sum = (rows: readonly { heads: number }[]) => rows.reduce((all, { heads }) => all + heads, 0);
const count = (heads: number) => `${heads.toLocaleString('en-GB')} head`;

/** The last weight of a subject by a day; the weighing table sorts by when it happened. */
const LAST = `(SELECT w.value || ' ' || w.unit FROM weighing AS w
  WHERE w.subject = x.subject AND substr(w.local, 1, 10) <= ? ORDER BY w.at DESC, w.seq DESC LIMIT 1)`;
/** One that was named out of a lot was a head of that lot before. */
const CAME = `coalesce((SELECT substr(max(l.at), 1, 10) FROM lineage AS l WHERE l.subject = x.subject), x.came_on,
  CASE WHEN x.origin = 'own' THEN x.born END,
  (SELECT substr(e.at, 1, 10) FROM subject_entry AS e WHERE e.subject = x.subject AND e.seq = x.seq), '')`;

function livingAnimals(tx: Reader, { holding, to }: Span): Heads[] {
  return tx.all<Heads>(
    `SELECT class, weight, count(*) AS heads FROM (
       SELECT x.class, ${LAST} AS weight FROM animal AS x
       WHERE ${CAME} <= ? AND (x.present = 1 OR substr(x.left_on, 1, 10) > ?) AND (? IS NULL OR x.holding = ?))
     GROUP BY class, weight`,
    to,
    to,
    to,
    holding ?? null,
    holding ?? null,
  );
}

function leftAnimals(tx: Reader, { holding, from, to }: Span): (Heads & { how: string })[] {
  return tx.all<Heads & { how: string }>(
    `SELECT class, how, weight, count(*) AS heads FROM (
       SELECT x.class, x.left_how AS how, ${LAST} AS weight FROM animal AS x
       WHERE x.present = 0 AND substr(x.left_on, 1, 10) BETWEEN ? AND ? AND (? IS NULL OR x.holding = ?))
     GROUP BY class, how, weight`,
    to,
    from,
    to,
    holding ?? null,
    holding ?? null,
  );
}

type LotRow = { subject: string; class: string; weight: string | null };

function lotRows(tx: Reader, { holding, to }: Span): LotRow[] {
  return tx.all<LotRow>(
    `SELECT x.subject, x.class, ${LAST} AS weight FROM lot AS x
     WHERE (? IS NULL OR x.holding = ?)`,
    to,
    holding ?? null,
    holding ?? null,
  );
}

function livingLots(tx: Reader, lots: LotHeads, span: Span): Heads[] {
  return lotRows(tx, span)
    .map((row) => ({ ...row, heads: lots.before(row.subject, span.end) }))
    .filter(({ heads }) => heads > 0);
}

function leftLots(tx: Reader, lots: LotHeads, span: Span): (Heads & { how: string })[] {
  const rows = new Map(lotRows(tx, span).map((row) => [row.subject, row]));
  return lots.left.flatMap(({ lot, local, heads, how }) => {
    const row = rows.get(lot);
    const day = local.slice(0, 10);
    return row === undefined || day < span.from || day > span.to ? [] : [{ ...row, heads, how }];
  });
}

/**
 * Σ heads × weight. Those without a weight are taken at the mean of their class, and it is said; where a class has no
 * weight at all the sum is not known, because nothing weighs zero.
 */
function weigh(rows: readonly Heads[]): { ownKg: Fraction | undefined; says: string[] } {
  const classes = new Map<string, { known: number; kg: Fraction; without: number }>();
  for (const { class: of, heads, weight } of rows) {
    const so = classes.get(of) ?? { known: 0, kg: ZERO, without: 0 };
    if (weight === null) so.without += heads;
    else {
      so.known += heads;
      so.kg = add(so.kg, multiply(kilograms(parseWeight(weight, 'weight')), fraction(heads)));
    }
    classes.set(of, so);
  }
  const says: string[] = [];
  let total: Fraction | undefined = ZERO;
  for (const [of, { known, kg, without }] of classes) {
    const name = of.replaceAll('-', ' ');
    if (known === 0) {
      says.push(
        `${count(without)} (${name}) have no weight on record, so the farm’s own weight is not known.`,
      );
      total = undefined;
      continue;
    }
    const mean = divide(kg, fraction(known));
    if (without > 0) {
      says.push(
        `${count(without)} (${name}) have no weight on record and are taken at ${toPlaces(mean, 1)} kg, the mean of the ${count(known)} that have one.`,
      );
    }
    if (total !== undefined) total = add(total, add(kg, multiply(mean, fraction(without))));
  }
  return { ownKg: total !== undefined && total.n > 0n ? total : undefined, says };
}
