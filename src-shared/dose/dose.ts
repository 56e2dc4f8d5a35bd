import type { DoseLine, LabelTerms, SheepClass } from '../label/terms.ts';
import { type Amount, type AmountKind, baseOf, parseAmount, printAmount } from '../quantity/amount.ts';
import {
  absolute,
  compare,
  divide,
  type Fraction,
  fraction,
  multiply,
  type RoundHow,
  stepsOf,
  subtract,
  toPlaces,
} from '../quantity/fraction.ts';
import { type Period, parsePeriod } from '../quantity/period.ts';
import { measureOf, measureUnit, parseRate } from '../quantity/rate.ts';
import { parseStrength, strengthMeasure, strengthOf, strengthPerUnit } from '../quantity/strength.ts';
import { kilograms, parseWeight, printWeight, type Weight } from '../quantity/weight.ts';
import { attempt, Refusal } from '../refusal.ts';
import type { Step, Warning } from '../working.ts';
import type { BandTable } from './bands.ts';
import { type DoseAsk, exactDose, print, type Syringe, show, toAmount } from './exact.ts';
import { IN_WHOLE_PIECES, stepFor } from './marks.ts';
import { splitSites } from './sites.ts';

export type { DoseAsk, Syringe } from './exact.ts';

/** One animal's dose: exact, then rounded once to what the syringe can show, then shared between sites. */

export type DoseAnswer = {
  /** mL, mg of product or pieces, before rounding. */
  exact: Fraction;
  draw: Amount;
  sites: Amount[];
  /** What the draw gives for each kilogram, in `deliveredUnit`; absent without a weight. */
  deliveredPerKg?: Fraction;
  deliveredUnit?: string;
  /** Drawn against exact; below zero when less is drawn. */
  deviationPercent: Fraction;
  working: Step[];
  warnings: Warning[];
};

const HUNDRED = fraction(100);
/** Off by more than this, a finer syringe is asked for first (practice). */
const FINER_BEYOND_PERCENT = fraction(5);

/**
 * Works out one dose. Every step is exact; the one rounding is to the syringe's graduation (without one: 0.1 mL
 * from 1 mL up, 0.01 below; pieces whole), a tie going up. Refuses `weight-missing`, `strength-missing`,
 * `units-do-not-match`, `below-first-band`, `above-last-band`, `draws-to-zero`, `over-most`, `under-least`,
 * `site-below-graduation`, `too-many-sites`.
 */
export function workOutDose(ask: DoseAsk): DoseAnswer {
  const working: Step[] = [];
  const warnings: Warning[] = [];
  const { exact, kind } = exactDose(ask, working);
  const step = stepFor(exact, kind, ask.syringe?.graduation);
  const how = ask.rounding ?? 'nearest';
  const steps = stepsOf(exact, step, how);
  if (steps === 0n) {
    const [field, name] = ask.syringe === undefined ? ['rounding', 'Rounding'] : ['syringe', 'Syringe'];
    throw new Refusal(
      'draws-to-zero',
      `${name}: ${show(exact, kind, ask)} is too little for marks of ${show(step, kind, ask)}.`,
      { field, next: kind === 'pieces' ? IN_WHOLE_PIECES : 'Take a syringe with finer marks.' },
    );
  }
  const drawn = fraction(steps * step.n, step.d);
  const draw = toAmount(drawn, kind);
  working.push({
    code: 'round',
    values: { exact: show(exact, kind, ask), step: show(step, kind, ask), how, draw: print(draw, ask) },
    ...(ask.syringe === undefined && kind === 'volume'
      ? { source: 'Nursing dosage notes: tenths from 1 mL up, hundredths below' }
      : {}),
  });
  checkBounds(draw, ask);
  const sites = splitSites(draw, step, ask.maxPerSite);
  if (sites.length > 1) {
    working.push({
      code: 'sites',
      values: {
        draw: print(draw, ask),
        most: ask.maxPerSite === undefined ? '' : print(ask.maxPerSite, ask),
        sites: sites.map((site) => print(site, ask)).join(' + '),
      },
    });
  }
  const deviationPercent = multiply(divide(subtract(drawn, exact), exact), HUNDRED);
  warnAboutDraw(deviationPercent, sites, kind, ask, warnings);
  const delivered = deliveredFor(drawn, kind, ask);
  return { exact, draw, sites, ...delivered, deviationPercent, working, warnings };
}

function checkBounds(draw: Amount, ask: DoseAsk): void {
  for (const [bound, over] of [
    [ask.least, false],
    [ask.most, true],
  ] as const) {
    if (bound === undefined) continue;
    if (bound.kind !== draw.kind) {
      throw new Refusal(
        'units-do-not-match',
        'The least and the most dose must be in the unit of the dose.',
        {
          field: over ? 'most' : 'least',
        },
      );
    }
    const beyond = over ? baseOf(draw) > baseOf(bound) : baseOf(draw) < baseOf(bound);
    if (!beyond) continue;
    const says = over ? 'more than the most' : 'less than the least';
    throw new Refusal(
      over ? 'over-most' : 'under-least',
      `${print(draw, ask)} is ${says} the label allows (${print(bound, ask)}).`,
      { field: over ? 'most' : 'least', next: 'Check the weight; if it is right, ask the vet.' },
    );
  }
}

