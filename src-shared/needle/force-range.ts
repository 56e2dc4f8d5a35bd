import { add, compare, divide, type Fraction, fraction, multiply, toPlaces } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import { type Line, linesOf } from '../withdrawal/working.ts';
import type { Step, Warning, WorkingLine } from '../working.ts';
import { checkFlowValue, checkWidths, flowThrough, HAND_LIMIT_N, LAMINAR_SOURCE } from './flow.ts';
import { type Bore, boresOf, type Gauge, readGauge } from './tubing.ts';
import {
  CELSIUS,
  CLASS_VISCOSITY,
  type FlowClass,
  THICKENING,
  THICKENING_UNKNOWN,
  type ViscosityRange,
  type Warmth,
} from './viscosity.ts';

/**
 * How hard a remedy pushes through a needle of which only the packet is known: always a range. It explains a
 * choice and never makes one.
 */

export type ForceAsk = {
  /** The flow class, or the viscosity at about 20 °C that was entered, as a range in mPa·s. */
  readonly thickness: FlowClass | ViscosityRange;
  readonly gauge: string;
  /** As labelled; the hub is added here. */
  readonly lengthMm: Fraction;
  readonly barrelMm: Fraction;
  readonly mlPerS: Fraction;
  readonly temperature: Warmth;
};

export type Range = { readonly least: Fraction; readonly most: Fraction };

export type ForceRange = {
  readonly gauge: Gauge;
  readonly temperature: Warmth;
  readonly viscosityMpaS: Range;
  readonly bores: { readonly narrowest: Bore; readonly widest: Bore };
  readonly working: readonly Step[];
  readonly warnings: readonly Warning[];
} & (
  | {
      readonly laminar: true;
      /** Newtons on the plunger, friction and all. */
      readonly forceN: Range;
      /** Against what a hand can keep up: under it, on both sides of it, over it. */
      readonly hand: 'under' | 'may-pass' | 'over';
    }
  /** Somewhere in the range the flow is not laminar, so there is no force to be told. */
  | { readonly laminar: false; readonly reynolds: Fraction }
);

/** Flow through the hub: the labelled length leaves out 5 to 10 mm (read, Pharm Res 35:120). */
export const HUB_LENGTH_MM: Range = { least: fraction(5), most: fraction(10) };

/** Worked out ÷ measured in the twelve forces of Allmendinger 2014, Fig. 3A (digitised by others): least and most. */
export const MODEL_BAND: Range = { least: fraction(74, 100), most: fraction(122, 100) };

/** Friction of one syringe at 0.05 to 0.2 mL/s, in newtons (read, Allmendinger 2014). Assumed for any other. */
export const FRICTION_N: Range = { least: fraction(162, 100), most: fraction(673, 100) };

/**
 * The least and the most force on the plunger, or that the flow is not laminar. Refuses (`unknown-gauge`,
 * `bad-input`) what `readGauge` and `checkFlowValue` refuse, and a range of viscosity that is upside down.
 */
export function forceRange(ask: ForceAsk): ForceRange {
  const gauge = readGauge(ask.gauge, 'gauge');
  checkFlowValue(ask.lengthMm, 'lengthMm');
  checkFlowValue(ask.barrelMm, 'barrelMm');
  checkFlowValue(ask.mlPerS, 'flowMlPerS');
  const isClass = typeof ask.thickness === 'string';
  const warm = isClass ? CLASS_VISCOSITY[ask.thickness] : checkRange(ask.thickness);
  const thicker = isClass ? THICKENING[ask.thickness] : THICKENING_UNKNOWN;
  const isCold = ask.temperature === 'cold';
  const viscosityMpaS: Range = isCold
    ? { least: multiply(warm.least, thicker.least), most: multiply(warm.most, thicker.most) }
    : warm;
  const bores = boresOf(gauge);
  checkWidths(bores.widest.mm, ask.barrelMm);

  const at = (viscosity: Fraction, bore: Bore, hub: Fraction) =>
    flowThrough({
      viscosityMpaS: viscosity,
      boreMm: bore.mm,
      lengthMm: add(ask.lengthMm, hub),
      barrelMm: ask.barrelMm,
      flowMlPerS: ask.mlPerS,
    });
  const easiest = at(viscosityMpaS.least, bores.widest, HUB_LENGTH_MM.least);
  const hardest = at(viscosityMpaS.most, bores.narrowest, HUB_LENGTH_MM.most);
  // The thinnest liquid in the narrowest bore is where the flow breaks first.
  const first = at(viscosityMpaS.least, bores.narrowest, HUB_LENGTH_MM.least);

  const shared = {
    gauge,
    temperature: ask.temperature,
    viscosityMpaS,
    bores,
    warnings: warningsOf(ask.thickness, first.laminar),
  };
  const working: Step[] = [
    { code: 'needle', values: { gauge, bottle: ask.temperature } },
    thicknessStep(ask, viscosityMpaS),
    ...(isCold ? [coldStep(thicker)] : []),
    boreStep(bores),
    hubStep(ask.lengthMm),
  ];
  if (!first.laminar || !easiest.laminar || !hardest.laminar) {
    const step = {
      code: 'not-laminar',
      values: { reynolds: toPlaces(first.reynolds, 0) },
      source: LAMINAR_SOURCE,
    };
    return { ...shared, laminar: false, reynolds: first.reynolds, working: [...working, step] };
  }
  const forceN: Range = {
    least: add(divide(easiest.forceN, MODEL_BAND.most), FRICTION_N.least),
    most: add(divide(hardest.forceN, MODEL_BAND.least), FRICTION_N.most),
  };
  return {
    ...shared,
    laminar: true,
    forceN,
    hand: handOf(forceN),
    working: [...working, ...forceSteps({ least: easiest.forceN, most: hardest.forceN }, forceN)],
  };
}

