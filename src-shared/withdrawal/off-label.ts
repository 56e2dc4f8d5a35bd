import { sayField } from '../quantity/field.ts';
import { ceilingOf, fraction } from '../quantity/fraction.ts';
import { hoursIn, type Period, printPeriod } from '../quantity/period.ts';
import { Refusal } from '../refusal.ts';
import { type Day, printDay } from '../time/day.ts';
import type { Step, Warning } from '../working.ts';
import { type Confirmed, type LawDays, type LawProduce, type LawText, lawOn } from './off-label-laws.ts';

/** What is known of the label and the case. What is left out is not guessed. */
export type OffLabelAsk = {
  law: string;
  /** The day of treatment: the law of that day counts. */
  on: Day;
  produce: LawProduce;
  /** What the label prints for this produce of the species that is treated. */
  species?: Period | undefined;
  /** The longest period that the label prints for this produce, of whatever species. */
  longest?: Period | undefined;
  /** Meat: not authorised for food animals. Milk: not for animals that give milk. The label has no period for it. */
  notAuthorised?: boolean | undefined;
  /** The longest period that the label prints is zero. */
  zero?: boolean | undefined;
  /** The product is for animals of another family than sheep, goats and cattle: pigs, poultry. */
  otherFamily?: boolean | undefined;
};

export type OffLabelAnswer = {
  working: Step[];
  warnings: Warning[];
  /** The law of that day; nothing where none is known here. */
  law: LawText | undefined;
} & (
  | {
      /** The least that the vet may state, never below what the label prints. */
      minimum: Period;
      /** False: a number that can be applied, not one that must be. */
      isBinding: boolean;
    }
  | { vetMustState: true; floor?: Period | undefined }
);

/**
 * The least period after a treatment that is not as the label says, by the law in force on the day of treatment:
 * or that the vet must state it, not below `floor`. The vet states the period in every case.
 * Refuses (`bad-input`) what contradicts itself and what the law needs and nobody said.
 * Sources: Regulation (EU) 2019/6 Article 115; Veterinary Medicines Regulations 2013 Schedule 4; off-label-laws.ts.
 */
export function offLabelMinimum(ask: OffLabelAsk): OffLabelAnswer {
  checkCase(ask);
  const { produce } = ask;
  const printed = longestPrinted(ask);
  const law = lawOn(ask.law, ask.on);
  const working: Step[] = [];
  const warnings: Warning[] = [];
  if (printed !== undefined) {
    working.push({ code: 'label-longest', values: { produce, period: printPeriod(printed) } });
  }
  if (law === undefined) {
    if (ask.law !== 'other') {
      warnings.push({
        code: 'law-not-known',
        text: `What the law said on ${printDay(ask.on)} is not known here. The vet must state the period.`,
      });
    }
    working.push({ code: 'law-has-none', values: { id: ask.law } });
    return { vetMustState: true, floor: printed, law, working, warnings };
  }
  working.push({ code: 'law-in-force', values: sayLaw(law, ask.on), source: sourceOf(law, law.inForce) });
  if (law.inForce === 'not confirmed') {
    warnings.push({
      code: 'not-confirmed',
      text: `${law.name}: what is said here was not confirmed from a current copy. Ask the vet.`,
    });
  }
  if (law.how === 'vet-states') {
    working.push({ code: 'law-says', values: { says: law.says }, source: law.citation });
    return { vetMustState: true, floor: printed, law, working, warnings };
  }
  if (law.how === 'default') {
    warnings.push({ code: 'can-be-applied', text: `${law.name}: ${law.says}` });
    const minimum = notBelow(law[produce], printed, law, working);
    return { minimum, isBinding: false, law, working, warnings };
  }
  if (law.how === 'flat') {
    return {
      minimum: notBelow(law[produce], printed, law, working),
      isBinding: true,
      law,
      working,
      warnings,
    };
  }
  if (law.exceptForTheSpecies && ask.species !== undefined) {
    const period = printPeriod(ask.species);
    working.push({ code: 'species-on-label', values: { produce, period }, source: law.citation });
    return { vetMustState: true, floor: ask.species, law, working, warnings };
  }
  const minimum = byLongest(ask, law, printed, working, warnings);
  return { minimum, isBinding: true, law, working, warnings };
}

