import { expect, test } from 'vitest';
import type { ImportedAnimal } from '../../src-main/exchange/animal-row.ts';
import { type AnimalOptions, type AnimalsRead, readAnimals } from '../../src-main/exchange/animals.ts';
import { guessColumns } from '../../src-main/exchange/guess.ts';
import { readTable } from '../../src-main/exchange/table.ts';
import { writeCsv } from '../../src-main/exchange/write.ts';
import { outcomes, sampleOf, tableOf } from './fixture.ts';

function readFlock(name: string, options: AnimalOptions = {}): AnimalsRead {
  const table = tableOf(name);
  return readAnimals(table, guessColumns(table.header, sampleOf(table)), options);
}

function readText(text: string, options: AnimalOptions = {}): AnimalsRead {
  const table = readTable(text);
  return readAnimals(table, guessColumns(table.header, sampleOf(table)), options);
}

function taken(read: AnimalsRead): ImportedAnimal[] {
  return read.rows.flatMap((row) => (row.state === 'taken' ? [row.animal] : []));
}

/** The promise of every import: nothing in the file goes missing. */
function expectNothingLost(read: AnimalsRead, rowsInFile: number): void {
  const { counts } = read;
  expect(counts.in).toBe(rowsInFile);
  expect(counts.taken + counts.refused + counts.waiting + counts.already).toBe(rowsInFile);
  if (read.questions.length > 0) expect(counts.taken).toBe(0);
  else expect(counts.waiting).toBe(0);
  for (const row of read.rows) {
    if (row.state !== 'refused') continue;
    expect(row.message).toMatch(/\.$/);
    expect(row.cells.length).toBeGreaterThan(0);
  }
}

const flock = readFlock('flock-utf8.csv');

test('every word of a row arrives where it belongs', () => {
  expectNothingLost(flock, 6);
  expect(taken(flock)[1]).toEqual({
    shown: 'UK 0 123456 00002',
    keys: ['826012345600002'],
    tag: 'UK 0 123456 00002',
    chip: '826012345600002',
    class: 'ewe',
    sex: 'female',
    born: '2020-04-02',
    dam: 'UK 0 123456 00900',
    group: 'Clos Élanne',
    weight: { value: '71', unit: 'kg' },
    weighedOn: '2026-02-14',
  });
  expect(taken(flock).map((animal) => animal.class)).toEqual([
    'ewe',
    'ewe',
    'ram',
    'ewe-lamb',
    'ram-lamb',
    'wether',
  ]);
  expect(taken(flock)[5]?.note).toBe('line one\nline two');
});

test.each([
  'flock-utf8-bom.csv',
  'flock-utf16le.csv',
  'flock-utf16be.csv',
  'flock-utf16le-unmarked.csv',
  'flock-utf16be-unmarked.csv',
  'flock-windows-1252.csv',
  'flock-semicolon.csv',
  'flock-sep-line.csv',
  'flock-tab.csv',
  'flock-bar-old-mac.csv',
  'flock-chips-spaced.csv',
])('the same flock is the same animals, whichever program saved it: %s', (name) => {
  const read = readFlock(name);
  expectNothingLost(read, 6);
  expect(taken(read)).toEqual(taken(flock));
});

test('without names of columns only what speaks for itself is read, and the rest is named', () => {
  const read = readFlock('flock-no-header.csv');
  expectNothingLost(read, 6);
  expect(taken(read).map((animal) => animal.chip)).toEqual(taken(flock).map((animal) => animal.chip));
  expect(taken(read)[0]?.born).toBeUndefined();
  expect(read.notes.find((note) => note.code === 'columns-unread')?.text).toContain('“Column 5”');
});

test('a number that a spreadsheet spoilt never becomes an animal, and the reason is given', () => {
  const read = readFlock('flock-spreadsheet-damage.csv');
  expectNothingLost(read, 14);
  expect(outcomes(read)).toEqual([
    '2 taken',
    '3 refused chip spreadsheet-number',
    '4 refused chip spreadsheet-number',
    '5 refused chip spreadsheet-rounded',
    '6 refused chip spreadsheet-point',
    '7 refused chip spreadsheet-narrow',
    '8 refused chip zero-lost',
    '9 refused management zero-lost',
    '10 refused born date-serial',
    '11 taken',
    '12 refused chip spreadsheet-error',
    '13 refused management spreadsheet-date',
    '14 refused born spreadsheet-narrow',
    '15 refused born date-impossible',
  ]);
  expect(taken(read)[1]?.chip).toBe('826012345600010');
});