/** The same remedy, syringe and speed through each gauge, warm and cold, widest needle first: rows of a chart. */
export function forceByGauge(
  ask: Omit<ForceAsk, 'gauge' | 'temperature'>,
  gauges: readonly string[],
): { gauge: Gauge; warm: ForceRange; cold: ForceRange }[] {
  return gauges
    .map((gauge) => readGauge(gauge, 'gauge'))
    .sort((a, b) => Number(a) - Number(b))
    .map((gauge) => ({
      gauge,
      warm: forceRange({ ...ask, gauge, temperature: 'warm' }),
      cold: forceRange({ ...ask, gauge, temperature: 'cold' }),
    }));
}

function checkRange(range: ViscosityRange): ViscosityRange {
  checkFlowValue(range.least, 'viscosityMpaS');
  checkFlowValue(range.most, 'viscosityMpaS');
  if (compare(range.least, range.most) <= 0) return range;
  throw new Refusal('bad-input', 'Viscosity: the least is more than the most.', {
    field: 'viscosityMpaS',
    next: 'Give the smaller number first.',
  });
}

function handOf(force: Range): 'under' | 'may-pass' | 'over' {
  if (compare(force.most, HAND_LIMIT_N) <= 0) return 'under';
  return compare(force.least, HAND_LIMIT_N) > 0 ? 'over' : 'may-pass';
}

function warningsOf(thickness: FlowClass | ViscosityRange, isLaminar: boolean): Warning[] {
  const warnings: Warning[] = [];
  if (thickness === 'suspension') {
    warnings.push({
      code: 'suspension',
      text: 'A suspension settles, and gets thinner while it is pushed: the law of flow does not hold for it, so take its figures as a hint only.',
    });
  }
  if (!isLaminar) {
    warnings.push({
      code: 'not-laminar',
      text: 'At this speed the flow is not smooth through so fine a needle, so no force can be told: push more slowly.',
    });
  }
  return warnings;
}

const two = (value: Fraction): string => toPlaces(value, 2);
const span = (range: Range): string =>
  compare(range.least, range.most) === 0 ? two(range.least) : `${two(range.least)} to ${two(range.most)}`;

function thicknessStep({ thickness, temperature }: ForceAsk, viscosity: Range): Step {
  const values = { viscosity: span(viscosity), celsius: String(CELSIUS[temperature]) };
  return typeof thickness === 'string'
    ? { code: 'thickness-class', values: { ...values, class: thickness } }
    : { code: 'thickness-entered', values };
}

function coldStep({ from, ...times }: Range & { from: string }): Step {
  return { code: 'cold', values: { times: span(times), warm: '20', cold: '5' }, source: from };
}

function boreStep({ narrowest, widest }: ForceRange['bores']): Step {
  return {
    code: 'bores',
    values: { narrowest: two(narrowest.mm), widest: two(widest.mm) },
    source: `${narrowest.from}; ${widest.from} (${narrowest.mark})`,
  };
}

function hubStep(lengthMm: Fraction): Step {
  const flow = { least: add(lengthMm, HUB_LENGTH_MM.least), most: add(lengthMm, HUB_LENGTH_MM.most) };
  return { code: 'hub', values: { length: two(lengthMm), flow: span(flow) }, source: 'Pharm Res 35:120' };
}

function forceSteps(fluid: Range, force: Range): Step[] {
  return [
    { code: 'fluid', values: { fluid: span(fluid) }, source: LAMINAR_SOURCE },
    {
      code: 'measured-band',
      values: {
        least: two(MODEL_BAND.least),
        most: two(MODEL_BAND.most),
        friction: span(FRICTION_N),
        force: span(force),
      },
      source: 'Allmendinger 2014, Fig. 3A (digitised by others); friction of one syringe, assumed for any',
    },
  ];
}

const FORCE_LINES: Readonly<Record<string, Line>> = {
  needle: (v) => `${v.gauge}G from a ${v.bottle} bottle:`,
  'thickness-class': (v) =>
    `Assumed for ${v.class === 'oily' ? 'an oily' : `a ${v.class}`} remedy at about ${v.celsius} °C: ${v.viscosity} mPa·s`,
  'thickness-entered': (v) => `As entered, at about ${v.celsius} °C: ${v.viscosity} mPa·s`,
  cold: (v) => `From ${v.warm} to ${v.cold} °C it gets ${v.times} times thicker`,
  bores: (v) => `The gauge leaves the bore open between ${v.narrowest} and ${v.widest} mm`,
  hub: (v) => `${v.length} mm labelled, ${v.flow} mm with the hub`,
  fluid: (v) => `32 × viscosity × length × flow × barrel² ÷ bore⁴ = ${v.fluid} N`,
  'measured-band': (v) =>
    `Worked out ÷ measured lay between ${v.least} and ${v.most}, and the plunger itself takes ${v.friction} N: ${v.force} N in all`,
  'not-laminar': (v) => `Reynolds number up to ${v.reynolds}, above 2300: the law does not hold`,
};

/** The lines a person would write to check a range of force. */
export function printForceWorking(steps: readonly Step[]): WorkingLine[] {
  return linesOf(steps, FORCE_LINES);
}