function warnAboutDraw(
  deviation: Fraction,
  sites: readonly Amount[],
  kind: AmountKind,
  ask: DoseAsk,
  warnings: Warning[],
): void {
  const size = absolute(deviation);
  if (compare(size, FINER_BEYOND_PERCENT) > 0) {
    const side = deviation.n < 0n ? 'less' : 'more';
    const off = `${toPlaces(size, 1)} % ${side} than the exact dose`;
    warnings.push(
      kind === 'pieces'
        ? { code: 'whole-pieces', text: `What is given is ${off}. ${IN_WHOLE_PIECES}` }
        : {
            code: 'finer-syringe',
            text: `What is drawn is ${off}: take something with finer marks.`,
          },
    );
  }
  const capacity = ask.syringe?.capacity;
  const largest = sites[0];
  if (
    capacity !== undefined &&
    largest !== undefined &&
    largest.kind === 'volume' &&
    capacity.kind === 'volume'
  ) {
    if (largest.microlitres > capacity.microlitres) {
      const text = `${print(largest, ask)} does not fit in a syringe of ${printAmount(capacity)}: it must be filled again.`;
      warnings.push({ code: 'over-capacity', text });
    }
  }
}

function deliveredFor(
  drawn: Fraction,
  kind: AmountKind,
  ask: DoseAsk,
): { deliveredPerKg: Fraction; deliveredUnit: string } | Record<string, never> {
  if (ask.weight === undefined) return {};
  const kg = kilograms(ask.weight);
  const strength = ask.strength;
  // A strength in another kind than the dose (mg in each bolus beside a dose in mL) says nothing of this dose.
  const fits =
    strength !== undefined && (strengthOf(strength) === kind || strength.unit === '%') && kind !== 'pieces';
  const ofPieces = strength !== undefined && kind === 'pieces' && strengthOf(strength) === 'pieces';
  if (strength !== undefined && (fits || ofPieces)) {
    return {
      deliveredPerKg: divide(multiply(drawn, strengthPerUnit(strength, kind)), kg),
      deliveredUnit: measureUnit(strengthMeasure(strength)),
    };
  }
  const unit = kind === 'pieces' ? (ask.piece ?? ask.rate?.piece ?? 'piece') : kind === 'mass' ? 'mg' : 'mL';
  return { deliveredPerKg: divide(drawn, kg), deliveredUnit: unit };
}

export type LineGiven = {
  weight?: Weight | undefined;
  class: SheepClass;
  ageDays?: number | undefined;
  syringe?: Syringe | undefined;
  /** The strength of the container itself, when it was made up on the farm: it takes the place of the label's. */
  containerStrength?: string | undefined;
  /** Otherwise than the line is rounded: a group's dose is rounded up. */
  rounding?: RoundHow | undefined;
};

/** The rounding of a dose line: the label's word; else down for a narrow margin, up against parasites, else nearest. */
export function roundingOf(terms: LabelTerms, line: DoseLine): 'nearest' | 'up' | 'down' {
  if (line.rounding !== undefined) return line.rounding;
  // A narrow margin outweighs resistance: too much of it kills the animal today.
  if (terms.narrowMargin) return 'down';
  return terms.purpose === 'parasites' ? 'up' : 'nearest';
}

/** Whether a line of the label counts substance, so that it can be given from a mixture of another strength. */
export function countsSubstance(terms: LabelTerms, line: DoseLine): boolean {
  if (line.rate.style !== 'rate') return false;
  const { text } = line.rate;
  const rate = attempt(() => parseRate(text, 'rate', { piece: terms.piece }));
  if (!rate.ok) return false;
  const measure = measureOf(rate.value.unit);
  return measure === 'mass' || measure === 'activity';
}

/** The band table of a label, read. Refuses with the path under `field`. */
export function readBands(
  rate: Extract<DoseLine['rate'], { style: 'bands' }>,
  field: string,
  piece?: string,
): BandTable {
  const { from, furtherStep } = rate;
  return {
    bands: rate.bands.map((band, i) => ({
      upTo: parseWeight(band.upTo, `${field}.bands.${i}.upTo`),
      dose: parseAmount(band.dose, `${field}.bands.${i}.dose`, { piece }),
    })),
    ...(from === undefined ? {} : { from: parseWeight(from, `${field}.from`) }),
    ...(furtherStep === undefined
      ? {}
      : {
          furtherStep: {
            each: parseWeight(furtherStep.each, `${field}.furtherStep.each`),
            dose: parseAmount(furtherStep.dose, `${field}.furtherStep.dose`, { piece }),
          },
        }),
  };
}