test('one animal is not entered twice, and neither of two stories about it is believed', () => {
  const read = readFlock('flock-duplicates.csv');
  expectNothingLost(read, 7);
  expect(outcomes(read)).toEqual([
    '2 taken',
    '3 refused tag duplicate',
    '4 refused tag repeated-row',
    '5 refused chip duplicate',
    '6 taken',
    '7 refused chip tag-chip-differ',
    '8 taken',
  ]);
  const [, second, third, fourth] = read.rows;
  expect(second).toMatchObject({ message: expect.stringContaining('line 5') });
  expect(third).toMatchObject({ message: expect.stringContaining('line 2') });
  expect(fourth).toMatchObject({ message: expect.stringContaining('line 3') });
});

test('a tag and its chip in one row are one animal; a chip with a code of its maker is a second key', () => {
  const read = readFlock('flock-duplicates.csv');
  expect(taken(read).map((animal) => animal.keys)).toEqual([
    ['826012345600001'],
    ['826012345600003'],
    ['826012345600006', '982000123456789'],
  ]);
});

test('a row with a cell too few does not give a ewe the wrong group', () => {
  const read = readFlock('flock-ragged.csv');
  expectNothingLost(read, 8);
  expect(read.blankLines).toEqual([7]);
  expect(outcomes(read)).toEqual([
    '2 taken',
    '3 refused row ragged',
    '5 refused row ragged',
    '6 taken',
    '8 refused row lines-run-together',
    '9 refused row lines-run-together',
    '10 refused row lines-run-together',
    '11 taken',
  ]);
});

test('3 April is not taken for 4 March: the order of the column is asked', () => {
  const read = readFlock('flock-ambiguous-dates.csv');
  expectNothingLost(read, 3);
  expect(read.questions).toEqual([
    {
      code: 'date-order',
      field: 'born',
      message: 'Is “03/04/2021” on line 2 written day/month/year or month/day/year?',
      choices: ['dmy', 'mdy'],
    },
  ]);
  const born = (dateOrder: 'dmy' | 'mdy'): unknown =>
    taken(readFlock('flock-ambiguous-dates.csv', { dateOrder })).map((animal) => animal.born);
  expect(born('dmy')).toEqual(['2021-04-03', '2021-06-05', '2020-11-12']);
  expect(born('mdy')).toEqual(['2021-03-04', '2021-05-06', '2020-12-11']);
});

const born = (dates: string[], options: AnimalOptions = {}): AnimalsRead =>
  readText(
    `Tag,Class,Born\n${dates.map((date, i) => `UK 0 123456 0000${i + 1},ewe,"${date}"\n`).join('')}`,
    options,
  );

test('one date that can only be read one way settles its column, and the preview says which line told', () => {
  const read = born(['03/04/2021', '25/04/2021']);
  expect(taken(read).map((animal) => animal.born)).toEqual(['2021-04-03', '2021-04-25']);
  expect(read.notes).toContainEqual({
    code: 'date-order',
    text: 'Dates were read as day/month/year, as line 3 can only be.',
  });
});

test('dates in both orders in one column are asked about, and the odd ones out are refused', () => {
  const dates = ['25/04/2021', '04/25/2021', '03/04/2021'];
  expect(born(dates).questions.map((question) => question.choices)).toEqual([['dmy', 'mdy']]);
  expect(outcomes(born(dates, { dateOrder: 'dmy' }))).toEqual([
    '2 taken',
    '3 refused born date-order',
    '4 taken',
  ]);
});

test('dates that mean one day in any order ask nothing', () => {
  expect(
    taken(born(['03/03/2021', '2021-04-05', '4 Mar 2021', '5-mai-21'])).map((animal) => animal.born),
  ).toEqual(['2021-03-03', '2021-04-05', '2021-03-04', '2021-05-05']);
});

