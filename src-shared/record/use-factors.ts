import { type Fraction, parseDecimal } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import { searchKey } from '../search-key.ts';

/** Published factors by which strengths become mg of active substance. Data, each with where it comes from. */

export type Factor = {
  /** "iu": mg in one IU. "salt": the part of the salt that is the substance. */
  readonly kind: 'iu' | 'salt';
  /** The name of the substance or of its salt, as an insert writes it. */
  readonly of: string;
  readonly value: string;
  readonly source: string;
};

const READ = 'European convention for reporting sales of antimicrobials by weight, table of IU';
const MEMORY = 'European convention for reporting sales of antimicrobials by weight, from memory';

const iu = (of: string, value: string): Factor => ({ kind: 'iu', of, value, source: READ });
const salt = (of: string, value: string): Factor => ({ kind: 'salt', of, value, source: MEMORY });

export const FACTORS: readonly Factor[] = [
  iu('benzylpenicillin', '0.0006'),
  iu('oxytetracycline', '0.001149'),
  iu('dihydrostreptomycin', '0.00122'),
  iu('streptomycin', '0.001274'),
  iu('neomycin', '0.001325'),
  iu('framycetin', '0.001492'),
  iu('gentamicin', '0.001613'),
  iu('spiramycin', '0.000313'),
  iu('tylosin', '0.001'),
  salt('procaine benzylpenicillin', '0.61'),
  salt('benzathine benzylpenicillin', '0.74'),
  salt('penethamate', '0.63'),
];

/**
 * The published factor of this kind for a substance, or for its salt ("procaine" of benzylpenicillin); undefined when
 * there is none. Names are compared whole, without case or accents: nothing is guessed from a part of a name.
 */
export function knownFactor(
  kind: Factor['kind'],
  active: { substance: string; salt?: string | undefined },
): Factor | undefined {
  const names = [
    active.substance,
    ...(kind === 'salt' && active.salt !== undefined
      ? [active.salt, `${active.salt} ${active.substance}`]
      : []),
  ].map(searchKey);
  return FACTORS.find((one) => one.kind === kind && names.includes(searchKey(one.of)));
}

/** A factor as typed. Refuses (`bad-factor`, `bad-number`) zero, below zero and above one. */
export function parseFactor(text: string, field: string, kind: Factor['kind']): Fraction {
  const value = parseDecimal(text, field);
  if (value.n > 0n && value.n <= value.d) return value;
  const says =
    kind === 'iu'
      ? 'IU to mg: write the mg in one IU, above 0 and at most 1, as in 0.0006.'
      : 'Salt factor: write the part of the salt that is the substance, above 0 and at most 1, as in 0.61.';
  throw new Refusal('bad-factor', says, { field, next: 'Take it from the insert, or ask the vet.' });
}
