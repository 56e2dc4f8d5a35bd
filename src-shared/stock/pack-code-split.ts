import type { Day } from '../time/day.ts';
import {
  FIXED_LENGTH,
  fieldAt,
  isProduct,
  lengthPassedBy,
  packDay,
  VALUE_SIGNS,
} from './pack-code-fields.ts';

/** Taking an element string apart, and finding whether it could be taken apart in another way. */

/** The separator: FNC1 as scanners type it. */
export const SEPARATOR = '\u001d';

export type Element = {
  readonly ai: string;
  readonly value: string;
  /** Whether it ran to the end of the scan with no separator after it, though it has no length of its own. */
  readonly open: boolean;
};
export type Split = {
  readonly elements: readonly Element[];
  /** What is not read here, as it stood. */
  readonly passed: readonly string[];
  /** Where it broke off: the field, or what begins with none. */
  readonly broken?: { readonly ai?: string; readonly rest: string };
};

/** By the standard: a field without a length of its own ends at a separator or at the end of the scan. */
export function split(text: string): Split {
  const elements: Element[] = [];
  const passed: string[] = [];
  let rest = text;
  while (rest !== '') {
    if (rest.startsWith(SEPARATOR)) {
      rest = rest.slice(1);
      continue;
    }
    const cut = rest.indexOf(SEPARATOR);
    const upTo = cut < 0 ? rest : rest.slice(0, cut);
    const found = fieldAt(rest);
    if (found === undefined) {
      const length = lengthPassedBy(rest) ?? upTo.length;
      if (!/^\d{2}./.test(upTo) || upTo.length < length) return { elements, passed, broken: { rest } };
      passed.push(rest.slice(0, length));
      rest = rest.slice(length);
      continue;
    }
    const { ai, kind } = found;
    const end = 'fixed' in kind ? ai.length + FIXED_LENGTH[kind.fixed] : upTo.length;
    const value = rest.slice(ai.length, end);
    if (upTo.length < end || value === '') return { elements, passed, broken: { ai, rest: upTo } };
    elements.push({ ai, value, open: !('fixed' in kind) && cut < 0 });
    rest = rest.slice(end);
  }
  return { elements, passed };
}

export type OtherReading = { readonly elements: readonly Element[]; readonly isTwoScans: boolean };

/** So many steps are taken at most; a text that has more ways than that is not read by any of them. */
const MOST_STEPS = 20_000;

/**
 * Another way to read the last field of a scan that has no separator: a shorter value, and behind it whole fields.
 * A field that was read does not come again in one pack code, so a batch may hold "10" or "21" once its own are known;
 * but a day or a product number that fits whole is asked about all the same. `undefined` when there is no other way.
 */
export function otherReading(
  last: Element,
  seen: readonly string[],
  on: Day | undefined,
): OtherReading | undefined {
  let steps = 0;
  const tail = (rest: string, had: ReadonlySet<string>): Element[] | undefined => {
    steps += 1;
    if (steps > MOST_STEPS) return [];
    const found = fieldAt(rest);
    if (found === undefined) return undefined;
    const { ai, kind } = found;
    if ('fixed' in kind) {
      const value = rest.slice(ai.length, ai.length + FIXED_LENGTH[kind.fixed]);
      const fits = kind.fixed === 'product' ? isProduct(value) : packDay(value, on) !== undefined;
      if (!fits) return undefined;
      // A second product number begins a second scan, in which everything may come again.
      return behind({ ai, value, open: false }, rest.slice(ai.length + value.length), ai === '01' ? [] : had);
    }
    return had.has(ai) ? undefined : shorter(ai, kind.most, rest.slice(ai.length), had, true);
  };
  const behind = (first: Element, rest: string, had: Iterable<string>): Element[] | undefined => {
    if (rest === '') return [first];
    const more = tail(rest, new Set([...had, first.ai]));
    return more === undefined ? undefined : [first, ...more];
  };
  const shorter = (
    ai: string,
    most: number,
    value: string,
    had: Iterable<string>,
    orWhole: boolean,
  ): Element[] | undefined => {
    if (orWhole && value !== '' && value.length <= most && VALUE_SIGNS.test(value)) {
      return [{ ai, value, open: true }];
    }
    for (let end = 1; end < value.length && end <= most; end += 1) {
      const found = behind({ ai, value: value.slice(0, end), open: false }, value.slice(end), had);
      if (found !== undefined) return found;
    }
    return undefined;
  };
  const kind = fieldAt(last.ai)?.kind;
  if (kind === undefined || 'fixed' in kind) return undefined;
  const elements = shorter(last.ai, kind.most, last.value, seen, false);
  if (elements === undefined) return undefined;
  return { elements, isTwoScans: elements.some(({ ai }) => ai === '01' && seen.includes('01')) };
}

/** Whether a value holds a whole product number, which no batch or serial does: two scans that ran together. */
export function holdsAnotherScan(value: string): boolean {
  for (let i = 1; i + 16 <= value.length; i += 1) {
    if (value.startsWith('01', i) && isProduct(value.slice(i + 2, i + 16))) return true;
  }
  return false;
}
