import { describe, expect, it, test } from 'vitest';
import { sayDates } from '../../src-renderer/screens/flock/dates-words.ts';
import { shownColumns, standing } from '../../src-renderer/screens/flock/flock-columns.tsx';
import {
  alsoHeld,
  heldAlike,
  isAsleep,
  runningOf,
  sayHeld,
} from '../../src-renderer/screens/flock/held-words.ts';
import {
  type FileQuestion,
  keyOfQuestion,
  mergeQuestions,
  optionsOf,
  sayChoice,
  sayState,
  sayTotals,
} from '../../src-renderer/screens/flock/import-state.ts';
import { headsOf, sayLocal, sayWho } from '../../src-renderer/screens/flock/words.ts';

const question = (code: string, more: Partial<FileQuestion> = {}): FileQuestion => ({
  code: `ask:${code}`,
  message: `about ${code}`,
  choices: [],
  lines: [],
  ...more,
});
const none = new Set<string>();

test('an answered question stays to be changed; one that is gone unanswered goes', () => {
  const dates = question('date-order');
  const gimmer = question('class', { word: 'gimmer' });
  const theave = question('class', { word: 'theave' });
  const begun = mergeQuestions([], [dates, gimmer, theave]);
  expect(begun.map((one) => one.key)).toEqual(['date-order ', 'class gimmer', 'class theave']);
  const answered = begun.map((one) => (one.question === dates ? { ...one, answer: 'dmy' } : one));
  // The desk no longer asks about the dates, and a column was changed so that only one word is left.
  expect(mergeQuestions(answered, [theave]).map((one) => [one.key, one.answer])).toEqual([
    ['date-order ', 'dmy'],
    ['class theave', ''],
  ]);
});

test('which column holds what is answered by the pickers and is no question of the list', () => {
  expect(mergeQuestions([], [question('columns'), question('day')]).map((one) => one.key)).toEqual(['day ']);
});

test('answers become the options of the call, each word its own', () => {
  const asked = [
    { question: question('date-order'), answer: 'mdy' },
    { question: question('class', { word: 'gimmer' }), answer: 'hogg' },
    { question: question('class', { word: 'theave' }), answer: 'refuse' },
    { question: question('sex', { word: 'x' }), answer: 'female' },
    { question: question('weight-check'), answer: 'take' },
    { question: question('weight-jump'), answer: 'refuse' },
    { question: question('decimal'), answer: '' },
  ].map((one) => ({ ...one, key: keyOfQuestion(one.question) }));
  expect(optionsOf(asked, none)).toEqual({
    dateOrder: 'mdy',
    classWords: { gimmer: 'hogg', theave: 'refuse' },
    sexWords: { x: 'female' },
    oddWeights: 'take',
    jumps: 'refuse',
  });
});

test('a unit answered once is not sure; asked again in the same words it is', () => {
  const unit = question('weight-unit', { message: 'More than half would weigh over 110 kg; kg or lb?' });
  const asked = [{ key: keyOfQuestion(unit), question: unit, answer: 'kg' }];
  expect(optionsOf(asked, none)).toEqual({ weightUnit: 'kg' });
  expect(optionsOf(asked, new Set([keyOfQuestion(unit)]))).toEqual({ weightUnit: 'kg', unitIsSure: true });
  const other = question('weight-unit', { message: 'Are these weights in kg or lb?' });
  expect(keyOfQuestion(other)).not.toBe(keyOfQuestion(unit));
});

test('totals add up in words, and say that nothing is taken while something is asked', () => {
  const totals = { in: 1240, taken: 1238, refused: 1, alreadyThere: 1 };
  expect(sayTotals(totals, false)).toBe(
    '1,240 lines in the file = 1,238 taken + 1 refused + 1 already there.',
  );
  expect(sayTotals(totals, true)).toBe(
    '1,240 lines in the file. None is taken before the questions are answered.',
  );
});

test('a line that only waits for an answer is not called refused', () => {
  const row = { line: 2, state: 'refused', shown: 'x' } as const;
  expect(sayState(row)).toBe('Refused');
  expect(sayState({ ...row, waiting: true })).toBe('Waits');
  expect(sayState({ ...row, state: 'already-there' })).toBe('Already there');
});

test('choices are said in words, and to refuse says what is left out', () => {
  expect(sayChoice('date-order', 'dmy')).toBe('Day, month, year');
  expect(sayChoice('class', 'ewe-lamb')).toBe('Ewe lamb');
  expect(sayChoice('class', 'refuse')).toBe('None of these: leave its lines out');
  expect(sayChoice('weight-check', 'refuse')).toBe('Leave these lines out');
});

