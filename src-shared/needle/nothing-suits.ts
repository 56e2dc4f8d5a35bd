import { Refusal } from '../refusal.ts';
import { type Needle, printNeedle } from './needle.ts';
import type { NeedleAsk } from './situation.ts';

/** What is said when no needle suits: why each fell out, the nearest miss first, and what to do. */

/** Beyond so many reasons, or needles for one reason, it is no sentence any more; `judgeNeedles` gives all. */
const MOST_SAID = 4;

/** More than there are rules. */
const OTHER_THAN_STATED = 100;

type Out = Needle & { readonly why: readonly { readonly rule: string; readonly text: string }[] };

/** The refusal `no-needle-suits`. `instead` is the needle that would be chosen if it were there. */
export function nothingSuits(ask: NeedleAsk, out: readonly Out[], instead: Needle | undefined): Refusal {
  const nearest = out.toSorted((a, b) => miss(a) - miss(b));
  // Of needles nobody has named, only those that label and farm leave are worth a word.
  const left = ask.inStock === undefined ? nearest.filter((one) => miss(one) < OTHER_THAN_STATED) : [];
  const where = ask.inStock === undefined ? 'in usual use' : 'in the drawer';
  const message =
    out.length === 0
      ? 'Needle: there is none in the drawer.'
      : `Needle: none ${where} suits: ${sayOut(left.length > 0 ? left : nearest)}.`;
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
  return why.length + (isOther ? OTHER_THAN_STATED : 0);
}

/** In a full drawer many fall out for one reason: it is said once, with their names. */
function sayOut(nearest: readonly Out[]): string {
  const groups = new Map<string, string[]>();
  for (const needle of nearest) {
    const name = printNeedle(needle);
    const reason = (needle.why[0]?.text ?? '').slice(name.length + 1).replace(/\.$/, '');
    groups.set(reason, [...(groups.get(reason) ?? []), name]);
  }
  const said = [...groups].slice(0, MOST_SAID);
  const more = nearest.length - said.reduce((count, [, names]) => count + names.length, 0);
  const sentences = said.map(([reason, names]) =>
    names.length === 1 ? `${names[0]} ${reason}` : `${sayNames(names)}: each ${reason}`,
  );
  return [...sentences, ...(more > 0 ? [`${more} more do not suit either`] : [])].join('; ');
}

function sayNames(names: readonly string[]): string {
  const rest = names.length - MOST_SAID;
  const shown = rest > 0 ? [...names.slice(0, MOST_SAID), `${rest} more`] : names;
  return `${shown.slice(0, -1).join(', ')} and ${shown.at(-1)}`;
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
