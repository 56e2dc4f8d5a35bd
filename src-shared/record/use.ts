import { type Amount, inDoseUnits, printAmount } from '../quantity/amount.ts';
import {
  add,
  divide,
  type Fraction,
  fraction,
  multiply,
  toDecimal,
  toPlaces,
  ZERO,
} from '../quantity/fraction.ts';
import {
  checkPieces,
  type ParsedStrength,
  shortStrength,
  strengthMeasure,
  strengthOf,
  strengthPerUnit,
} from '../quantity/strength.ts';
import { Refusal } from '../refusal.ts';
import type { Step, WorkingLine } from '../working.ts';

/**
 * How much active substance was used, against the weight of the animals. Source: records.md of the project, the
 * European convention that counts sales by weight: mg of active substance, divided by number × weight.
 */

/** The standard weights, kg: what the European convention takes for sheep. A farm may set others. */
export const STANDARD_WEIGHTS = { living: '75', slaughtered: '20' } as const;
export const STANDARD_SOURCE = 'European convention of the population correction unit (PCU) for sheep';

/** One of the two ways a strength becomes mg, or neither where it is in mg of the substance already. */
export type ToMg = {
  readonly iu?: Fraction | undefined;
  readonly salt?: Fraction | undefined;
  readonly source?: string | undefined;
};

/** mg of active substance in one mL, mg or piece, exact, and how it was worked out. */
export type PerUnit = { readonly mg: Fraction; readonly step: Step };

/**
 * mg of active substance in one mL, one mg of powder or one piece. Refuses `both-factors`, `iu-factor-missing`
 * (a strength in IU), `factor-does-not-fit` (an IU factor for mg), `units-do-not-match` (mL of a strength per tablet).
 */
export function activePerUnit(
  strength: ParsedStrength,
  kind: Amount['kind'],
  { iu, salt, source }: ToMg,
  field = '',
): PerUnit {
  const at = (name: string) => (field === '' ? name : `${field}.${name}`);
  if (iu !== undefined && salt !== undefined) {
    throw new Refusal(
      'both-factors',
      'Salt factor: apply this one or the mg in one IU, never both: the IU already count the substance alone.',
      { field: at('saltFactor'), next: 'Leave one of the two out.' },
    );
  }
  const measure = strengthMeasure(strength);
  if (measure === 'activity' && iu === undefined) {
    throw new Refusal('iu-factor-missing', 'IU to mg: a strength in IU needs the mg in one IU.', {
      field: at('iuToMg'),
      next: 'Give the factor of the substance, as in 0.0006.',
    });
  }
  if (measure === 'mass' && iu !== undefined) {
    throw new Refusal('factor-does-not-fit', 'IU to mg: this strength is not in IU, so no IU are changed.', {
      field: at('iuToMg'),
      next: 'Leave it out.',
    });
  }
  if (strength.unit === '%' ? kind === 'pieces' : strengthOf(strength) !== kind) {
    throw new Refusal('units-do-not-match', 'Strength: it does not fit the unit of the amount.', {
      field: at('strength'),
      next: 'Write both in mL, both in g, or both in pieces.',
    });
  }
  const per = strengthPerUnit(strength, kind);
  const factor = iu ?? salt;
  const mg = factor === undefined ? per : multiply(per, factor);
  const one = { volume: 'mL', mass: 'mg', pieces: strength.piece ?? 'piece' }[kind];
  return {
    mg,
    step: {
      code: factor === undefined ? 'active' : iu === undefined ? 'active-of-salt' : 'active-of-iu',
      values: {
        strength: shortStrength(strength),
        per: `${toDecimal(mg)} mg in each ${one}`,
        ...(factor === undefined ? {} : { factor: toDecimal(factor) }),
      },
      ...(source === undefined ? {} : { source }),
    },
  };
}

/** One thing that was given, with the strength by which it counts, and what its pieces are called. */
export type Given = ToMg & {
  readonly amount: Amount;
  readonly strength: ParsedStrength;
  readonly piece?: string | undefined;
};
/** So many animals of this weight, kg. */
export type Animals = { readonly count: number; readonly kg: Fraction };

export type Use = {
  readonly totalMg: Fraction;
  readonly kg: Fraction;
  readonly mgPerKg: Fraction;
  readonly working: Step[];
};

/** Σ mg of active substance over Σ number × weight. Refuses what `checkPieces` and `activePerUnit` refuse, and `no-animals`. */
export function useOf(given: readonly Given[], animals: readonly Animals[]): Use {
  const working: Step[] = [];
  let totalMg = ZERO;
  for (const [i, one] of given.entries()) {
    checkPieces(one.strength, one.piece, `given.${i}.strength`);
    const { mg, step } = activePerUnit(one.strength, one.amount.kind, one, `given.${i}`);
    const used = multiply(inDoseUnits(one.amount), mg);
    working.push(step, {
      code: 'used',
      values: { amount: printAmount(one.amount, one.piece), mg: toDecimal(used) },
    });
    totalMg = add(totalMg, used);
  }
  const kg = weightOf(animals);
  if (kg.n === 0n) {
    throw new Refusal('no-animals', 'Animals: there is no weight to divide by.', {
      field: 'animals',
      next: 'Give at least one animal with its weight.',
    });
  }
  const mgPerKg = divide(totalMg, kg);
  working.push(
    {
      code: 'weight',
      values: {
        sum: animals.map(({ count, kg: each }) => `${count} × ${toDecimal(each)} kg`).join(' + '),
        kg: toDecimal(kg),
      },
    },
    {
      code: 'per-kg',
      values: { mg: toDecimal(totalMg), kg: toDecimal(kg), is: toPlaces(mgPerKg, 2) },
    },
  );
  return { totalMg, kg, mgPerKg, working };
}

/** Σ number × weight, kg. */
export function weightOf(animals: readonly Animals[]): Fraction {
  return animals.reduce((sum, { count, kg }) => add(sum, multiply(fraction(count), kg)), ZERO);
}

/** The lines a person would write to check it. */
export function printUseWorking(steps: readonly Step[]): WorkingLine[] {
  return steps.map(({ code, values, source }) => {
    const text = LINES[code]?.(values) ?? '';
    return { code, text, ...(source === undefined ? {} : { source }) };
  });
}

const LINES: Readonly<Record<string, (values: Readonly<Record<string, string>>) => string>> = {
  active: ({ strength, per }) => `${strength}: ${per}`,
  'active-of-iu': ({ strength, factor, per }) => `${strength} × ${factor} mg in each IU: ${per}`,
  'active-of-salt': ({ strength, factor, per }) =>
    `${strength} × ${factor}, the part that is not salt: ${per}`,
  used: ({ amount, mg }) => `${amount}: ${mg} mg of active substance`,
  weight: ({ sum, kg }) => `${sum} = ${kg} kg`,
  'per-kg': ({ mg, kg, is }) => `${mg} mg ÷ ${kg} kg = ${is} mg for each kg`,
};