test('a year of two digits in front is a third way to read a date', () => {
  expect(born(['04/03/26']).questions[0]?.choices).toEqual(['dmy', 'mdy', 'ymd']);
});

test('a birth after today is refused', () => {
  expect(outcomes(born(['2031-01-01'], { today: '2026-03-01' }))).toEqual(['2 refused born date-in-future']);
});

test('620 for 62.0 and 6.2 for 62 do not become a dose: their lines are asked about', () => {
  const read = readFlock('flock-odd-weights.csv');
  expectNothingLost(read, 6);
  expect(read.questions).toMatchObject([
    { code: 'weight-check', field: 'weight', lines: [3, 4, 5, 6], choices: ['take', 'without', 'refuse'] },
  ]);
  expect(outcomes(readFlock('flock-odd-weights.csv', { oddWeights: 'take' }))).toEqual([
    '2 taken',
    '3 taken',
    '4 taken',
    '5 refused weight weight-odd',
    '6 refused weight weight-odd',
    '7 taken',
  ]);
  const without = readFlock('flock-odd-weights.csv', { oddWeights: 'without' });
  expectNothingLost(without, 6);
  expect(taken(without).map((animal) => animal.weight?.value)).toEqual([
    '62',
    undefined,
    undefined,
    undefined,
    undefined,
    '6.2',
  ]);
  expect(readFlock('flock-odd-weights.csv', { oddWeights: 'refuse' }).counts).toMatchObject({
    taken: 2,
    refused: 4,
  });
});

const weighed = (header: string, weights: string[], options: AnimalOptions = {}): AnimalsRead =>
  readText(
    `Tag;Class;${header}\n${weights.map((w, i) => `UK 0 123456 0000${i + 1};ewe;${w}\n`).join('')}`,
    options,
  );

test('pounds are not taken for kilograms: a unit that nobody states is asked', () => {
  const read = weighed('Weight', ['62', '71']);
  expectNothingLost(read, 2);
  expect(read.questions.map((question) => question.code)).toEqual(['weight-unit']);
  expect(taken(weighed('Weight', ['62', '71'], { weightUnit: 'lb' }))[0]?.weight).toEqual({
    value: '62',
    unit: 'lb',
  });
  expect(taken(weighed('Weight', ['62 kg', '137 lb'])).map((animal) => animal.weight?.unit)).toEqual([
    'kg',
    'lb',
  ]);
});

test('an answer against the name of the column is asked once more', () => {
  const options: AnimalOptions = { weightUnit: 'kg' };
  expect(weighed('Weight (lb)', ['62'], options).questions.map((q) => q.code)).toEqual(['weight-unit']);
  expect(
    taken(weighed('Weight (lb)', ['62'], { ...options, confirmed: ['weight-unit'] }))[0]?.weight,
  ).toEqual({
    value: '62',
    unit: 'kg',
  });
});

test('a cell that denies the unit of its column is refused', () => {
  expect(outcomes(weighed('Weight (kg)', ['62', '137 lb']))).toEqual([
    '2 taken',
    '3 refused weight weight-unit',
  ]);
});

test('a decimal comma is not dropped: 62,5 never becomes 625', () => {
  expect(taken(weighed('Weight kg', ['62,5', '71']))[0]?.weight?.value).toBe('62.5');
  const mixed = weighed('Weight kg', ['62,5', '71.5']);
  expectNothingLost(mixed, 2);
  expect(mixed.questions.map((question) => question.code)).toEqual(['decimal']);
  expect(outcomes(weighed('Weight kg', ['62,5', '71.5'], { decimal: '.' }))).toEqual([
    '2 refused weight decimal',
    '3 taken',
  ]);
  expect(weighed('Weight kg', ['62,5', '71.5'], { decimal: 'both' }).counts.taken).toBe(2);
  expect(outcomes(weighed('Weight kg', ['1,062.5', '71']))).toEqual([
    '2 refused weight weight-thousands',
    '3 taken',
  ]);
});

