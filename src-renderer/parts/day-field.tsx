import type { ReactNode } from 'react';
import { attempt } from '../../src-shared/refusal.ts';
import { type Day, parseDay } from '../../src-shared/time/day.ts';
import type { TextProps } from '../hooks/use-form.ts';
import { Field } from './field.tsx';
import { dayInWords } from './words.ts';

/** The words for what stands in a day field, or nothing while it is no day. */
export function readBackDay(text: string): string | undefined {
  const parsed = attempt<Day>(() => parseDay(text, 'date'));
  return parsed.ok ? dayInWords(parsed.value) : undefined;
}

/** A day, read back in full words: the boxes of a browser differ between countries, the words do not. */
export function DayField(props: TextProps & { label: string; hint?: ReactNode; optional?: boolean }) {
  const words = readBackDay(props.value);
  return <Field {...props} type="date" size={12} {...(words === undefined ? {} : { readBack: words })} />;
}
