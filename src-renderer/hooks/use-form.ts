import { useCallback, useState } from 'react';
import type { Outcome } from '../../src-shared/refusal.ts';
import { restoreValues, useDraft, type Values } from './use-draft.ts';

/** Something wrong with one field, in words, or with the whole when there is no field. */
export type Problem = { readonly field?: string; readonly message: string; readonly next?: string };

/** What a field part needs: spread it, `<Field {...form.text('name')} label="Name" />`. */
export type TextProps = {
  name: string;
  value: string;
  onChange(value: string): void;
  error?: string | undefined;
};
export type TickProps = Omit<TextProps, 'value' | 'onChange'> & {
  value: boolean;
  onChange(value: boolean): void;
};
export type ListProps = Omit<TextProps, 'value' | 'onChange'> & {
  value: readonly string[];
  onChange(value: readonly string[]): void;
};

type NamesOf<V, K> = { [N in keyof V & string]: V[N] extends K ? N : never }[keyof V & string];

export type FormState<V extends Values> = {
  readonly values: V;
  /** False for the moment in which it is looked up whether an unfinished one was kept. */
  readonly isReady: boolean;
  readonly isRestored: boolean;
  readonly isTouched: boolean;
  readonly problems: readonly Problem[];
  /** Counts how often something was found wrong: the cursor goes to the list of problems only then. */
  readonly turn: number;
  /** Changes fields. A change that follows from waiting for something is a step on what stands there by then. */
  set(change: Partial<V> | ((now: V) => Partial<V>)): void;
  text(name: NamesOf<V, string>): TextProps;
  tick(name: NamesOf<V, boolean>): TickProps;
  list(name: NamesOf<V, readonly string[]>): ListProps;
  /** Shows what is wrong; an empty list clears it. */
  show(problems: readonly Problem[]): void;
  /** Empties the form and forgets what was kept. */
  drop(): Promise<void>;
};

/**
 * The values of a form, kept while unfinished. Give the fields the names the desk gives them
 * ("holding.zone"), so that its refusals find their field. `keep` is the form's name in the kept drafts.
 */
export function useForm<V extends Values>(keep: string, initial: V): FormState<V> {
  const draft = useDraft<V>(keep, initial, (kept) => restoreValues(initial, kept));
  const [found, setFound] = useState<{ problems: readonly Problem[]; turn: number }>({
    problems: [],
    turn: 0,
  });
  const { problems, turn } = found;
  const { value: values, change: changeDraft } = draft;

  const set = useCallback(
    (change: Partial<V> | ((now: V) => Partial<V>)) => {
      let changed: Partial<V> = {};
      changeDraft((before) => {
        changed = typeof change === 'function' ? change(before) : change;
        return { ...before, ...changed };
      });
      // What was said about a field is about what stood there before.
      setFound((before) => ({
        ...before,
        problems: before.problems.filter(
          (problem) => problem.field !== undefined && !Object.hasOwn(changed, problem.field),
        ),
      }));
    },
    [changeDraft],
  );
  const show = useCallback((next: readonly Problem[]) => {
    setFound((before) => ({ problems: next, turn: next.length > 0 ? before.turn + 1 : before.turn }));
  }, []);
  const field = (name: string) => ({
    name,
    error: problems.find((problem) => problem.field === name)?.message,
    // The name was checked by its type where the field was asked for.
    onChange: (value: string | boolean | readonly string[]) => set({ [name]: value } as Partial<V>),
  });
  return {
    values,
    isReady: draft.isReady,
    isRestored: draft.isRestored,
    isTouched: JSON.stringify(values) !== JSON.stringify(initial),
    problems,
    turn,
    set,
    text: (name) => ({ ...field(name), value: values[name] as string }),
    tick: (name) => ({ ...field(name), value: values[name] as boolean }),
    list: (name) => ({ ...field(name), value: values[name] as readonly string[] }),
    show,
    drop: draft.drop,
  };
}

/** The problems of values tried with shared parsers: `problemsOf(() => parseWeight(…), …)` through `attempt`. */
export function problemsOf(outcomes: readonly Outcome<unknown>[]): Problem[] {
  return outcomes.flatMap((outcome) => (outcome.ok ? [] : [outcome.error]));
}

/** An object without the fields that were left empty: the desk wants them absent. */
export function withoutEmpty<T extends Readonly<Record<string, unknown>>>(
  values: T,
): { [N in keyof T]?: Exclude<T[N], ''> } {
  const filled = Object.entries(values).filter(([, value]) => value !== '' && value !== undefined);
  // Only fields of T with values of T are left.
  return Object.fromEntries(filled) as { [N in keyof T]?: Exclude<T[N], ''> };
}
