import { type Amount, inDoseUnits, printAmount } from '../quantity/amount.ts';
import { add, divide, type Fraction, fraction, multiply, toDecimal, ZERO } from '../quantity/fraction.ts';
import { measureUnit } from '../quantity/rate.ts';
import {
  type ParsedStrength,
  shortStrength,
  strengthMeasure,
  strengthOf,
  strengthPerUnit,
} from '../quantity/strength.ts';
import { Refusal } from '../refusal.ts';
import type { Step, Warning } from '../working.ts';
import { toAmount } from './exact.ts';

/** What goes into a mixture: so much of a powder, a concentrate or pieces, and how strong that is. */
export type Ingredient = {
  readonly amount: Amount;
  /** Absent: the rate counts the powder itself, and so does the mixture. */
  readonly strength?: ParsedStrength | undefined;
  readonly piece?: string | undefined;
  /** Where its fields stand in the form; absent: "from.0" and so on. */
  readonly field?: string | undefined;
};

export type MixAsk = {
  readonly from: readonly Ingredient[];
  /** Water added; the volume made is this and the concentrates together. */
  readonly water?: Amount | undefined;
  /** Filled up to this mark instead. One of the two. */
  readonly madeUpTo?: Amount | undefined;
};

export type Mixture = {
  /** The strength as text that reads back exactly ("46.8 g in 943 mL" as mg), for the container. */
  readonly strength: string;
  /** mg or IU in each mL, exact. */
  readonly perMl: Fraction;
  readonly unit: 'mg' | 'IU';
  readonly substance: Fraction;
  readonly volume: Amount;
  readonly working: Step[];
  /** Always says what was taken for the volume. */
  readonly warnings: Warning[];
};

/**
 * The strength of what was made up on the farm: it belongs to the container and to no label. A powder is taken to add
 * no volume and liquids to add up, unless it was filled up to a mark. Refuses `nothing-mixed`, `water-missing`,
 * `units-do-not-match`, `strength-missing`, `bad-volume`, `bad-amount`, `strength-too-fine`.
 */
export function mixture(ask: MixAsk): Mixture {
  if (ask.from.length === 0) {
    throw new Refusal('nothing-mixed', 'From: say what goes into the mixture.', { field: 'from' });
  }
  const working: Step[] = [];
  const parts = ask.from.map((part, i) => substanceOf(part, pathOf(part, i), working));
  const measure = parts[0]?.measure ?? 'mass';
  parts.forEach((part, i) => {
    if (part.measure === measure) return;
    throw new Refusal('units-do-not-match', 'Strength: mg and IU cannot be put together in one strength.', {
      field: `${pathOf(ask.from[i], i)}strength`,
    });
  });
  const substance = parts.reduce((sum, part) => add(sum, part.substance), ZERO);
  const warnings: Warning[] = [];
  const volume = volumeOf(ask, working, warnings);
  const unit = measure === 'mass' ? 'mg' : 'IU';
  const perMl = divide(substance, inDoseUnits(volume));
  working.push({
    code: 'mix-strength',
    values: {
      substance: sumOf(parts, unit),
      volume: printAmount(volume),
      perMl: `${toDecimal(perMl)} ${unit}`,
    },
  });
  return {
    strength: strengthText(substance, volume, unit),
    perMl,
    unit,
    substance,
    volume,
    working,
    warnings,
  };
}

/** "46800 mg + 1000 mg = 47800 mg", or the one there is. */
function sumOf(parts: readonly { substance: Fraction }[], unit: string): string {
  const total = `${toDecimal(parts.reduce((sum, part) => add(sum, part.substance), ZERO))} ${unit}`;
  if (parts.length === 1) return total;
  return `${parts.map(({ substance }) => `${toDecimal(substance)} ${unit}`).join(' + ')} = ${total}`;
}

function pathOf(part: Ingredient | undefined, i: number): string {
  const field = part?.field ?? `from.${i}`;
  return field === '' ? '' : `${field}.`;
}

