import { useMemo, useState } from 'react';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { useDraft } from '../../hooks/use-draft.ts';
import type { ListProps, Problem, TextProps, TickProps } from '../../hooks/use-form.ts';
import { type LabelDraft, labelDraftSchema } from './draft.ts';
import { type ReadLabel, readDraft } from './problems.ts';

type NamesOf<T, K> = { [N in keyof T & string]: T[N] extends K ? N : never }[keyof T & string];

/** One part of a label in the form: what stands there, where it stands, and how it is changed. */
export type At<T> = {
  readonly value: T;
  /** Its path in the terms: "doseLines.0.rate". */
  readonly path: string;
  set(change: Partial<T>): void;
  error(path: string): string | undefined;
};

function fieldOf<T, N extends keyof T & string>(at: At<T>, name: N) {
  const path = at.path === '' ? name : `${at.path}.${name}`;
  return {
    name: path,
    error: at.error(path),
    // The caller's type has seen to it that a value of this kind belongs under this name.
    onChange: (value: string | boolean | readonly string[]) => at.set({ [name]: value } as Partial<T>),
  };
}

/** What a field of a text needs: `<Field {...textOf(at, 'name')} label="Name" />`. */
export function textOf<T>(at: At<T>, name: NamesOf<T, string>): TextProps {
  return { ...fieldOf(at, name), value: at.value[name] as string };
}
export function tickOf<T>(at: At<T>, name: NamesOf<T, boolean>): TickProps {
  return { ...fieldOf(at, name), value: at.value[name] as boolean };
}
export function listOf<T>(at: At<T>, name: NamesOf<T, readonly string[]>): ListProps {
  return { ...fieldOf(at, name), value: at.value[name] as readonly string[] };
}

/** A part within a part: the rate of a dose line. */
export function partOf<T, N extends keyof T & string>(at: At<T>, name: N): At<T[N]> {
  return {
    value: at.value[name],
    path: at.path === '' ? name : `${at.path}.${name}`,
    error: at.error,
    // Both halves are of the type of the part, and only that one name is changed.
    set: (change) => at.set({ [name]: { ...at.value[name], ...change } } as Partial<T>),
  };
}

/** The rows of a list, each to be changed by itself; how to add one and how to take one out. */
export type Rows<R> = {
  readonly path: string;
  readonly all: readonly At<R>[];
  add(row: R): void;
  drop(n: number): void;
};

export function rowsOf<R>(
  path: string,
  rows: readonly R[],
  error: At<R>['error'],
  put: (rows: R[]) => void,
): Rows<R> {
  return {
    path,
    all: rows.map((value, n) => ({
      value,
      path: `${path}.${n}`,
      error,
      set: (change) => put(rows.map((row, m) => (m === n ? { ...row, ...change } : row))),
    })),
    add: (row) => put([...rows, row]),
    drop: (n) => put(rows.filter((_row, m) => m !== n)),
  };
}

/** Every field of the form by its path, with the text that stands in it. */
function fieldsOf(part: unknown, path: string, found: Record<string, string>): Record<string, string> {
  if (typeof part !== 'object' || part === null) found[path] = String(part);
  else {
    for (const [name, inner] of Object.entries(part)) {
      fieldsOf(inner, path === '' ? name : `${path}.${name}`, found);
    }
    // A choice of several is one field under the name of its list.
    if (Array.isArray(part) && path !== '') found[path] = '';
  }
  return found;
}

/** Where the desk has the terms inside its request, the form has them by themselves. */
function ownField(problem: Problem): Problem {
  if (problem.field === undefined) return problem;
  return { ...problem, field: problem.field.replace(/^(?:insert\.)?terms\./, '') };
}

export type LabelForm = {
  readonly draft: LabelDraft;
  readonly at: At<LabelDraft>;
  readonly read: ReadLabel;
  /** What `<Form>` needs of it. */
  readonly form: {
    readonly values: Readonly<Record<string, string>>;
    readonly isReady: boolean;
    readonly isRestored: boolean;
    readonly isTouched: boolean;
    readonly problems: readonly Problem[];
    readonly turn: number;
    show(problems: readonly Problem[]): void;
    drop(): Promise<void>;
  };
  /** The cursor has left a field: from now on what is wrong with it is said beside it. */
  leave(field: string): void;
};

const none: readonly LabelTerms[] = [];

/**
 * A label being typed, kept while unfinished under `keep`. What is wrong is said beside a field once the cursor has
 * left it, and everywhere once the form was sent; each goes away by itself when it is mended. `earlier` are the
 * labels the medicine had before, to ask about periods that became shorter.
 */
export function useLabel(
  keep: string,
  initial: LabelDraft,
  earlier: readonly LabelTerms[] = none,
): LabelForm {
  const kept = useDraft<LabelDraft>(keep, initial, (found) => {
    const parsed = labelDraftSchema.safeParse(found);
    return parsed.success
      ? { values: parsed.data, isRestored: JSON.stringify(parsed.data) !== JSON.stringify(initial) }
      : { values: initial, isRestored: false };
  });
  const [left, setLeft] = useState<readonly string[]>([]);
  const [told, setTold] = useState<{ isSent: boolean; fromDesk: readonly Problem[]; turn: number }>({
    isSent: false,
    fromDesk: [],
    turn: 0,
  });
  const draft = kept.value;
  const read = useMemo(() => readDraft(draft, earlier), [draft, earlier]);
  const found = 'problems' in read ? read.problems : [];
  const said = [
    ...(told.isSent ? found : found.filter((one) => left.includes(one.field ?? ''))),
    ...told.fromDesk,
  ];

  return {
    draft,
    read,
    at: {
      value: draft,
      path: '',
      error: (path) => said.find((one) => one.field === path)?.message,
      set: (change) => {
        kept.change((before) => ({ ...before, ...change }));
        if (told.fromDesk.length > 0) setTold({ ...told, fromDesk: [] });
      },
    },
    form: {
      values: useMemo(() => fieldsOf(draft, '', {}), [draft]),
      isReady: kept.isReady,
      isRestored: kept.isRestored,
      isTouched: JSON.stringify(draft) !== JSON.stringify(initial),
      problems: told.isSent ? said : told.fromDesk,
      turn: told.turn,
      show: (problems) => {
        const ours = found.map((one) => one.message);
        const fromDesk = problems.filter((one) => !ours.includes(one.message)).map(ownField);
        setTold((before) => ({
          isSent: problems.length > 0,
          fromDesk,
          turn: problems.length > 0 ? before.turn + 1 : before.turn,
        }));
      },
      drop: kept.drop,
    },
    leave: (field) => {
      if (field !== '' && !left.includes(field)) setLeft([...left, field]);
    },
  };
}
