import { Refusal } from '../refusal.ts';
import { type Needle, printNeedle } from './needle.ts';
import type { NeedleAsk } from './situation.ts';

/** What is said when no needle suits: why each fell out, the nearest miss first, and what to do. */

/** Beyond these it is no sentence any more; `judgeNeedles` gives all. */
const MOST_SAID = 4;

type Out = Needle & { readonly why: readonly { readonly rule: string; readonly text: string }[] };

/** The refusal `no-needle-suits`. `instead` is the needle that would be chosen if it were there. */
export function nothingSuits(ask: NeedleAsk, out: readonly Out[], instead: Needle | undefined): Refusal {
  const nearest = out.toSorted((a, b) => miss(a) - miss(b));
  const shown = nearest.filter(isFirstOfItsReason).slice(0, MOST_SAID);
  const more = out.length - shown.length;
  const reasons = shown.map(({ why: [first] }) => (first?.text ?? '').replace(/\.$/, '')).join('; ');
  const where = ask.inStock === undefined ? 'in usual use' : 'in the drawer';
  const message =
    out.length === 0
      ? 'Needle: there is none in the drawer.'
      : `Needle: none ${where} suits: ${reasons}${more > 0 ? `; and ${more} more` : ''}.`;
  if (instead !== undefined) {
    return new Refusal('no-needle-suits', message, {
      field: 'inStock',
      next: `Fetch ${printNeedle(instead)}, which would be chosen if it were there, or ask the vet.`,
    });
  }
  return new Refusal('no-needle-suits', message, adviceFor(ask, nearest));
}

/** How far a needle is from suiting. One that is not what label or farm state misses by more than any other. */
function miss({ why }: Out): number {
  const isOther = why.some(({ rule }) => /^(label|house)-/.test(rule));
  return why.length + (isOther ? 100 : 0);
}

/** In a full drawer many fall out for one reason: it is said once. */
function isFirstOfItsReason(needle: Out, at: number, all: readonly Out[]): boolean {
  const reason = (one: Out) => one.why[0]?.text.slice(printNeedle(one).length);
  return all.findIndex((one) => reason(one) === reason(needle)) === at;
}

/** What to change when not even a full drawer would help: the field that stands in the way of the nearest misses. */
function adviceFor(ask: NeedleAsk, nearest: readonly Out[]): { field: string; next: string } {
  const ids = new Set(nearest.flatMap(({ why }) => why.map(({ rule }) => rule)));
  if (ids.has('slant-quarter') || ids.has('straight-quarter-wool')) {
    return { field: 'technique', next: 'Lift a fold of skin instead, and choose again.' };
  }
  if (ids.has('house-gauge') || ids.has('house-length')) {
    return {
      field: ids.has('house-gauge') ? 'house.gauge' : 'house.lengthIn',
      next: 'Change the farm’s own rule for this job, or ask the vet.',
    };
  }
  if (ask.label !== undefined) return { field: 'label', next: 'Read the label again, and ask the vet.' };
  return { field: 'inStock', next: 'Ask the vet which needle to use.' };
}
