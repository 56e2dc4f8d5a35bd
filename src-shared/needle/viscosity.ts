import type { FLOW_CLASSES } from '../label/terms.ts';
import { type Fraction, fraction, parseDecimal } from '../quantity/fraction.ts';
import type { Mark } from './tubing.ts';

/**
 * How thick a medicine is. Hardly any maker publishes it, so a remedy has a range by its flow class. These are
 * properties of liquids and no doses: floating point is good enough for them.
 */

export type FlowClass = (typeof FLOW_CLASSES)[number];
/** In mPa·s; water at 20 °C has 1. */
export type ViscosityRange = { readonly least: Fraction; readonly most: Fraction };
/** Warm is a room at about 20 °C, cold a bottle from the fridge at about 5 °C. */
export type Warmth = 'warm' | 'cold';
export const CELSIUS: Readonly<Record<Warmth, number>> = { warm: 20, cold: 5 };

/**
 * The range of each flow class at about 20 °C in mPa·s. An assumption: there is no published figure for long-acting
 * antibiotics or vaccines in oil.
 */
export const CLASS_VISCOSITY: Readonly<Record<FlowClass, ViscosityRange>> = {
  watery: { least: fraction(1), most: fraction(3, 2) },
  syrupy: { least: fraction(20), most: fraction(60) },
  suspension: { least: fraction(50), most: fraction(150) },
  oily: { least: fraction(30), most: fraction(150) },
};

/** Viscosity of water in mPa·s at 0 to 100 °C (Cheng 2008, read). Throws RangeError outside. */
export function waterViscosity(celsius: number): number {
  return waterAndGlycerol(0, celsius);
}

/**
 * Viscosity in mPa·s of glycerol in water, at 0 to 100 °C, `share` being the glycerol's part of the mass, 0 to 1
 * (Cheng 2008, read). Throws RangeError outside.
 */
export function waterAndGlycerol(share: number, celsius: number): number {
  if (!(share >= 0 && share <= 1)) throw new RangeError(`A share of mass lies between 0 and 1: ${share}.`);
  if (!(celsius >= 0 && celsius <= 100)) throw new RangeError(`Known from 0 to 100 °C only: ${celsius}.`);
  const t = celsius;
  const water = 1.79 * Math.exp(((-1230 - t) * t) / (36_100 + 360 * t));
  const glycerol = 12_100 * Math.exp(((-1233 + t) * t) / (9900 + 70 * t));
  const a = 0.705 - 0.0017 * t;
  const b = (4.9 + 0.036 * t) * a ** 2.5;
  const between = (a * b * share * (1 - share)) / (a * share + b * (1 - share));
  const alpha = 1 - share + between;
  return water ** alpha * glycerol ** (1 - alpha);
}

const GAS_CONSTANT = 8.314_462_618;
const ZERO_CELSIUS = 273.15;

/** How many times thicker a vegetable oil gets between two temperatures, for its activation energy in kJ/mol. */
export function oilThickening(kiloJoulesPerMole: number, from: number, to: number): number {
  const turned = 1 / (ZERO_CELSIUS + to) - 1 / (ZERO_CELSIUS + from);
  return Math.exp(((kiloJoulesPerMole * 1000) / GAS_CONSTANT) * turned);
}

/** Vegetable oils: 21 to 30 kJ/mol (read). */
const OIL_ENERGY = { least: 21, most: 30 };

/** The share of glycerol that makes water so thick at 20 °C. */
function glycerolFor(mPaS: number): number {
  let low = 0;
  let high = 1;
  // Halving forty times is finer than the formula is true.
  for (let n = 0; n < 40; n += 1) {
    const middle = (low + high) / 2;
    if (waterAndGlycerol(middle, CELSIUS.warm) < mPaS) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function glycerolThickening(mPaS: number): number {
  const share = glycerolFor(mPaS);
  return waterAndGlycerol(share, CELSIUS.cold) / waterAndGlycerol(share, CELSIUS.warm);
}

function waterThickening(): number {
  return waterViscosity(CELSIUS.cold) / waterViscosity(CELSIUS.warm);
}

/** How many times thicker from 20 to 5 °C, least and most, and what it is taken from. */
export type Thickening = {
  readonly least: Fraction;
  readonly most: Fraction;
  readonly from: string;
  readonly mark: Mark;
};

// Three figures: more would look as if anybody had measured the remedy.
const times = (value: number): Fraction => parseDecimal(String(Number(value.toPrecision(3))), 'times');

const oil = {
  least: times(oilThickening(OIL_ENERGY.least, CELSIUS.warm, CELSIUS.cold)),
  most: times(oilThickening(OIL_ENERGY.most, CELSIUS.warm, CELSIUS.cold)),
};
const water = times(waterThickening());

/**
 * Cold thickening by flow class. Water and oil are read; a syrup is taken to behave like glycerol in water, as
 * thick as the class, and a suspension like the water or the oil it may be made with.
 */
export const THICKENING: Readonly<Record<FlowClass, Thickening>> = {
  watery: { least: water, most: water, from: 'water (Cheng 2008)', mark: 'read' },
  syrupy: {
    least: times(glycerolThickening(20)),
    most: times(glycerolThickening(60)),
    from: 'glycerol in water (Cheng 2008), taken for any syrup',
    mark: 'assumed',
  },
  suspension: {
    least: water,
    most: oil.most,
    from: 'water or oil, whichever it is made with',
    mark: 'assumed',
  },
  oily: { ...oil, from: 'vegetable oils, activation energy 21 to 30 kJ/mol', mark: 'read' },
};

/** For a remedy whose value was entered and whose class is not known: as little as water, as much as a syrup. */
export const THICKENING_UNKNOWN: Thickening = {
  least: water,
  most: THICKENING.syrupy.most,
  from: 'the least and the most of all flow classes',
  mark: 'assumed',
};
