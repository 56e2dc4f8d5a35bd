import { workOut } from '../../../src-shared/calls/work-out.ts';
import { attempt, type Fault } from '../../../src-shared/refusal.ts';
import type { Warning, WorkingLine } from '../../../src-shared/working.ts';
import { type Part, partsOf, type Told, type TopicSentence, type Typed, wayOf } from './sentence.ts';

/** What stands under a blank: what was understood, or what is wrong with it. */
export type Note = { readonly says?: string | undefined; readonly fault?: Fault };

export type Filled = {
  readonly parts: readonly Part[];
  readonly notes: Readonly<Record<string, Note>>;
} & (
  | { readonly state: 'open' }
  /** `at` is the blank that the sentence of the fault stands under; without one it stands under the whole. */
  | { readonly state: 'wrong'; readonly fault: Fault; readonly at: string | undefined }
  | {
      readonly state: 'told';
      readonly told: Told;
      readonly working: readonly WorkingLine[];
      readonly warnings: readonly Warning[];
    }
);

/** What the sentence asks its topic, from the blanks and turns that are in sight. */
export function askOf(
  sentence: TopicSentence,
  typed: Typed,
  parts: readonly Part[],
): Record<string, unknown> {
  const ask: Record<string, unknown> = {};
  for (const part of parts) {
    if (part.kind === 'turn') Object.assign(ask, wayOf(sentence, part.name, typed).ask);
    if (part.kind !== 'blank') continue;
    const text = textOf(part, typed);
    if (text !== '') put(ask, part.name.split('.'), part.blank.ask?.(text) ?? text);
  }
  return ask;
}

/** What stands in a blank now. */
export function textOf(part: Extract<Part, { kind: 'blank' }>, typed: Typed): string {
  return (typed[part.name] ?? part.blank.start?.() ?? '').trim();
}

function put(into: Record<string, unknown>, path: readonly string[], value: unknown): void {
  const [head = '', ...rest] = path;
  const [next] = rest;
  if (next === undefined) {
    into[head] = value;
    return;
  }
  // A number in a name is the place in a list. Arrays take names of digits as places.
  into[head] ??= /^\d+$/.test(next) ? [] : {};
  put(into[head] as Record<string, unknown>, rest, value);
}

/**
 * Fills a sentence: reads each blank back, and when none is missing asks the topic. It is the very function of the
 * terminal, so a screen and a terminal cannot come to two results. What is not ours to explain is thrown on.
 */
export function fill(sentence: TopicSentence, typed: Typed): Filled {
  const parts = partsOf(sentence, typed);
  const blanks = parts.filter((part) => part.kind === 'blank');
  const notes: Record<string, Note> = {};
  for (const part of blanks) {
    const text = textOf(part, typed);
    const { reads } = part.blank;
    if (text === '' || reads === undefined) continue;
    const read = attempt(() => reads(text, part.name));
    notes[part.name] = read.ok ? { says: read.value } : { fault: read.error };
  }
  const unread = blanks.find((part) => notes[part.name]?.fault !== undefined);
  const fault = unread === undefined ? undefined : notes[unread.name]?.fault;
  if (unread !== undefined && fault !== undefined) {
    return { parts, notes, state: 'wrong', fault, at: unread.name };
  }
  if (blanks.some((part) => part.isNeeded && textOf(part, typed) === '')) {
    return { parts, notes, state: 'open' };
  }
  const answer = attempt(() => workOut(sentence.topic, askOf(sentence, typed, parts)));
  if (!answer.ok) {
    const at = blankAt(answer.error.field, blanks);
    if (at !== undefined) notes[at] = { fault: answer.error };
    return { parts, notes, state: 'wrong', fault: answer.error, at };
  }
  return {
    parts,
    notes,
    state: 'told',
    told: sentence.tell(answer.value, typed),
    // Every reply of a topic has both; that is held where topics are tested.
    working: answer.value.working as WorkingLine[],
    warnings: answer.value.warnings as Warning[],
  };
}

/** The blank that a field of the topic means: itself, the list it is in, or the first part of it. */
function blankAt(
  field: string | undefined,
  blanks: readonly { readonly name: string }[],
): string | undefined {
  if (field === undefined) return undefined;
  const names = blanks.map(({ name }) => name);
  return (
    names.find((name) => name === field) ??
    names.find((name) => field.startsWith(`${name}.`)) ??
    names.find((name) => name.startsWith(`${field}.`))
  );
}