function substanceOf(
  { amount, strength, piece }: Ingredient,
  field: string,
  working: Step[],
): { substance: Fraction; measure: 'mass' | 'activity' } {
  const units = inDoseUnits(amount);
  const shown = printAmount(amount, piece);
  if (units.n <= 0n)
    throw new Refusal('bad-amount', 'Amount: it must be above zero.', { field: `${field}amount` });
  if (strength === undefined) {
    if (amount.kind !== 'mass') {
      throw new Refusal('strength-missing', `Strength: say how strong the ${shown} is.`, {
        field: `${field}strength`,
        next: 'Enter the strength from the label, as in 500 mg/g or 10 %.',
      });
    }
    working.push({ code: 'mix-product', values: { amount: shown } });
    return { substance: units, measure: 'mass' };
  }
  // A percentage is of a powder or of a liquid alike; every other strength says what it is in.
  if (strength.unit === '%' ? amount.kind === 'pieces' : strengthOf(strength) !== amount.kind) {
    throw new Refusal('units-do-not-match', `Strength: ${shortStrength(strength)} does not fit ${shown}.`, {
      field: `${field}strength`,
      next: 'A powder has its strength in each g, a liquid in each mL.',
    });
  }
  const measure = strengthMeasure(strength);
  const substance = multiply(units, strengthPerUnit(strength, amount.kind));
  working.push({
    code: 'mix-substance',
    values: {
      amount: shown,
      label: shortStrength(strength),
      substance: `${toDecimal(substance)} ${measureUnit(measure)}`,
    },
  });
  return { substance, measure };
}

function volumeOf(ask: MixAsk, working: Step[], warnings: Warning[]): Amount {
  const { water, madeUpTo } = ask;
  if ((water === undefined) === (madeUpTo === undefined)) {
    throw new Refusal(
      'water-missing',
      'Water: give the water added, or what it was made up to, and not both.',
      {
        field: 'water',
      },
    );
  }
  const liquids = ask.from.filter(({ amount }) => amount.kind === 'volume').map(({ amount }) => amount);
  const concentrate = liquids.reduce((sum, amount) => add(sum, inDoseUnits(amount)), ZERO);
  if (madeUpTo !== undefined) {
    const value = liquid(madeUpTo, 'madeUpTo', 'Made up to');
    if (value.n * concentrate.d < concentrate.n * value.d) {
      throw new Refusal(
        'bad-volume',
        `Made up to: ${printAmount(madeUpTo)} is less than what goes into it.`,
        {
          field: 'madeUpTo',
        },
      );
    }
    working.push({ code: 'mix-made-up-to', values: { volume: printAmount(madeUpTo) } });
    return madeUpTo;
  }
  if (water === undefined) throw new RangeError('One of the two was there.');
  const value = liquid(water, 'water', 'Water');
  const volume = toAmount(add(value, concentrate), 'volume');
  if (liquids.length > 0) {
    const sum = [...liquids, water].map((amount) => printAmount(amount)).join(' + ');
    working.push({ code: 'mix-volume', values: { sum, volume: printAmount(volume) } });
  }
  const solid = liquids.length < ask.from.length;
  const text = `The volume is taken as ${printAmount(volume)}: ${
    solid ? 'what is dissolved is counted as adding none' : 'the liquids are counted as adding up'
  }. ${solid ? 'A heaped powder makes more, and the mixture weaker: fill up to a mark where that matters.' : 'Fill up to a mark where that matters.'}`;
  warnings.push({ code: 'volume-assumed', text });
  return volume;
}

function liquid(amount: Amount, field: string, name: string): Fraction {
  if (amount.kind !== 'volume') {
    throw new Refusal('units-do-not-match', `${name}: write it in mL or L.`, { field });
  }
  const value = inDoseUnits(amount);
  if (value.n <= 0n) throw new Refusal('bad-volume', `${name}: it must be above zero.`, { field });
  return value;
}

/** What `parseStrength` reads at the most. */
const READABLE = /^\d{1,12}(\.\d{1,9})?$/;

/** As substance in volume where its digits end, else as two whole numbers: either way it reads back as the same strength. */
function strengthText(substance: Fraction, volume: Amount, unit: 'mg' | 'IU'): string {
  const millilitres = inDoseUnits(volume);
  const exact = [toDecimal(substance), toDecimal(millilitres)] as const;
  const same = (text: string, value: Fraction) => {
    if (!READABLE.test(text)) return false;
    const [whole = '', part = ''] = text.split('.');
    return BigInt(whole + part) * value.d === value.n * 10n ** BigInt(part.length);
  };
  const perMl = divide(substance, millilitres);
  const [mg, mL] = same(exact[0], substance)
    ? exact
    : [toDecimal(fraction(perMl.n)), toDecimal(fraction(perMl.d))];
  if (!READABLE.test(mg) || !READABLE.test(mL)) {
    throw new Refusal(
      'strength-too-fine',
      'Amount: that mixture has more digits than can be kept; measure to a whole mg and mL.',
      {
        field: 'from',
      },
    );
  }
  return mL === '1' ? `${mg} ${unit}/mL` : `${mg} ${unit} in ${mL} mL`;
}