test('a word that means one thing here and another there is asked, not guessed', () => {
  const name = 'flock-unknown-words.csv';
  const read = readFlock(name);
  expectNothingLost(read, 7);
  expect(read.questions.map((q) => [q.code, q.word, q.lines])).toEqual([
    ['class', 'gimmer', [2, 3]],
    ['class', 'theave', [4]],
    ['sex', '?', [5]],
  ]);
  const answered = readFlock(name, {
    classWords: { Gimmer: 'hogg', theave: 'refuse' },
    sexWords: { '?': 'female' },
  });
  expectNothingLost(answered, 7);
  expect(outcomes(answered)).toEqual([
    '2 taken',
    '3 taken',
    '4 refused class class-refused',
    '5 taken',
    '6 refused sex class-sex',
    '7 refused class class-missing',
    '8 taken',
  ]);
  expect(taken(answered)[1]?.class).toBe('hogg');
});

test('a flock without a class is not made a flock of ewes', () => {
  const text = 'Tag\nUK 0 123456 00001\nUK 0 123456 00002\n';
  const read = readText(text);
  expectNothingLost(read, 2);
  expect(read.questions.map((question) => question.code)).toEqual(['default-class']);
  expect(taken(readText(text, { defaultClass: 'wether' })).map((animal) => animal.class)).toEqual([
    'wether',
    'wether',
  ]);
});

test('an animal is not its own mother and is not weighed before it is born', () => {
  const read = readText(
    `Tag,Class,Dam,Born,Weight kg,Weighed on
UK 0 123456 00001,ewe,826012345600001,2021-03-01,60,2026-01-01
UK 0 123456 00002,ewe,,2021-03-01,60,2020-01-01
UK 0 123456 00003,ewe,8.26E+14,2021-03-01,60,2026-01-01
`,
  );
  expectNothingLost(read, 3);
  expect(outcomes(read)).toEqual([
    '2 refused dam own-dam',
    '3 refused weighedOn weighed-before-born',
    '4 refused dam spreadsheet-number',
  ]);
});

test('two animals under one number of the farm are remarked on', () => {
  const read = readText('Tag,Management,Class\nUK 0 123456 00001,17,ewe\nUK 0 123456 00002,17,ewe\n');
  expect(read.counts.taken).toBe(2);
  expect(read.notes.map((note) => note.code)).toEqual(['management-shared']);
  expect(outcomes(readText('Management,Class\n17,ewe\n17,ram\n'))).toEqual([
    '2 refused management duplicate',
    '3 refused management duplicate',
  ]);
});

test('a row that names no animal is refused, and so is half a tag', () => {
  const read = readText(
    'Tag,Class,Group\n,ewe,Upper\nUK 123456,ewe,Upper\n12,ewe,Upper\nUK 0 123456 00003,ewe,Upper\nUK 0 123456 00004,ewe,\nUK 0 123456 00005,ewe,\n',
  );
  expectNothingLost(read, 6);
  expect(outcomes(read).slice(0, 4)).toEqual([
    '2 refused tag no-identity',
    '3 refused tag flock-mark-only',
    '4 refused tag not-a-tag',
    '5 taken',
  ]);
});

test('20,000 animals are read while a person waits, and each of them arrives', () => {
  const digits = (i: number): string => String(i + 1).padStart(5, '0');
  const rows = Array.from({ length: 20_000 }, (_, i) => [
    `UK 0 123456 ${digits(i)}`,
    `8260123456${digits(i)}`,
    i % 40 === 0 ? 'tup' : 'ewe',
    '25/03/2021',
    'Haut-Élanne',
    `${55 + (i % 40)}.5`,
    '14/02/2026',
  ]);
  const text = writeCsv(['Tag', 'EID', 'Class', 'Born', 'Group', 'Weight kg', 'Weighed on'], rows);
  const started = performance.now();
  const read = readText(text);
  const took = performance.now() - started;
  console.log(`readTable and readAnimals: 20,000 rows in ${Math.round(took)} ms`);
  expectNothingLost(read, 20_000);
  expect(read.counts.taken).toBe(20_000);
  expect(taken(read)[19_999]?.keys).toEqual(['826012345620000']);
  expect(took).toBeLessThan(10_000);
});