function byLongest(
  ask: OffLabelAsk,
  law: Extract<LawText, { how: 'longest' }>,
  printed: Period | undefined,
  working: Step[],
  warnings: Warning[],
): Period {
  const rule = law[ask.produce];
  if (ask.notAuthorised === true) {
    const { days, confirmed } = rule.notAuthorised;
    return inLaw({ code: 'law-not-authorised', values: {} }, days, confirmed, ask.produce, law, working);
  }
  if (printed === undefined) throw missing(ask);
  if (printed.value > 0) {
    const days = timesOneAndAHalf(printed);
    const step = { code: 'law-times', values: { longest: printPeriod(printed) } };
    return inLaw(step, days, rule.longestTimesOneAndAHalf, ask.produce, law, working);
  }
  const { days, confirmed, onlyOtherFamily } = rule.zero;
  if (!onlyOtherFamily) {
    return inLaw({ code: 'law-zero', values: {} }, days, confirmed, ask.produce, law, working);
  }
  if (ask.otherFamily === true) {
    return inLaw({ code: 'law-zero-family', values: {} }, days, confirmed, ask.produce, law, working);
  }
  if (ask.otherFamily === undefined) {
    warnings.push({
      code: 'family-taken-as-same',
      text: 'Taken as a product for sheep, goats or cattle, which are one family. For one for pigs or poultry it is 1 day.',
    });
  }
  return inLaw({ code: 'law-zero-same-family', values: {} }, 0, confirmed, ask.produce, law, working);
}

/** Whole days of a period times one and a half, a fraction of a day rounded up (Article 115(2)). Exact. */
export function timesOneAndAHalf(period: Period): number {
  return Number(ceilingOf(fraction(BigInt(hoursIn(period)) * 3n, 48n)));
}

function inLaw(
  step: Step,
  days: number,
  confirmed: Confirmed,
  produce: LawProduce,
  law: LawText,
  working: Step[],
): Period {
  const minimum: Period = { value: days, unit: 'd' };
  const values = { ...step.values, produce, period: printPeriod(minimum) };
  working.push({ code: step.code, values, source: sourceOf(law, confirmed) });
  return minimum;
}

function notBelow(flat: LawDays, printed: Period | undefined, law: LawText, working: Step[]): Period {
  const minimum: Period = { value: flat.days, unit: 'd' };
  const isDefault = law.how === 'default';
  working.push({
    code: isDefault ? 'law-default' : 'law-flat',
    values: { period: printPeriod(minimum) },
    source: sourceOf(law, flat.confirmed),
  });
  if (printed === undefined || hoursIn(printed) <= hoursIn(minimum)) return minimum;
  working.push({ code: 'not-below-label', values: { period: printPeriod(printed) } });
  return printed;
}

const sourceOf = (law: LawText, confirmed: Confirmed): string =>
  confirmed === 'read' ? law.citation : `${law.citation} (${confirmed})`;

function sayLaw(law: LawText, on: Day): Record<string, string> {
  return {
    id: law.law,
    law: law.name,
    on: printDay(on),
    ...(law.from === undefined ? {} : { from: printDay(law.from) }),
    ...(law.to === undefined ? {} : { to: printDay(law.to) }),
  };
}

const ZERO: Period = { value: 0, unit: 'd' };

function longestPrinted({ longest, species, zero }: OffLabelAsk): Period | undefined {
  return longest ?? species ?? (zero === true ? ZERO : undefined);
}

function checkCase(ask: OffLabelAsk): void {
  const { longest, species, zero, notAuthorised } = ask;
  const refuse = (field: string, says: string, next: string) =>
    new Refusal('bad-input', `${sayField(field)}: ${says}`, { field, next });
  if (longest !== undefined && species !== undefined && hoursIn(longest) < hoursIn(species)) {
    throw refuse(
      'longest',
      `${printPeriod(longest)} is shorter than the ${printPeriod(species)} that the label prints for the species.`,
      'Write the longest period on the label, of whatever species.',
    );
  }
  if (zero === true && [longest, species].some((period) => period !== undefined && period.value > 0)) {
    throw refuse(
      'zero',
      'the label prints a longer period, so its longest is not zero.',
      'Leave out zero, or the longer period.',
    );
  }
  if (notAuthorised === true && (longest !== undefined || species !== undefined || zero === true)) {
    throw refuse(
      'notAuthorised',
      `the label prints a period for ${ask.produce}, so it is authorised for it.`,
      'Leave out notAuthorised, or the period.',
    );
  }
}

function missing({ produce }: OffLabelAsk): Refusal {
  return new Refusal('bad-input', `Longest: the law goes by what the label prints for ${produce}.`, {
    field: 'longest',
    next: 'Write the longest period on the label, or say that it is zero or that the product is not authorised for it.',
  });
}
