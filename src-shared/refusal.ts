/**
 * The one way anything in Foldbook says no: a code for programs, a field to put the cursor in, one sentence
 * a farmer understands, and what to do next. Shared code throws it; the desk turns it into an envelope.
 */
export class Refusal extends Error {
  readonly code: string;
  readonly field: string | undefined;
  readonly next: string | undefined;

  constructor(
    code: string,
    message: string,
    more: { field?: string | undefined; next?: string | undefined } = {},
  ) {
    super(message);
    this.name = 'Refusal';
    this.code = code;
    this.field = more.field;
    this.next = more.next;
  }
}

/** What crosses between screen and desk when something is refused. */
export type Fault = { code: string; message: string; field?: string; next?: string };

/** What every call answers. */
export type Outcome<T> = { ok: true; value: T } | { ok: false; error: Fault };

/** The fault that a refusal stands for; anything else is not ours to explain and is thrown on. */
export function faultOf(thrown: unknown): Fault {
  if (!(thrown instanceof Refusal)) throw thrown;
  return {
    code: thrown.code,
    message: thrown.message,
    ...(thrown.field === undefined ? {} : { field: thrown.field }),
    ...(thrown.next === undefined ? {} : { next: thrown.next }),
  };
}

/** Runs shared code and answers in an envelope: for previews on a screen and for the desk alike. */
export function attempt<T>(work: () => T): Outcome<T> {
  try {
    return { ok: true, value: work() };
  } catch (thrown) {
    return { ok: false, error: faultOf(thrown) };
  }
}
