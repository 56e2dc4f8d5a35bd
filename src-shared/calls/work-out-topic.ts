import { z } from 'zod';
import { sayField } from '../quantity/field.ts';
import { Refusal } from '../refusal.ts';

/** A topic of the work-out calls: what it is asked, and the reply as plain data. One file a topic. */
export type Topic = {
  /** One sentence for the command host. */
  about: string;
  answer(ask: unknown): Record<string, unknown>;
};

/** A topic whose question is checked against a schema before it is answered. */
export function topic<S extends z.ZodType>(
  about: string,
  schema: S,
  answer: (ask: z.output<S>) => Record<string, unknown>,
): Topic {
  return { about, answer: (ask) => answer(checked(schema, ask)) };
}

/** What a person types, bounded so that nothing long is ever parsed. */
export const typedText = z.string().min(1).max(120);

function checked<S extends z.ZodType>(schema: S, ask: unknown): z.output<S> {
  const read = schema.safeParse(ask);
  if (read.success) return read.data;
  const issue = read.error.issues[0];
  throw issue === undefined
    ? new Refusal('bad-input', 'That question cannot be read.', { field: 'request' })
    : refusalOf(issue, ask);
}

function refusalOf(issue: z.core.$ZodIssue, ask: unknown): Refusal {
  const field = issue.path.map(String).join('.');
  if (issue.code === 'unrecognized_keys') {
    const key = issue.keys[0] ?? '';
    const path = field === '' ? key : `${field}.${key}`;
    return new Refusal(
      'bad-input',
      `“${key.slice(0, 40)}” is not a field of this question; check its spelling.`,
      {
        field: path,
      },
    );
  }
  if (field === '') {
    return new Refusal('bad-input', 'The question must be one JSON object in braces.', { field: 'request' });
  }
  // Where one of a few words is wanted, the words say more than that it is missing.
  const missing = issue.code !== 'invalid_value' && isMissing(ask, issue.path);
  return new Refusal('bad-input', `${sayField(field)}: ${missing ? 'it is missing.' : says(issue)}`, {
    field,
  });
}

/** Nothing stands where the issue points, whatever kinds of value would have fitted there. */
function isMissing(ask: unknown, path: readonly PropertyKey[]): boolean {
  let at: unknown = ask;
  for (const key of path) {
    if (typeof at !== 'object' || at === null || !Object.hasOwn(at, key)) return true;
    at = Reflect.get(at, key);
  }
  return at === undefined;
}

function says(issue: z.core.$ZodIssue): string {
  if (issue.code === 'invalid_type') {
    const expected = {
      string: 'text in quotes',
      array: 'a list',
      object: 'an object in braces',
      number: 'a number',
      boolean: 'true or false, without quotes',
    };
    return `it must be ${expected[issue.expected as keyof typeof expected] ?? 'of another kind'}.`;
  }
  if (issue.code === 'invalid_value') return `it must be one of ${issue.values.map(String).join(', ')}.`;
  if (issue.code === 'too_small') return 'it is empty.';
  if (issue.code === 'too_big') return 'it is too long.';
  if (issue.code === 'invalid_union') return 'it must be text in quotes or a number.';
  return issue.code === 'custom' ? issue.message : 'it does not fit.';
}
