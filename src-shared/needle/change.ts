import { sayField } from '../quantity/field.ts';
import { Refusal } from '../refusal.ts';
import { type Line, linesOf } from '../withdrawal/working.ts';
import type { Step, Warning, WorkingLine } from '../working.ts';
import type { Conflict } from './rule.ts';
import type { Gauge } from './tubing.ts';

/** When a needle is changed, and how many a session needs. */

/** After how many animals a needle is changed: three sources, the strictest is the default. */
export const CHANGES = [
  { rule: 'change-every', heads: 1, says: 'every animal', source: 'Alabama guidance', mark: 'read' },
  { rule: 'change-10-15', heads: 10, says: 'every 10-15', source: 'Kentucky guidance', mark: 'read' },
  { rule: 'change-50', heads: 50, says: 'every 50', source: 'New Zealand guidance', mark: 'read' },
] as const;
const MOST_CHANGE_HEADS = 50;

/** What holds whatever the number is. */
export const CHANGE_ALWAYS =
  'Change it at once when it is bent, burred, blunt or dirty, and never straighten a bent one.';
export const DRAW_OFF =
  'Keep one needle for drawing off, in each bottle its own; a used needle never goes back into the bottle.';

/** One spare for every ten needles and at least two: for those that bend, fall or go blunt (practice). */
const SPARE_FOR_EACH = 10;
const LEAST_SPARES = 2;
/** More in one session is a slip of the keyboard. */
const MOST_COUNT = 100_000;

export type NeedlesAsk = {
  readonly heads: number;
  readonly bottles: number;
  /** After how many animals the farm changes. Absent: every animal. */
  readonly houseEveryHeads?: number | undefined;
  /** How often each bottle is drawn from with its own needle, when that needle is not left in. */
  readonly drawsPerBottle?: number | undefined;
  /** What the label says of its stopper: at most so many punctures by a needle of this gauge. */
  readonly punctures?: readonly { readonly gauge: Gauge; readonly most: number }[] | undefined;
  readonly drawGauge?: Gauge | undefined;
};

export type NeedlesNeeded = {
  readonly everyHeads: number;
  readonly forAnimals: number;
  readonly forDrawing: number;
  readonly spares: number;
  readonly total: number;
  readonly conflict: Conflict;
  readonly always: string;
  readonly drawOff: string;
  readonly working: readonly Step[];
  readonly warnings: readonly Warning[];
};

/**
 * How many needles a session of so many heads and bottles needs. Refuses (`bad-count`) counts that are not whole,
 * below one (heads, bottles may be zero) or over 100,000, and (`house-past-sources`) a farm that changes less often
 * than any source.
 */
export function needlesNeeded(ask: NeedlesAsk): NeedlesNeeded {
  checkCount(ask.heads, 'heads', 0);
  checkCount(ask.bottles, 'bottles', 0);
  checkCount(ask.houseEveryHeads, 'houseEveryHeads', 1);
  checkCount(ask.drawsPerBottle, 'drawsPerBottle', 1);
  for (const [i, { most }] of (ask.punctures ?? []).entries()) checkCount(most, `punctures.${i}.most`, 1);
  const house = ask.houseEveryHeads;
  if (house !== undefined && house > MOST_CHANGE_HEADS) {
    throw new Refusal(
      'house-past-sources',
      `Change of needle: no source uses one needle for more than ${MOST_CHANGE_HEADS} animals.`,
      { field: 'houseEveryHeads', next: `Write ${MOST_CHANGE_HEADS} or less.` },
    );
  }
  const strictest = CHANGES.reduce<number>((least, { heads }) => Math.min(least, heads), MOST_CHANGE_HEADS);
  const everyHeads = house ?? strictest;
  const forAnimals = upTo(ask.heads, everyHeads);
  const forDrawing = ask.bottles;
  const inUse = forAnimals + forDrawing;
  const spares = inUse === 0 ? 0 : Math.max(LEAST_SPARES, upTo(inUse, SPARE_FOR_EACH));
  const total = inUse + spares;
  const values = {
    heads: String(ask.heads),
    every: String(everyHeads),
    animals: String(forAnimals),
    drawing: String(forDrawing),
    spares: String(spares),
    total: String(total),
  };
  return {
    everyHeads,
    forAnimals,
    forDrawing,
    spares,
    total,
    conflict: {
      topic: 'change',
      sides: CHANGES.map(({ rule, says, source, mark }) => ({ rule, says, source, mark })),
      taken:
        house === undefined
          ? 'The strictest is taken: a new needle for every animal.'
          : `The farm’s own rule is taken: ${house === 1 ? 'a new needle for every animal' : `a new needle after ${house} animals`}.`,
    },
    always: CHANGE_ALWAYS,
    drawOff: DRAW_OFF,
    working: [
      {
        code: 'needles-animals',
        values,
        source: house === undefined ? 'Alabama guidance' : 'the farm’s own rule',
      },
      { code: 'needles-total', values, source: 'spares: practice' },
    ],
    warnings: punctured(ask),
  };
}

const upTo = (count: number, each: number) => Math.ceil(count / each);

function checkCount(count: number | undefined, field: string, least: number): void {
  if (count === undefined || (Number.isSafeInteger(count) && count >= least && count <= MOST_COUNT)) return;
  throw new Refusal('bad-count', `${sayField(field)}: write a whole number from ${least} to ${MOST_COUNT}.`, {
    field,
  });
}

/** A stopper pierced more often than its label allows leaks and lets dirt in. */
function punctured({ punctures, drawsPerBottle, drawGauge }: NeedlesAsk): Warning[] {
  if (punctures === undefined || punctures.length === 0) return [];
  const limits = punctures.map(({ gauge, most }) => `${most} times by ${gauge}G`).join(' or ');
  if (drawsPerBottle === undefined || drawGauge === undefined) {
    return [
      {
        code: 'puncture-limit',
        text: `The label lets the stopper be pierced ${limits}: leave one needle in while you work.`,
      },
    ];
  }
  // A limit for a needle counts for thinner ones too; for a wider one than any named, nothing is allowed.
  const bound = punctures
    .filter(({ gauge }) => Number(gauge) <= Number(drawGauge))
    .reduce((best, { most }) => Math.max(best, most), 0);
  if (drawsPerBottle <= bound) return [];
  return [
    {
      code: 'too-many-punctures',
      text: `Each bottle would be pierced ${drawsPerBottle} times by ${drawGauge}G; the label allows ${limits}. Leave one needle in while you work, or draw more at a time.`,
    },
  ];
}

const LINES: Readonly<Record<string, Line>> = {
  'needles-animals': (v) => `${v.heads} heads ÷ ${v.every} for each needle, rounded up = ${v.animals}`,
  'needles-total': (v) =>
    `${v.animals} for the animals + ${v.drawing} for drawing off + ${v.spares} spare = ${v.total}`,
};

/** The lines a person would write to check the count. */
export function printNeedlesWorking(steps: readonly Step[]): WorkingLine[] {
  return linesOf(steps, LINES);
}
