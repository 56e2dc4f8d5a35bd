import type { z } from 'zod';
import type { syringeShown } from '../../../src-shared/calls/treat-grouping.ts';
import { chooseSyringe, type Fit, type OwnSyringe } from '../../../src-shared/dose/syringes.ts';
import { printWorking } from '../../../src-shared/dose/working.ts';
import { type Amount, parseAmount, printAmount } from '../../../src-shared/quantity/amount.ts';
import {
  absolute,
  compare,
  type Fraction,
  type RoundHow,
  toPlaces,
} from '../../../src-shared/quantity/fraction.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import type { Warning } from '../../../src-shared/working.ts';
import type { Reader } from '../../store/store.ts';
import { allEquipment } from '../reading/equipment.ts';

export type SyringeShown = z.output<typeof syringeShown>;

/** The farm's own syringes and guns that medicine is given with, as amounts; what cannot be read is no choice. */
export function ownSyringes(tx: Reader): OwnSyringe[] {
  return allEquipment(tx).flatMap(({ equipment, what, name, active, capacity, graduation }) => {
    if (!active || capacity === undefined || graduation === undefined) return [];
    const read = attempt(() => ({
      id: equipment,
      name,
      capacity: parseAmount(capacity, 'capacity'),
      graduation: parseAmount(graduation, 'graduation'),
      isGun: what === 'gun',
    }));
    const isVolume =
      read.ok && read.value.capacity.kind === 'volume' && read.value.graduation.kind === 'volume';
    return isVolume ? [read.value] : [];
  });
}

/** Every dose of a line, exact in mL, and how it is rounded. */
export type Drawn = { exacts: readonly Fraction[]; rounding: RoundHow; maxPerSite?: Amount | undefined };

/**
 * The smallest of the farm's syringes that holds every dose of a line, with what it may be off by, and the smallest
 * whose marks are nowhere more than 5 % off when those of the first are. With `taken`, that one is said instead, and a
 * finer one beside it. Nothing where the farm has none, or none holds the doses: then a warning says so.
 */
export function syringeFor(
  own: readonly OwnSyringe[],
  drawn: Drawn,
  taken: string | undefined,
): { shown?: SyringeShown; warnings: Warning[] } {
  const sorted = drawn.exacts.toSorted(compare);
  const [least, most] = [sorted[0], sorted.at(-1)];
  if (own.length === 0 || least === undefined || most === undefined) return { warnings: [] };
  const { rounding, maxPerSite } = drawn;
  const large = attempt(() => chooseSyringe(own, { exact: most, rounding, maxPerSite }));
  if (!large.ok) return { warnings: [{ code: large.error.code, text: large.error.message }] };
  // The least dose is the one its marks round most, and one that they cannot show at all is no choice.
  const small = attempt(() => chooseSyringe(own, { exact: least, rounding, maxPerSite }));
  if (!small.ok) return { warnings: [{ code: small.error.code, text: small.error.message }] };
  const both = large.value.fits.flatMap((fit) => {
    const atLeast = small.value.fits.find(({ id }) => id === fit.id);
    return atLeast === undefined ? [] : [{ fit, atLeast }];
  });
  const first = (taken === undefined ? undefined : both.find(({ fit }) => fit.id === taken)) ?? both[0];
  if (first === undefined) {
    const text = `None of the farm's syringes holds ${toPlaces(most, 2)} mL and shows ${toPlaces(least, 2)} mL: take a large and a small one.`;
    return { warnings: [{ code: 'no-one-syringe', text }] };
  }
  const finer = isCoarse(first) ? both.find((each) => !isCoarse(each)) : undefined;
  return {
    shown: {
      ...plain(first.fit),
      isTaken: taken === first.fit.id,
      ...(first.fit.isGun ? {} : { errorPercent: toPlaces(first.fit.error.errorPercent, 1) }),
      says: sayChoice(first, taken === first.fit.id),
      ...(finer === undefined
        ? {}
        : {
            finer: {
              ...plain(finer.fit),
              says: `Its marks round the smallest dose, ${toPlaces(least, 2)} mL, by ${offBy(first)} %. Take ${finer.fit.name} first: by ${offBy(finer)} %.`,
            },
          }),
      working: first.fit.isGun ? [] : printWorking(first.fit.error.working),
    },
    warnings: isCoarse(first) && finer === undefined ? [noFiner(first, least)] : [],
  };
}

type Pair = { fit: Fit; atLeast: Fit };

/** More than 5 % off at the smallest dose: a finer one is asked for first (practice). */
function isCoarse({ fit, atLeast }: Pair): boolean {
  const five = { n: 5n, d: 1n };
  return [fit, atLeast].some(({ deviationPercent }) => compare(absolute(deviationPercent), five) > 0);
}

const offBy = ({ fit, atLeast }: Pair) => {
  const [a, b] = [absolute(fit.deviationPercent), absolute(atLeast.deviationPercent)];
  return toPlaces(compare(a, b) > 0 ? a : b, 1);
};

function noFiner(pair: Pair, least: Fraction): Warning {
  return {
    code: 'finer-syringe',
    text: `The marks of ${pair.fit.name} round the smallest dose, ${toPlaces(least, 2)} mL, by ${offBy(pair)} %, and none of the farm's is finer: take something with finer marks.`,
  };
}

function plain({ id, name, capacity, graduation }: Fit) {
  return {
    equipment: id,
    name,
    capacity: printAmount(capacity),
    graduation: printAmount(graduation),
  };
}

function sayChoice({ fit }: Pair, isTaken: boolean): string {
  const error = fit.isGun
    ? 'what a gun is off by, only shots into a measure show'
    : `by ISO 7886-1 it may be off by ${toPlaces(fit.error.errorMl, 2)} mL, ${toPlaces(fit.error.errorPercent, 1)} %, at ${printAmount(fit.fill)}`;
  return isTaken
    ? `${fit.name}: ${error}.`
    : `${fit.name} is the smallest of the farm's that holds it; ${error}.`;
}
