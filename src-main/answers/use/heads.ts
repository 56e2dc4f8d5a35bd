import type { DataOf } from '../../../src-shared/entries/all.ts';
import { compare, fraction, parseDecimal, toDecimal } from '../../../src-shared/quantity/fraction.ts';
import { kilograms, parseWeight } from '../../../src-shared/quantity/weight.ts';
import { STANDARD_SOURCE, STANDARD_WEIGHTS, weightOf } from '../../../src-shared/record/use.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Reader } from '../../store/store.ts';
import { holdingOf, recordOf, recordsOf } from '../reading/holding.ts';
import type { FarmAnimals, Span } from './animals.ts';

export type UseRules = DataOf<'use-rules-set'>;
export type OwnHeads = NonNullable<UseRules['heads']>[number];

/** Practice: the span within which the same trouble again is looked at with the vet. */
const REPEAT_DAYS = 28;
const MOST_KG = fraction(200);

/** The farm's own settings, or the standard ones. */
export function rulesOfUse(tx: Reader): UseRules {
  const { living, slaughtered } = STANDARD_WEIGHTS;
  return (
    recordOf<UseRules>(tx, 'use-rules', 'this') ?? {
      livingKg: living,
      slaughteredKg: slaughtered,
      repeatDays: REPEAT_DAYS,
    }
  );
}

/** Where the standard weights come from. */
export function saysSource({ livingKg, slaughteredKg }: UseRules): string {
  const { living, slaughtered } = STANDARD_WEIGHTS;
  return livingKg === living && slaughteredKg === slaughtered ? STANDARD_SOURCE : 'the farm’s own setting';
}

/** A standard weight as kg. Refuses (`bad-weight`) more than any sheep weighs. */
export function standardKg(text: string, field: string): string {
  const kg = kilograms(parseWeight(text, field, { unit: 'kg' }));
  // The entry keeps three digits after the point, which is a gram.
  const grams = kg.n * 1000n;
  if (compare(kg, MOST_KG) <= 0 && grams % kg.d === 0n) return toDecimal(kg);
  throw new Refusal('bad-weight', 'Weight: write the standard weight of one sheep in kg, as in 75.', {
    field,
    next: 'At most 200 kg, with at most three digits after the point.',
  });
}

export type StandardHeads = {
  living: number;
  slaughtered: number;
  kg: ReturnType<typeof weightOf>;
  says: string[];
};

/**
 * The heads that standard weights are multiplied with: the farm's own numbers where it has typed some, else those of
 * the book. Every living sheep counts alike, of whatever class.
 * @param counted what the book counts in the span
 * @param count counts one holding of several by itself
 */
export function standardHeads(
  tx: Reader,
  { span, counted, rules }: { span: Span; counted: FarmAnimals; rules: UseRules },
  count: (span: Span) => FarmAnimals,
): StandardHeads {
  const year = Number(span.to.slice(0, 4));
  const isOneOfMany = span.holding === undefined && recordsOf(tx, 'holding').length > 1;
  const says: string[] = [];
  let { living, slaughtered } = counted;
  for (const own of rules.heads ?? []) {
    if (own.year !== year || (span.holding !== undefined && own.holding !== span.holding)) continue;
    const book = isOneOfMany ? count({ ...span, holding: own.holding }) : counted;
    living += (own.living ?? book.living) - book.living;
    slaughtered += (own.slaughtered ?? book.slaughtered) - book.slaughtered;
    const of = isOneOfMany ? `${holdingOf(tx, own.holding).name}: ` : '';
    const say = (what: string, typed: number | undefined, found: number) =>
      typed === undefined ? [] : [`${of}${typed} ${what} by the farm’s own word; the book counts ${found}.`];
    says.push(
      ...say('living', own.living, book.living),
      ...say('slaughtered', own.slaughtered, book.slaughtered),
    );
  }
  const kg = weightOf([
    { count: living, kg: parseDecimal(rules.livingKg, 'livingKg') },
    { count: slaughtered, kg: parseDecimal(rules.slaughteredKg, 'slaughteredKg') },
  ]);
  return { living, slaughtered, kg, says };
}

/**
 * The settings with the farm's own numbers of one year and holding; without numbers the book counts again.
 * Refuses (`bad-year`) a year that has not begun.
 */
export function withOwnHeads(rules: UseRules, said: OwnHeads, thisYear: number): UseRules {
  if (said.year > thisYear) {
    throw new Refusal('bad-year', `Year: ${said.year} has not begun.`, {
      field: 'year',
      next: `Write ${thisYear} or an earlier year.`,
    });
  }
  const others = (rules.heads ?? []).filter(
    ({ holding, year }) => holding !== said.holding || year !== said.year,
  );
  const isTyped = said.living !== undefined || said.slaughtered !== undefined;
  const heads = isTyped ? [...others, said].toSorted((a, b) => b.year - a.year) : others;
  const { heads: _, ...rest } = rules;
  return heads.length === 0 ? rest : { ...rest, heads };
}
