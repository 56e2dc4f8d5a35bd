/**
 * How an answer was reached, as data: a code a program can match, the values with their units, and where the
 * rule comes from. `printWorking` in each area turns it into the lines a person would write to check it, when
 * it is shown, so that computing a hundred thousand doses prints nothing.
 */
export type Step = { code: string; values: Readonly<Record<string, string>>; source?: string | undefined };
export type Warning = { code: string; text: string };
/** A step as printed. */
export type WorkingLine = { code: string; text: string; source?: string };
