import { parsePeriod, periodInWords } from '../quantity/period.ts';

/** Small pieces of sentence that every part of a label read back needs. */

/** A text of the user's with a full stop at its end. */
export function stop(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

/** A sentence begins with a capital. */
export function upper(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** "28 d" as "28 days". Refuses (`bad-period`). */
export function periodWords(text: string): string {
  return periodInWords(parsePeriod(text, 'period'));
}