/**
 * The dose a label line gives this animal: planning, so it refuses what the label does not allow. Beside what
 * `workOutDose` refuses: `dose-line-unknown`, `class-not-on-label`, `too-light`, `too-heavy`, `too-young`,
 * `too-old`. An age that is not known is a warning (`age-not-known`); a weight that is not known, where the label
 * has a floor or a ceiling, is refused.
 */
export function doseForLine(terms: LabelTerms, doseLine: string, given: LineGiven): DoseAnswer {
  const index = terms.doseLines.findIndex((line) => line.id === doseLine);
  const line = terms.doseLines[index];
  if (line === undefined) {
    throw new Refusal('dose-line-unknown', 'Dose line: the label has no such line.', { field: 'doseLine' });
  }
  const field = `doseLines.${index}`;
  if (line.classes.length > 0 && !line.classes.includes(given.class)) {
    throw new Refusal(
      'class-not-on-label',
      `Class: this line of the label is not for a ${given.class.replace('-', ' ')}.`,
      {
        field: 'class',
        next: 'Choose another line of the label, or ask the vet.',
      },
    );
  }
  if (given.containerStrength !== undefined && !countsSubstance(terms, line)) {
    throw new Refusal(
      'made-up-by-volume',
      'This line of the label does not count substance, so it gives no dose of what was made up on the farm.',
      { field: 'doseLine', next: 'Choose another line of the label, or ask the vet.' },
    );
  }
  const warnings: Warning[] = [];
  checkWeight(line, given, field);
  checkAge(line, given, field, warnings);
  const piece = terms.piece;
  const rate = line.rate;
  const strength =
    given.containerStrength ?? (rate.style === 'rate' ? terms.actives[rate.of]?.strength : undefined);
  const answer = workOutDose({
    weight: given.weight,
    ...(rate.style === 'rate'
      ? { rate: parseRate(rate.text, `${field}.rate.text`, { piece }) }
      : { bands: readBands(rate, `${field}.rate`, piece) }),
    strength: strength === undefined ? undefined : parseStrength(strength, 'strength', { piece }),
    syringe: given.syringe,
    rounding: given.rounding ?? roundingOf(terms, line),
    maxPerSite: optionalAmount(line.mostPerSite, `${field}.mostPerSite`, piece),
    most: optionalAmount(line.mostDose, `${field}.mostDose`, piece),
    kind: terms.kind,
    piece,
  });
  return { ...answer, warnings: [...warnings, ...answer.warnings] };
}

function optionalAmount(
  text: string | undefined,
  field: string,
  piece: string | undefined,
): Amount | undefined {
  return text === undefined ? undefined : parseAmount(text, field, { piece });
}

function checkWeight(line: DoseLine, given: LineGiven, field: string): void {
  for (const [text, path, code, says] of [
    [line.leastWeight, 'leastWeight', 'too-light', 'under'],
    [line.mostWeight, 'mostWeight', 'too-heavy', 'over'],
  ] as const) {
    if (text === undefined) continue;
    const limit = parseWeight(text, `${field}.${path}`);
    if (given.weight === undefined) {
      throw new Refusal(
        'weight-missing',
        `Weight: the label is not for animals ${says} ${printWeight(limit)}, so weigh first.`,
        {
          field: 'weight',
          next: 'Weigh it, or enter what the scale showed.',
        },
      );
    }
    const side = compare(kilograms(given.weight), kilograms(limit));
    if (code === 'too-light' ? side < 0 : side > 0) {
      const own = printWeight(given.weight);
      throw new Refusal(
        code,
        `Weight: the label is not for animals ${says} ${printWeight(limit)}, and this one is ${own}.`,
        { field: 'weight', next: 'Do not give it; ask the vet.' },
      );
    }
  }
}

function checkAge(line: DoseLine, given: LineGiven, field: string, warnings: Warning[]): void {
  for (const [text, path, code, says] of [
    [line.leastAge, 'leastAge', 'too-young', 'under'],
    [line.mostAge, 'mostAge', 'too-old', 'over'],
  ] as const) {
    if (text === undefined) continue;
    const limit = parsePeriod(text, `${field}.${path}`);
    if (given.ageDays === undefined) {
      const sentence = `The label is not for animals ${says} ${text}, and this one's age is not known.`;
      warnings.push({ code: 'age-not-known', text: sentence });
      continue;
    }
    if (code === 'too-young' ? given.ageDays * 24 < hoursIn(limit) : given.ageDays * 24 > hoursIn(limit)) {
      const own = `${given.ageDays} ${given.ageDays === 1 ? 'day' : 'days'} old`;
      throw new Refusal(code, `Age: the label is not for animals ${says} ${text}, and this one is ${own}.`, {
        field: 'ageDays',
        next: 'Do not give it; ask the vet.',
      });
    }
  }
}

function hoursIn(period: Period): number {
  return period.unit === 'd' ? period.value * 24 : period.value;
}
