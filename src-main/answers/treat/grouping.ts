import type { z } from 'zod';
import type { groupingAsk } from '../../../src-shared/calls/treat-grouping.ts';
import { DEFAULT_CAP_PERCENT, type DraftPart } from '../../../src-shared/dose/draft.ts';
import { draftForLine, type LineAnimal } from '../../../src-shared/dose/draft-line.ts';
import { groupingRefused } from '../../../src-shared/dose/group-offer.ts';
import { heavierUnweighed } from '../../../src-shared/dose/sample.ts';
import { printWorking } from '../../../src-shared/dose/working.ts';
import type { GroupingData } from '../../../src-shared/entries/grouping.ts';
import { amountData, unitsOf } from '../../../src-shared/entries/parts.ts';
import type { DoseLine, LabelTerms } from '../../../src-shared/label/terms.ts';
import {
  type Amount,
  type AmountKind,
  amountOf,
  baseOf,
  printAmount,
} from '../../../src-shared/quantity/amount.ts';
import {
  compare,
  type Fraction,
  fraction,
  parseDecimal,
  toDecimal,
  toPlaces,
} from '../../../src-shared/quantity/fraction.ts';
import { parseWeight, type Weight } from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Warning } from '../../../src-shared/working.ts';
import { optional } from '../optional.ts';
import type { SubjectRow } from '../reading/subjects.ts';
import { ageOn, syringeOf } from './core.ts';
import { endsOf, type GroupShown, shownPart } from './group-shown.ts';

export type GroupingAsk = z.output<typeof groupingAsk>;

/** Somebody who may be dosed by the line: there, and barred by nothing. */
export type Candidate = { row: SubjectRow; weight: Weight | undefined };

export type Grouped = {
  entry: GroupingData;
  shown: GroupShown;
  /** Each subject's part, counted from 0. Who is not in it was left out by its label's limits or for want of a weight. */
  partOf: ReadonlyMap<string, number>;
  /** By whom, and why not. */
  leftOut: ReadonlyMap<string, { code: string; text: string }>;
  warnings: Warning[];
};

type Line = {
  terms: LabelTerms;
  line: DoseLine;
  kind: AmountKind;
  strength: string | null;
  syringe?: { capacity: string; graduation: string } | undefined;
  /** Local time of the work, by which ages are counted. */
  local: string;
  unit: 'kg' | 'lb';
  field: string;
};

/**
 * How a group is dosed by one line of one label: all to the heaviest, or drafted into parts. Refuses
 * `drafting-not-offered`, `cap-too-high`, `nobody-to-draft`, and what `draftForLine` refuses, each with the path of its
 * field.
 */
export function groupLine(of: Line, asked: GroupingAsk, all: readonly Candidate[]): Grouped {
  const { terms, line, field } = of;
  const refused = groupingRefused(terms, line);
  if (refused !== undefined) throw new Refusal(refused.code, refused.message, { field, next: refused.next });
  const cap = capOf(asked, field);
  const samples = samplesOf(of, asked, all);
  const draft = drafted(of, asked, cap, [...animalsOf(of, all), ...samples]);
  const leftOut = new Map(
    draft.leftOut
      .filter(({ id }) => !id.startsWith(SAMPLE))
      .map(({ id, fault }) => [id, { code: fault.code, text: fault.message }]),
  );
  const partOf = new Map<string, number>();
  for (const { id, part } of draft.animals) if (!id.startsWith(SAMPLE)) partOf.set(id, part);
  const isSampled = asked.how === 'heaviest' && asked.picked !== undefined;
  takeUnweighed(of, asked, { isSampled, all, partOf, leftOut });
  const parts = partsOf(draft.chosen.parts, all, partOf);
  const sample = asked.how === 'heaviest' ? sampleOf(asked, all, samples.length) : undefined;
  const total = totalOf(parts, of.kind);
  const says = (amount: Amount) => ({
    amount: amountData(amount.kind, baseOf(amount)),
    text: printAmount(amount, terms.piece),
  });
  const warnings = draft.warnings.filter(({ code }) => code !== 'dose-by-itself');
  return {
    entry: {
      how: asked.how,
      capPercent: toDecimal(cap),
      heads: Math.max(1, headsOf(all)),
      weighed: Math.max(1, weighedOf(all, samples.length)),
      ...(asked.how === 'heaviest' ? optional('picked', asked.picked) : {}),
      parts: parts.map(({ data }) => data),
    },
    shown: {
      how: asked.how,
      capPercent: toDecimal(cap),
      parts: parts.map(({ data, classes }, i) => shownPart(data, i, parts.length, classes, terms.piece)),
      total: says(total),
      worstOver: toPlaces(draft.chosen.worstOverPercent, 1),
      ends: asked.how === 'drafted' ? endsOf(draft, terms.piece) : [],
      ...(sample === undefined ? {} : { sample }),
      working: printWorking(draft.working),
    },
    partOf,
    leftOut,
    warnings,
  };
}

