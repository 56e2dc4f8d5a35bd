import type { Ask } from '../../../src-shared/calls/all.ts';
import { PICKED } from '../../../src-shared/dose/sample.ts';
import type { Problem } from '../../hooks/use-form.ts';
import type { PlanLine } from './plan-values.ts';

type Grouping = NonNullable<Ask<'plan-session'>['lines'][number]['grouping']>;

export const groupingOptions = [
  { value: '', label: 'Each by its own weight' },
  {
    value: 'heaviest',
    label: 'All to the heaviest',
    hint: 'one dose for everyone, rounded up; at most double what the lightest needs',
  },
  {
    value: 'drafted',
    label: 'Drafted by weight',
    hint: 'in parts by the gate, each part dosed to its heaviest',
  },
] as const;

export const pickedOptions = [
  { value: '', label: 'All were weighed, or only those that were get it' },
  { value: 'biggest', label: 'The biggest, by eye' },
  { value: 'random', label: 'At random', hint: 'drawn by lot, each equally likely' },
  { value: 'as-they-came', label: 'As they came', hint: 'the first through the gate' },
] as const;

export const partOptions = ['2', '3', '4'].map((value) => ({ value, label: value }));

/** The weights of a sample as they were typed, one a line or with a comma and a space or a semicolon between. */
export function sampleOf(text: string): string[] {
  return text
    .split(/[;\n]|,\s|\s+(?=[\d.,]+(?:\s|$|;|,\s))|(?<=[a-z])\s+(?=\d)/i)
    .map((part) => part.trim().replace(/,$/, ''))
    .filter((part) => part !== '');
}

function pickedOf(code: string): (typeof PICKED)[number] | undefined {
  return PICKED.find((one) => one === code);
}

/** How a line doses its animals together, as the desk takes it; nothing for each by its own weight. */
export function groupingOf(line: PlanLine): Grouping | undefined {
  const cap = line.cap.trim();
  const capped = cap === '' ? {} : { capPercent: cap };
  if (line.grouping === 'drafted') {
    const gate = line.gate.trim();
    return {
      how: 'drafted',
      parts: partOptions.some(({ value }) => value === line.parts) ? Number(line.parts) : 2,
      ...capped,
      ...(gate === '' ? {} : { gate }),
    };
  }
  if (line.grouping !== 'heaviest') return undefined;
  const picked = pickedOf(line.picked);
  return {
    how: 'heaviest',
    ...(picked === undefined ? {} : { picked }),
    sample: picked === undefined ? [] : sampleOf(line.sample),
    ...capped,
  };
}

/** What is still wrong with how a line is dosed together. */
export function groupingProblems(line: PlanLine, field: string): Problem[] {
  if (line.grouping === '' || line.cap.trim() === '' || /^\d{1,3}([.]\d{1,3})?\s*%?$/.test(line.cap.trim()))
    return [];
  return [{ field: `${field}-cap`, message: 'Write the most they may get over in percent, as in 100.' }];
}
