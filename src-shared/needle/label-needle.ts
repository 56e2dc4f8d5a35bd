import type { DoseLine, LabelTerms } from '../label/terms.ts';
import { parseAmount } from '../quantity/amount.ts';
import { absolute, compare, type Fraction, fraction, parseDecimal, subtract } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import { LENGTH_NAMES, lengthMm, type NeedleLength, readLength } from './needle.ts';
import type { LabelNeedle } from './situation.ts';
import { readGauge } from './tubing.ts';

/** What a label says of the needle, read from the text that was typed. */

const MM = /^\s*(\d{1,3}(?:\.\d{1,2})?)\s*mm\s*$/i;
/** Packets round to whole millimetres: a length in mm means the inches that lie no further away than this. */
const NEAR_MM = fraction(8, 10);

/**
 * The needle terms of a label, with the most in one place of a dose line. Refuses (`unknown-gauge`, `unknown-length`)
 * what is on no packet, and (`limits-crossed`) a length that is longer than the longest it allows.
 */
export function labelNeedleOf(
  needle: LabelTerms['needle'],
  line?: Pick<DoseLine, 'mostPerSite'>,
  field = 'needle',
): LabelNeedle {
  const gauge = needle?.gauge === undefined ? undefined : readGauge(needle.gauge, `${field}.gauge`);
  const lengthIn =
    needle?.length === undefined ? undefined : readEitherLength(needle.length, `${field}.length`);
  const mostLengthMm =
    needle?.mostLength === undefined ? undefined : readMost(needle.mostLength, `${field}.mostLength`);
  if (
    lengthIn !== undefined &&
    mostLengthMm !== undefined &&
    compare(lengthMm(lengthIn), mostLengthMm) > 0 &&
    !isNear(lengthMm(lengthIn), mostLengthMm)
  ) {
    throw new Refusal(
      'limits-crossed',
      'Length of the needle: it is longer than the longest the label allows.',
      {
        field: `${field}.length`,
        next: 'Check both against the insert.',
      },
    );
  }
  const most = line?.mostPerSite;
  return {
    gauge,
    lengthIn,
    mostLengthMm,
    maxPerSite: most === undefined ? undefined : parseAmount(most, 'mostPerSite'),
  };
}

/** A length in inches, or the millimetres that a packet prints for one. */
function readEitherLength(text: string, field: string): NeedleLength {
  const mm = MM.exec(text)?.[1];
  if (mm === undefined) return readLength(text, field);
  const value = parseDecimal(mm, field);
  const found = LENGTH_NAMES.find((name) => isNear(lengthMm(name), value));
  if (found !== undefined) return found;
  throw new Refusal(
    'unknown-length',
    `Length of the needle: no needle in use is ${mm} mm long. They are 6, 13, 16, 19, 25 and 38 mm.`,
    { field, next: 'If the insert means “not longer than”, write it there.' },
  );
}

/** "Not over 15 mm", or inches: every length, because it only limits. */
function readMost(text: string, field: string): Fraction {
  const mm = MM.exec(text)?.[1];
  const most = mm === undefined ? lengthMm(readLength(text, field)) : parseDecimal(mm, field);
  const shortest = lengthMm(LENGTH_NAMES[0]);
  if (compare(most, shortest) >= 0 || isNear(most, shortest)) return most;
  throw new Refusal('unknown-length', 'Longest needle: no needle in use is as short as that.', {
    field,
    next: 'Check it against the insert, with mm or in.',
  });
}

const isNear = (a: Fraction, b: Fraction) => compare(absolute(subtract(a, b)), NEAR_MM) <= 0;
