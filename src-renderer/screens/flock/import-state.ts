import type { Ask, Reply } from '../../../src-shared/calls/all.ts';

/** What a file of animals and a file of weights have in common while it is looked at before it is taken. */

export type Preview = Reply<'preview-animals'>;
export type FileQuestion = Preview['questions'][number];
export type AnimalOptions = NonNullable<Ask<'preview-animals'>['options']>;
export type WeighOptions = NonNullable<Ask<'preview-weighings'>['options']>;

/** A question and what was answered to it so far. `key` tells one question about a word from the next. */
export type Asked = { readonly key: string; readonly question: FileQuestion; readonly answer: string };

/** Names one question: its code with the word it is about, and its sentence where the same is asked twice. */
export function keyOfQuestion(question: FileQuestion): string {
  const code = question.code.replace(/^ask:/, '');
  return code === 'weight-unit' ? `${code} ${question.message}` : `${code} ${question.word ?? ''}`;
}

/** The questions shown: those answered stay to be changed, those open stand behind them, others go. */
export function mergeQuestions(before: readonly Asked[], open: readonly FileQuestion[]): readonly Asked[] {
  // Which column holds what is answered by the pickers, not here.
  const answerable = open.filter((question) => question.code !== 'ask:columns');
  const fresh = new Map(answerable.map((question) => [keyOfQuestion(question), question]));
  const kept = before
    .filter((one) => one.answer !== '' || fresh.has(one.key))
    .map((one) => ({ ...one, question: fresh.get(one.key) ?? one.question }));
  const known = new Set(kept.map((one) => one.key));
  const added = [...fresh]
    .filter(([key]) => !known.has(key))
    .map(([key, question]) => ({ key, question, answer: '' }));
  return [...kept, ...added];
}

/**
 * The answers as the desk wants them. A unit that is asked about again in the same words after it was answered
 * is sure: the person looked at what speaks against it and said so.
 */
export function optionsOf(
  asked: readonly Asked[],
  stillOpen: ReadonlySet<string>,
): AnimalOptions & WeighOptions {
  const options: AnimalOptions & WeighOptions = {};
  const classWords: Record<string, string> = {};
  const sexWords: Record<string, string> = {};
  for (const { key, question, answer } of asked) {
    if (answer === '') continue;
    const code = question.code.replace(/^ask:/, '');
    if (code === 'date-order') Object.assign(options, { dateOrder: answer });
    if (code === 'decimal') Object.assign(options, { decimal: answer });
    if (code === 'weight-unit') {
      Object.assign(options, { weightUnit: answer }, stillOpen.has(key) ? { unitIsSure: true } : {});
    }
    if (code === 'default-class') Object.assign(options, { defaultClass: answer });
    if (code === 'weight-check') Object.assign(options, { oddWeights: answer });
    if (code === 'weight-jump') Object.assign(options, { jumps: answer });
    if (code === 'day') Object.assign(options, { day: answer });
    if (code === 'degrees-unit') Object.assign(options, { degrees: answer });
    if (code === 'clock') Object.assign(options, { clock: answer });
    if (code === 'class' && question.word !== undefined) classWords[question.word] = answer;
    if (code === 'sex' && question.word !== undefined) sexWords[question.word] = answer;
  }
  // The choices came from the desk with the question, which checks them again.
  if (Object.keys(classWords).length > 0) Object.assign(options, { classWords });
  if (Object.keys(sexWords).length > 0) Object.assign(options, { sexWords });
  return options;
}

const choiceWords: Readonly<Record<string, string>> = {
  dmy: 'Day, month, year',
  mdy: 'Month, day, year',
  ymd: 'Year, month, day',
  kg: 'Kilograms (kg)',
  lb: 'Pounds (lb)',
  '.': 'The point begins the part below one',
  ',': 'The comma begins the part below one',
  both: 'Both do, each in its own line',
  C: 'Degrees Celsius (°C)',
  F: 'Degrees Fahrenheit (°F)',
  farm: 'It changes with the clocks of the farm',
  kept: 'It kept the time it was started with',
  utc: 'It runs in UTC',
  take: 'They are right: take them',
  without: 'Take the animals without these weights',
  female: 'Female',
  male: 'Male',
  castrated: 'Castrated',
};

/** A choice in words. To refuse says what is refused. */
export function sayChoice(code: string, choice: string): string {
  if (choice === 'refuse') {
    return code === 'class' || code === 'sex'
      ? 'None of these: leave its lines out'
      : 'Leave these lines out';
  }
  const word = choiceWords[choice] ?? choice.replace('-', ' ');
  return `${word.slice(0, 1).toUpperCase()}${word.slice(1)}`;
}

/** "240 lines in the file = 238 taken + 1 refused + 1 already there." */
export function sayTotals(totals: Preview['totals'], isAsking: boolean): string {
  const n = (value: number) => value.toLocaleString('en-GB');
  const lines = `${n(totals.in)} ${totals.in === 1 ? 'line' : 'lines'} in the file`;
  if (isAsking) return `${lines}. None is taken before the questions are answered.`;
  return `${lines} = ${n(totals.taken)} taken + ${n(totals.refused)} refused + ${n(totals.alreadyThere)} already there.`;
}

/** What becomes of a row, in a word. */
export function sayState(row: Preview['rows'][number]): string {
  if (row.waiting === true) return 'Waits';
  return { taken: 'Taken', refused: 'Refused', 'already-there': 'Already there' }[row.state];
}
