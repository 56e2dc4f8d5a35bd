import { expect, test } from 'vitest';
import { readAnimals } from '../../src-main/exchange/animals.ts';
import { guessColumns } from '../../src-main/exchange/guess.ts';
import { readTable } from '../../src-main/exchange/table.ts';
import { Refusal } from '../../src-shared/refusal.ts';

test('columns are known by the words of the trade', () => {
  const names = (header: string): unknown => guessColumns(header.split(','), []);
  expect(names('Ear Tag No.,EID,DOB,Live-weight (kg),Mob,Remarks,Gender,Dam')).toEqual({
    tag: 0,
    chip: 1,
    born: 2,
    weight: 3,
    group: 4,
    note: 5,
    sex: 6,
    dam: 7,
  });
  expect(
    names('Official number,Electronic ID,Management tag,Stock class,Date of birth,Date weighed,Bought from'),
  ).toEqual({
    tag: 0,
    chip: 1,
    management: 2,
    class: 3,
    born: 4,
    weighedOn: 5,
    from: 6,
  });
  expect(names('Ohrmarke,Geschlecht,Geburtsdatum,Gewicht,Gruppe')).toEqual({
    tag: 0,
    sex: 1,
    born: 2,
    weight: 3,
    group: 4,
  });
});

test('a column of chips named as tags is the chip, and short numbers are what the farm calls them', () => {
  expect(guessColumns(['Tag', 'Class'], [['826012345600001', 'ewe']])).toEqual({ chip: 0, class: 1 });
  expect(guessColumns(['Tag', 'Class'], [['17', 'ewe']])).toEqual({ management: 0, class: 1 });
});

test('an unnamed number or date is never guessed to be a weight or a birth', () => {
  expect(guessColumns(['A', 'B', 'C'], [['826012345600001', '62.5', '2021-03-04']])).toEqual({ chip: 0 });
});

test('the caller is told when columns make no sense', () => {
  const table = readTable('Tag,Class\nUK 0 123456 00001,ewe\n');
  const code = (columns: Parameters<typeof readAnimals>[1]): unknown => {
    try {
      return readAnimals(table, columns).counts;
    } catch (thrown) {
      return thrown instanceof Refusal ? thrown.code : thrown;
    }
  };
  expect(code({ class: 1 })).toBe('no-identity-column');
  expect(code({ tag: 0, class: 0 })).toBe('bad-columns');
  expect(code({ tag: 7 })).toBe('bad-columns');
});
