import { splitSites } from '../dose/sites.ts';
import {
  type Amount,
  amountOf,
  baseOf,
  compareAmounts,
  inDoseUnits,
  printAmount,
} from '../quantity/amount.ts';
import { divide, fraction } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import type { Conflict, MostPerSite, StatedMost } from './rule.ts';

/**
 * How much goes into one place. The label rules; where it is silent the farm, within what a source says; else the
 * least that a source says, because too much in one place leaks, hurts and leaves a lump.
 */

const microlitresOf = (amount: Amount | undefined) => (amount === undefined ? undefined : baseOf(amount));

export const MOSTS: readonly MostPerSite[] = [
  {
    kind: 'most',
    id: 'site-label',
    says: 'The label says how much goes into one place.',
    short: 'label',
    source: 'the label',
    mark: 'stated',
    strength: 'safety',
    from: 'label',
    microlitres: ({ label }) => microlitresOf(label),
  },
  {
    kind: 'most',
    id: 'site-house',
    says: 'The farm has chosen how much goes into one place, within what a source says.',
    short: 'house',
    source: 'the farm’s own rule',
    mark: 'stated',
    strength: 'preference',
    from: 'house',
    microlitres: ({ house }) => microlitresOf(house),
  },
  {
    kind: 'most',
    id: 'site-5-ml',
    says: 'At most 5 mL in one place.',
    short: '5 mL',
    source: 'a club guide',
    mark: 'read',
    strength: 'safety',
    from: 'guidance',
    microlitres: () => 5000,
  },
  {
    kind: 'most',
    id: 'site-10-ml',
    says: 'At most 10 mL in one place.',
    short: '10 mL',
    source: 'an Australian export handbook',
    mark: 'read',
    strength: 'preference',
    from: 'guidance',
    microlitres: () => 10_000,
  },
  {
    kind: 'most',
    id: 'site-15-ml',
    says: 'At most 15 mL in one place.',
    short: '15 mL',
    source: 'a small-ruminant manual',
    mark: 'read',
    strength: 'preference',
    from: 'guidance',
    microlitres: () => 15_000,
  },
];

export type PerSite = {
  /** The row that decided. */
  readonly rule: string;
  readonly most: Amount;
  /** What goes into each place, the larger first, on steps of 0.1 mL, or 0.01 below 1 mL. */
  readonly each: readonly Amount[];
  /** Present when the sources would make another number of places of it. */
  readonly conflict?: Conflict | undefined;
  readonly says: string;
};

/**
 * The places one treatment of `volume` makes. `rules` are the rows of `MOSTS` that count. Refuses (`bad-most`) a most
 * of zero or in another unit, (`house-past-sources`) a farm's own most beyond every source, and what `splitSites`
 * refuses. Throws RangeError when no row says anything.
 */
export function perSiteOf(
  volume: Amount,
  stated: StatedMost,
  lamb: boolean,
  rules: readonly MostPerSite[] = MOSTS,
): PerSite {
  checkMost(stated.label, 'label.maxPerSite');
  checkMost(stated.house, 'house.maxPerSite');
  const found = rules.flatMap((rule) => {
    const most = rule.microlitres(stated);
    return most === undefined ? [] : [{ rule, most }];
  });
  const guidance = found.filter(({ rule }) => rule.from === 'guidance').sort((a, b) => a.most - b.most);
  const chosen =
    found.find(({ rule }) => rule.from === 'label') ??
    found.find(({ rule }) => rule.from === 'house') ??
    guidance[0];
  if (chosen === undefined) throw new RangeError('No row says how much goes into one place.');
  const beyond = guidance.at(-1);
  if (chosen.rule.from === 'house' && beyond !== undefined && chosen.most > beyond.most) {
    throw new Refusal(
      'house-past-sources',
      `House: no source puts more than ${beyond.rule.short} into one place, so the farm’s own rule cannot.`,
      { field: 'house.maxPerSite', next: `Write ${beyond.rule.short} or less, or ask the vet.` },
    );
  }
  const most = amountOf('volume', chosen.most);
  const each = splitSites(volume, finest(volume, most), most);
  const counts = new Set(guidance.map(({ most: one }) => placesOf(volume, one)));
  const isOpen = chosen.rule.from !== 'label' && counts.size > 1;
  const noLamb =
    lamb && chosen.rule.from === 'guidance'
      ? ' No source has a figure for lambs: where in doubt ask the vet.'
      : '';
  return {
    rule: chosen.rule.id,
    most,
    each,
    ...(isOpen
      ? {
          conflict: {
            topic: 'per-site',
            sides: guidance.map(({ rule: { id, short, source, mark } }) => ({
              rule: id,
              says: short,
              source,
              mark,
            })),
            taken:
              chosen.rule.from === 'house'
                ? `The farm’s own rule is taken: ${printAmount(most)}.`
                : `The least is taken: ${printAmount(most)}.`,
          },
        }
      : {}),
    says: `${saysMost(chosen.rule, most)}${places(each)}${noLamb}`,
  };
}

function checkMost(most: Amount | undefined, field: string): void {
  if (most === undefined || (most.kind === 'volume' && baseOf(most) > 0)) return;
  throw new Refusal('bad-most', 'Most per site: write it in mL, above zero, as in 5 mL.', { field });
}

const placesOf = (volume: Amount, most: number) => Math.ceil(baseOf(volume) / most);

/** The finest step on which the volume and the most are whole, so that nothing is lost in sharing. */
function finest(volume: Amount, most: Amount) {
  const steps = [fraction(1, 10), fraction(1, 100), fraction(1, 1000)];
  const fits = (amount: Amount, step: (typeof steps)[number]) => divide(inDoseUnits(amount), step).d === 1n;
  return steps.find((step) => fits(volume, step) && fits(most, step)) ?? fraction(1, 1000);
}

function saysMost(rule: MostPerSite, most: Amount): string {
  const amount = printAmount(most);
  if (rule.from === 'label') return `The label allows ${amount} in one place: `;
  if (rule.from === 'house') return `The farm’s own rule is ${amount} in one place: `;
  return `The label does not say how much goes into one place; the strictest guidance is ${amount}: `;
}

function places(each: readonly Amount[]): string {
  const [first] = each;
  if (first === undefined) throw new RangeError('A treatment goes into at least one place.');
  if (each.length === 1) return 'one place.';
  const isEven = each.every((one) => compareAmounts(one, first) === 0);
  const amounts = isEven ? `${printAmount(first)} each` : each.map((one) => printAmount(one)).join(', ');
  return `${each.length} places, ${amounts}.`;
}
