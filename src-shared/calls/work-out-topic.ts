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
  throw issue === undefined ? new Refusal('bad-input', 'That question cannot be read.') : refusalOf(issue);
}

function refusalOf(issue: z.core.$ZodIssue): Refusal {
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
  if (field === '') return new Refusal('bad-input', 'The question must be one JSON object in braces.');
  return new Refusal('bad-input', `${sayField(field)}: ${says(issue)}`, { field });
}

function says(issue: z.core.$ZodIssue): string {
  if (issue.code === 'invalid_type') {
    if (issue.input === undefined && issue.message.includes('undefined')) return 'it is missing.';
    const expected = {
      string: 'text in quotes',
      array: 'a list',
      object: 'an object in braces',
      number: 'a number',
    };
    return `it must be ${expected[issue.expected as keyof typeof expected] ?? 'of another kind'}.`;
  }
  if (issue.code === 'invalid_value') return `it must be one of ${issue.values.map(String).join(', ')}.`;
  if (issue.code === 'too_small') return 'it is empty.';
  if (issue.code === 'too_big') return 'it is too long.';
  return issue.code === 'custom' ? issue.message : 'it does not fit.';
}