const SAMPLE = 'sample:';

function capOf(asked: GroupingAsk, field: string): Fraction {
  if (asked.capPercent === undefined) return DEFAULT_CAP_PERCENT;
  const cap = parseDecimal(asked.capPercent.replace(/\s*%$/, ''), `${field}.capPercent`);
  if (compare(cap, DEFAULT_CAP_PERCENT) <= 0 && compare(cap, fraction(0)) > 0) return cap;
  throw new Refusal(
    'cap-too-high',
    'Cap: choose more than 0 and at most 100 %, because no animal is to get more than double its own dose.',
    { field: `${field}.capPercent` },
  );
}

function animalsOf(of: Line, all: readonly Candidate[]): LineAnimal[] {
  return all.flatMap(({ row, weight }) =>
    weight === undefined ? [] : [{ id: row.subject, heads: row.heads, given: givenOf(of, row, weight) }],
  );
}

function givenOf(of: Line, row: SubjectRow, weight: Weight | undefined): LineAnimal['given'] {
  return {
    weight,
    class: row.class,
    ageDays: ageOn(row.born, of.local),
    containerStrength: of.strength ?? undefined,
  };
}

/** Weights under no name stand for animals of the first one's class and age: only the heaviest of them counts. */
function samplesOf(of: Line, asked: GroupingAsk, all: readonly Candidate[]): LineAnimal[] {
  const like = all[0]?.row;
  if (asked.how !== 'heaviest' || like === undefined) return [];
  const heads = headsOf(all.filter(({ row, weight }) => weight === undefined || row.heads > 1));
  if (asked.sample.length > heads) {
    throw new Refusal(
      'bad-weighed',
      `Sample: ${asked.sample.length} weights are more than the ${heads} head that have none of their own.`,
      { field: `${of.field}.sample`, next: 'Write one weight for each animal that was weighed.' },
    );
  }
  return asked.sample.map((text, i) => ({
    id: `${SAMPLE}${i}`,
    given: givenOf(of, like, parseWeight(text, `${of.field}.sample`, { unit: of.unit })),
  }));
}

function drafted(of: Line, asked: GroupingAsk, cap: Fraction, animals: readonly LineAnimal[]) {
  const { field } = of;
  if (animals.length === 0) {
    throw new Refusal('nobody-to-draft', 'Weights: none of them has a weight, so there is no heaviest.', {
      field,
      next: 'Weigh some of them first, or write the weights of a sample.',
    });
  }
  try {
    const gate = asked.how === 'drafted' ? asked.gate : undefined;
    return draftForLine(of.terms, of.line.id, animals, {
      parts: asked.how === 'drafted' ? asked.parts : 1,
      capPercent: cap,
      gate: gate === undefined ? undefined : parseWeight(gate, 'gate', { unit: of.unit }),
      // The marks of a syringe say nothing of what is not a volume.
      step: of.kind === 'volume' ? syringeOf(of.syringe)?.graduation : undefined,
    });
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    const under = ['parts', 'capPercent', 'gate', 'step'].find((name) => name === thrown.field);
    throw new Refusal(thrown.code, thrown.message, {
      field: under === undefined ? field : `${field}.${under}`,
      next: thrown.next,
    });
  }
}