test('who it is, in one line: an animal by its own weight, a lot by that of a head', () => {
  const ewe = {
    subject: 'animal:1',
    shown: 'UK 0 123456 00001',
    class: 'ewe',
    heads: 1,
    sex: 'female',
    born: '2021-03-25',
    milking: true,
    present: true,
    weight: '62.5 kg',
    weighedOn: '2026-02-14T09:01',
  };
  expect(sayWho({ who: ewe, origin: 'bought', cameOn: '2026-01-02' })).toBe(
    'Ewe, female, born 25 Mar 2021, in milk, bought 2 Jan 2026. 62.5 kg on 14 Feb 2026, 09:01.',
  );
  const lot = {
    subject: 'lot:1',
    shown: 'Store lambs',
    class: 'ewe-lamb',
    heads: 1200,
    milking: false,
    present: true,
  };
  expect(sayWho({ who: lot, origin: 'own' })).toBe('1,200 head, class ewe lamb. No weight is on record.');
});

test('how one stands is said in a word or a day, and never called clear before it is known', () => {
  const row = { subject: 'animal:1', milking: false };
  const held = (clear?: string) => new Map([['animal:1', clear === undefined ? {} : { clear }]]);
  expect(standing(row, 'meat', undefined)).toBe('');
  expect(standing(row, 'meat', new Map())).toBe('clear');
  expect(standing(row, 'meat', held('2026-12-09T00:00:00+00:00'))).toBe('until 9 Dec 2026');
  expect(standing(row, 'meat', held('2026-12-09T14:05:00+00:00'))).toBe('until 9 Dec 2026, 14:05');
  expect(standing(row, 'meat', held())).toBe('no date');
  expect(standing(row, 'milk', held('2026-12-09T00:00:00+00:00'))).toBe('not in milk');
  expect(standing({ ...row, milking: true }, 'milk', held())).toBe('no date');
});

test('the list of the flock has no column in which nobody has anything', () => {
  const row = { subject: 'animal:1', shown: 'UK 9 1', class: 'ewe', heads: 1, milking: false, present: true };
  const heads = (
    rows: Parameters<typeof shownColumns>[0],
    milk: ReadonlyMap<string, object> | 'none' = 'none',
  ) => shownColumns(rows, undefined, milk).map((column) => column.head);
  expect(heads([{ ...row, chip: '826099999900001' }])).toEqual(['Tag or lot', 'Meat', 'Class']);
  expect(heads([row, { ...row, subject: 'lot:1', heads: 40, management: '7' }], new Map())).toEqual([
    'Tag or lot',
    'Meat',
    'Milk',
    'Own number',
    'Class',
    'Head',
  ]);
});

test('heads are whole numbers and nothing else', () => {
  expect([
    headsOf('40'),
    headsOf(' 1,200 '),
    headsOf('4.5'),
    headsOf('-4'),
    headsOf(''),
    headsOf('many'),
  ]).toEqual([40, 1200, undefined, undefined, undefined, undefined]);
});

test('a day is read without doubt, and what is none stays as it is', () => {
  expect([sayLocal('2026-04-12'), sayLocal('2026-04-12T09:05'), sayLocal(''), sayLocal('soon')]).toEqual([
    '12 Apr 2026',
    '12 Apr 2026, 09:05',
    '',
    'soon',
  ]);
});

describe('who is held, together', () => {
  const why = (produce: string, state: string, text: string, more: { product?: string } = {}) =>
    ({ hold: { produce, state, text, ...more }, isRunning: true, reason: `by ${text}` }) as never;
  const who = (shown: string, ...rows: never[]) => ({ subject: `animal:${shown}`, shown, rows }) as never;
  const meat = why('meat', 'until', 'Meat held until 9 Dec 2026 (Calverol drench, 28 d)', {
    product: 'Calverol drench',
  });
  const asleep = why('milk', 'dormant', 'Milk: not in milk; if it comes into milk, held for life');

  it('by meat first, and last who would only be held in milk', () => {
    const groups = heldAlike([who('1', asleep), who('2', asleep, meat), who('3', asleep)], true);
    expect(groups.map((alike) => alike.map(({ shown }) => shown))).toEqual([['2'], ['1', '3']]);
    expect(groups.map(([first]) => isAsleep(runningOf(first, true)))).toEqual([false, true]);
  });

  it('and a farm that takes no milk is told of meat alone', () => {
    const groups = heldAlike([who('1', asleep), who('2', asleep, meat)], false);
    expect(groups.map((alike) => alike.map(({ shown }) => shown))).toEqual([['2']]);
  });

  it('each sentence once, and a cause that is no treatment not twice', () => {
    expect(alsoHeld([asleep, asleep])).toBe('Milk: not in milk; if it comes into milk, held for life.');
    expect(sayHeld(meat).text).toBe('Meat held until 9 Dec 2026 (Calverol drench, 28 d)');
    expect(sayHeld(why('meat', 'unknown', 'Meat held; no period is stated (came in bought)')).text).toBe(
      'Meat held; no period is stated',
    );
  });
});

test('the two ends of a span of a group are said in one breath', () => {
  expect(sayDates({ lambingFrom: '2027-03-28', lambingTo: '2027-04-20', dueAwayTo: '2026-12-12' })).toBe(
    'lambing from 28 Mar 2027 to 20 Apr 2027 and due away to 12 Dec 2026',
  );
});
