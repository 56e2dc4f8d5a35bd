import { type Fraction, parseDecimal } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';

/**
 * What a needle is made of: tubing, outside and inside, by gauge. A gauge settles the outside; the bore depends on
 * the wall, which few packets state. Two tables therefore stand beside each other, and every bore that is taken
 * from one of them says from which.
 */

/** How a value came here: read at its source, read where somebody else quotes it, from memory, or assumed by us. */
export type Mark = 'read' | 'second-hand' | 'memory' | 'assumed';

/** The gauges there is a whole row for, widest first. A higher number is a thinner needle. */
export const GAUGES = ['14', '15', '16', '17', '18', '19', '20', '21', '22', '23', '24', '25'] as const;
export type Gauge = (typeof GAUGES)[number];

export type Wall = 'regular' | 'thin' | 'extra-thin';
export const WALLS: readonly Wall[] = ['regular', 'thin', 'extra-thin'];

/** A bore with the table it was taken from. */
export type Bore = { readonly mm: Fraction; readonly from: string; readonly mark: Mark };

export type StandardRow = {
  /** The metric size, which is the designation of the standard. Absent where only the bores were found. */
  readonly metric?: string;
  /** Outside, least and most, in mm. */
  readonly outside?: { readonly least: Fraction; readonly most: Fraction };
  /** The smallest bore allowed for each wall, in mm. Nothing keeps a needle from being wider. */
  readonly bore: Readonly<Record<Wall, Fraction>>;
  readonly mark: Mark;
};

/** ISO 9626:2016 allows no bore narrower than these. */
export const STANDARD_NAME = 'ISO 9626:2016, smallest bore';

const mm = (text: string): Fraction => parseDecimal(text, 'millimetres');

function bores(regular: string, thin: string, extraThin: string): StandardRow['bore'] {
  return { regular: mm(regular), thin: mm(thin), 'extra-thin': mm(extraThin) };
}

function row(metric: string, least: string, most: string, bore: StandardRow['bore']): StandardRow {
  return { metric, outside: { least: mm(least), most: mm(most) }, bore, mark: 'memory' };
}

/** The standard's table, by gauge: written from memory, but for two rows that were found second-hand. */
export const STANDARD: ReadonlyMap<string, StandardRow> = new Map([
  ['14', row('2.1', '1.950', '2.150', bores('1.500', '1.600', '1.727'))],
  ['15', row('1.8', '1.750', '1.900', bores('1.300', '1.460', '1.560'))],
  ['16', row('1.6', '1.600', '1.690', bores('1.100', '1.283', '1.390'))],
  ['17', row('1.4', '1.400', '1.510', bores('0.950', '1.156', '1.244'))],
  ['18', row('1.2', '1.200', '1.300', bores('0.790', '0.910', '1.041'))],
  ['19', row('1.1', '1.030', '1.100', bores('0.648', '0.750', '0.850'))],
  ['20', row('0.9', '0.860', '0.920', bores('0.560', '0.635', '0.687'))],
  ['21', row('0.8', '0.800', '0.830', bores('0.490', '0.547', '0.610'))],
  ['22', row('0.7', '0.698', '0.730', bores('0.390', '0.440', '0.522'))],
  ['23', row('0.6', '0.600', '0.673', bores('0.317', '0.370', '0.460'))],
  ['24', row('0.55', '0.550', '0.580', bores('0.280', '0.343', '0.370'))],
  ['25', row('0.5', '0.500', '0.530', bores('0.232', '0.292', '0.317'))],
  // Quoted in PMC7952281, Table III; far too thin for a sheep, kept because they are the rows that could be compared.
  ['30', { bore: bores('0.133', '0.165', '0.190'), mark: 'second-hand' }],
  ['32', { bore: bores('0.089', '0.105', '0.125'), mark: 'second-hand' }],
]);

/** What makers print as the usual size of a needle with a regular wall: one value, not a least one. */
export const NOMINAL_NAME = 'public needle-gauge chart, nominal, regular wall';

/** Outside and bore in mm, by gauge (read). */
export const NOMINAL: ReadonlyMap<string, { readonly outside: Fraction; readonly bore: Fraction }> = new Map(
  (
    [
      ['14', '2.108', '1.600'],
      ['16', '1.651', '1.194'],
      ['18', '1.270', '0.838'],
      ['20', '0.908', '0.603'],
      ['21', '0.819', '0.514'],
      ['22', '0.718', '0.413'],
      ['25', '0.514', '0.260'],
    ] as const
  ).map(([gauge, outside, bore]) => [gauge, { outside: mm(outside), bore: mm(bore) }]),
);

/**
 * The gauge in what a person types: "18", "18G", "18 G". Refuses (`unknown-gauge`) one that is not in the tables.
 */
export function readGauge(text: string, field: string): Gauge {
  const number = /^\s*(\d{1,2})\s*g?\s*$/i.exec(text)?.[1];
  const found = GAUGES.find((gauge) => gauge === number);
  if (found === undefined) {
    throw new Refusal(
      'unknown-gauge',
      `Gauge: write a whole number from ${GAUGES[0]} to ${GAUGES.at(-1)}, as it stands on the packet.`,
      { field, next: 'Read the gauge on the packet or on the hub, as in 18.' },
    );
  }
  return found;
}

/** The smallest bore the standard allows for a gauge and a wall. */
export function standardBore(gauge: Gauge, wall: Wall): Bore {
  const found = STANDARD.get(gauge);
  if (found === undefined) throw new RangeError(`The standard's table has no row for ${gauge}G.`);
  return { mm: found.bore[wall], from: `${STANDARD_NAME}, ${wall} wall`, mark: found.mark };
}

/** The bore of the chart of nominal sizes, where it has the gauge. */
export function nominalBore(gauge: Gauge): Bore | undefined {
  const found = NOMINAL.get(gauge);
  return found === undefined ? undefined : { mm: found.bore, from: NOMINAL_NAME, mark: 'read' };
}

/**
 * How narrow and how wide the bore of a needle may be of which only the gauge is known: the smallest of a regular
 * wall, and the smallest of a thin one, which is also at least the nominal bore. Extra-thin walls are said on the
 * packet and left out.
 */
export function boresOf(gauge: Gauge): { narrowest: Bore; widest: Bore } {
  return { narrowest: standardBore(gauge, 'regular'), widest: standardBore(gauge, 'thin') };
}

/** Labelled lengths in use, in inches as they stand on the packet, and in mm (an inch is 25.4 mm exactly). */
export const LENGTHS: ReadonlyMap<string, Fraction> = new Map([
  ['1/4', mm('6.35')],
  ['1/2', mm('12.7')],
  ['5/8', mm('15.875')],
  ['3/4', mm('19.05')],
  ['1', mm('25.4')],
  ['1 1/2', mm('38.1')],
]);

/**
 * Usual inner widths of a syringe's barrel in mm, by capacity in mL. They differ between makers by about a tenth,
 * and the force with the square of them. The 10 mL one is that of the worked example in the tests; the others are
 * from memory.
 */
export const BARRELS: ReadonlyMap<string, Fraction> = new Map([
  ['1', mm('4.7')],
  ['2', mm('8.7')],
  ['5', mm('12.4')],
  ['10', mm('15.9')],
  ['20', mm('19.5')],
  ['50', mm('27')],
]);
