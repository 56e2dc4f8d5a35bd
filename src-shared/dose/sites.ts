import { type Amount, amountOf, inDoseUnits, printAmount } from '../quantity/amount.ts';
import { divide, type Fraction, fraction, stepsOf } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';

/** More needle pricks than this in one animal at one time is a mistake in what was typed (practice). */
const MOST_SITES = 40;

/**
 * Shares a drawn amount between sites, none over `most`: as few sites as that allows, each a whole number of marks,
 * as even as the marks allow, the larger first. 7 mL at most 5 on marks of 0.2 is 3.6 + 3.4.
 * Refuses `site-below-graduation` when not even one mark may go in a site, `too-many-sites` beyond 40.
 */
export function splitSites(draw: Amount, step: Fraction, most: Amount | undefined): Amount[] {
  if (most === undefined) return [draw];
  if (most.kind !== draw.kind) {
    throw new Refusal('units-do-not-match', 'Most per site: it must be in the unit of the dose.', {
      field: 'maxPerSite',
    });
  }
  const perSite = stepsOf(inDoseUnits(most), step, 'down');
  if (perSite < 1n) {
    throw new Refusal(
      'site-below-graduation',
      `Most per site: ${printAmount(most)} is less than one mark of the syringe.`,
      {
        field: 'maxPerSite',
        next: 'Take a syringe with finer marks.',
      },
    );
  }
  const total = divide(inDoseUnits(draw), step).n;
  const count = (total + perSite - 1n) / perSite;
  if (count > BigInt(MOST_SITES)) {
    throw new Refusal(
      'too-many-sites',
      `Most per site: this dose would need ${count} sites; check dose and limit.`,
      {
        field: 'maxPerSite',
      },
    );
  }
  const base = total / count;
  const larger = Number(total % count);
  const sites: Amount[] = [];
  for (let i = 0; i < Number(count); i += 1)
    sites.push(siteOf(base + (i < larger ? 1n : 0n), step, draw.kind));
  return sites;
}

function siteOf(steps: bigint, step: Fraction, kind: Amount['kind']): Amount {
  const value = fraction(steps * step.n * (kind === 'pieces' ? 1n : 1000n), step.d);
  return amountOf(kind, Number(value.n));
}