/** Those without a weight: with a sample they are dosed as the heaviest; else they are left out by name. */
function takeUnweighed(
  of: Line,
  asked: GroupingAsk,
  into: {
    isSampled: boolean;
    all: readonly Candidate[];
    partOf: Map<string, number>;
    leftOut: Map<string, { code: string; text: string }>;
  },
): void {
  for (const { row, weight } of into.all) {
    if (weight !== undefined) continue;
    const why = into.isSampled
      ? boundsRefusal(of.line)
      : asked.how === 'heaviest'
        ? 'Weight: none is known. Say how those that were weighed were picked, or weigh it.'
        : 'Weight: a group is drafted by weight, so weigh it first.';
    if (why === undefined) into.partOf.set(row.subject, 0);
    else into.leftOut.set(row.subject, { code: 'weight-missing', text: why });
  }
}

function boundsRefusal({ rate, leastWeight, mostWeight }: DoseLine): string | undefined {
  const isBounded = rate.style === 'bands' && rate.from !== undefined;
  return isBounded || leastWeight !== undefined || mostWeight !== undefined
    ? 'Weight: the label is not for every weight, so weigh each by itself.'
    : undefined;
}

const headsOf = (all: readonly Candidate[]) => all.reduce((sum, { row }) => sum + row.heads, 0);

/** A lot stands in the book with the weight of one head. */
function weighedOf(all: readonly Candidate[], samples: number): number {
  const named = all.filter(({ row, weight }) => weight !== undefined && row.heads === 1).length;
  const lots = all.filter(({ row, weight }) => weight !== undefined && row.heads > 1).length;
  return named + (samples > 0 ? samples : lots);
}

function sampleOf(
  asked: Extract<GroupingAsk, { how: 'heaviest' }>,
  all: readonly Candidate[],
  samples: number,
): GroupShown['sample'] {
  const heads = headsOf(all);
  const weighed = Math.min(heads, weighedOf(all, samples));
  if (weighed >= heads || weighed < 1) return undefined;
  const { picked } = asked;
  if (picked === undefined) {
    return {
      weighed,
      heads,
      says: `${weighed} of ${heads} head were weighed. Say how they were picked: a heavier one among the others would get too little.`,
    };
  }
  const found = heavierUnweighed({ heads, weighed, picked });
  return {
    weighed,
    heads,
    picked,
    ...(found.chancePercent === undefined ? {} : { chancePercent: toPlaces(found.chancePercent, 1) }),
    says: found.says,
  };
}

type PlannedPart = { data: GroupingData['parts'][number]; classes: Set<string> };

/** The parts with who is in them: heads are counted anew, because a sample is not dosed and the unweighed are. */
function partsOf(
  parts: readonly DraftPart[],
  all: readonly Candidate[],
  partOf: ReadonlyMap<string, number>,
): PlannedPart[] {
  return parts.map((part, i) => {
    const who = all.filter(({ row }) => partOf.get(row.subject) === i);
    return {
      classes: new Set(who.map(({ row }) => row.class)),
      data: {
        from: part.from,
        to: part.to,
        ...(part.gate === undefined ? {} : { gate: part.gate }),
        heads: Math.max(1, headsOf(who)),
        dose: amountData(part.dose.kind, baseOf(part.dose)),
        overPercent: toPlaces(part.overPercent, 1),
      },
    };
  });
}

function totalOf(parts: readonly PlannedPart[], kind: AmountKind): Amount {
  return amountOf(
    kind,
    parts.reduce((sum, { data }) => sum + data.heads * unitsOf(data.dose), 0),
  );
}
