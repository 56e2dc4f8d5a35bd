import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { bytesOf } from '../exchange/fixture.ts';
import { type FlockBook, flockBook } from './flock-book.ts';

let book: FlockBook;
beforeEach(() => {
  book = flockBook();
});
afterEach(() => book.close());

const fixture = (name: string) => book.file(bytesOf(name));
const importing = (file: { token: string }, more: object = {}) =>
  ({ holding: 'h1', standing: 'none-running', file, ...more }) as const;
const found = (read: string) => book.call('find-subject', { read }).found;

describe('taking an import of animals back', () => {
  test('leaves nothing of it when nothing else is known of its animals', () => {
    const made = book.call('import-animals', {
      ...importing(fixture('flock-utf8.csv')),
      standing: 'unknown',
    });
    expect(book.call('imports', {}).imports).toMatchObject([
      { import: made.import, what: 'animals', on: '2026-04-12T11:00', rows: 6 },
    ]);
    expect(book.call('withdraw-import', { import: made.import, reason: 'wrong file' })).toEqual({
      withdrawn: 6,
      left: [],
    });
    for (const table of ['animal', 'identity', 'weighing', 'hold', 'flock_group', 'member']) {
      expect([table, book.count(table)]).toEqual([table, 0]);
    }
    expect(book.call('imports', {}).imports).toEqual([]);
    expect(book.refused('withdraw-import', { import: made.import, reason: 'again' }).code).toBe(
      'no-such-import',
    );
    expect(book.call('import-animals', importing(fixture('flock-utf8.csv'))).totals.taken).toBe(6);
  });

  test('leaves animals that have later entries, with their groups, and says why', () => {
    const made = book.call('import-animals', importing(fixture('flock-utf8.csv')));
    const [weighed] = found('826012345600001');
    const [planned] = found('826012345600003');
    book.call('weigh', { subject: weighed?.subject ?? '', weight: '64', how: 'crate' });
    book.enter('session-opened', {
      session: 's1',
      holding: 'h1',
      name: 'Invented session',
      mode: 'each',
      lines: [
        {
          line: 'l1',
          medicine: 'm1',
          revision: 'r1',
          doseLine: 'd1',
          source: 'ours',
          containers: [],
          reason: 'test',
        },
      ],
      subjects: [{ subject: planned?.subject ?? '', heads: 1, doses: [null] }],
      leftOut: [],
    });
    const { withdrawn, left } = book.call('withdraw-import', { import: made.import, reason: 'wrong file' });
    expect(withdrawn).toBe(4);
    expect(left.map(({ shown, why }) => [shown, why]).toSorted()).toEqual([
      ['UK 0 123456 00001', 'There are later entries about it.'],
      ['UK 0 123456 00003', 'It is planned for a session that is open.'],
    ]);
    expect(book.call('groups', {}).groups.map(({ name, heads }) => [name, heads])).toEqual([
      ['Clos Élanne', 1],
      ['Müllerwies', 1],
    ]);
    expect(found('826012345600001')).toMatchObject([{ weight: '64 kg' }]);
    expect(found('826012345600002')).toEqual([]);
    expect(book.call('imports', {}).imports).toMatchObject([{ import: made.import, rows: 2 }]);
  });

  test('does not touch what another import of the same animals put in the book', () => {
    const first = book.call('import-animals', importing(fixture('flock-utf8.csv')));
    const weighings = book.call('import-weighings', {
      file: fixture('weigh-crate.csv'),
      options: { weightUnit: 'kg' },
      confirmed: ['weight-jump', 'weight-check'],
    });
    expect(weighings.totals.taken).toBe(6);
    expect(
      book
        .call('imports', {})
        .imports.map((one) => one.what)
        .toSorted(),
    ).toEqual(['animals', 'weighings']);
    expect(book.call('withdraw-import', { import: first.import, reason: 'x' })).toMatchObject({
      withdrawn: 0,
    });
    expect(book.call('withdraw-import', { import: weighings.import, reason: 'x' })).toEqual({
      withdrawn: 6,
      left: [],
    });
    expect(found('826012345600001')).toMatchObject([{ weight: '62.5 kg' }]);
    expect(book.call('withdraw-import', { import: first.import, reason: 'x' })).toEqual({
      withdrawn: 6,
      left: [],
    });
  });

  test('something that is no import is refused', () => {
    const { animal } = book.call('set-animal', { holding: 'h1', management: '1', class: 'ewe' });
    expect(book.refused('withdraw-import', { import: animal, reason: 'x' }).code).toBe('no-such-import');
    expect(book.count('animal')).toBe(1);
  });
});

test('what was imported, weighed late, retagged, moved and taken back is the same when all is folded anew', () => {
  const first = book.call('import-animals', { ...importing(fixture('flock-utf8.csv')), standing: 'unknown' });
  const [one] = found('826012345600001');
  const animal = one?.subject.slice('animal:'.length) ?? '';
  book.call('set-animal', {
    holding: 'h1',
    animal,
    tag: 'UK 0 123456 00101',
    class: 'ewe',
    happened: '2026-04-02',
  });
  book.call('weigh', { subject: one?.subject ?? '', weight: '60', how: 'crate', happened: '2025-12-01' });
  const { lot } = book.call('set-lot', { holding: 'h1', name: 'Lambs', class: 'lamb', heads: 20 });
  book.call('move-heads', { from: lot, heads: 5, to: { newLot: 'Small' }, happened: '2026-04-01' });
  book.call('move-heads', { from: lot, heads: 1, to: { management: '900' } });
  book.call('depart', {
    subjects: [{ subject: `lot:${lot}`, heads: 2 }],
    how: 'died',
    happened: '2026-04-03',
  });
  book.call('withdraw-import', { import: first.import, reason: 'wrong file' });
  const { standing, anew } = book.foldedTwice();
  expect(standing.animal).toHaveLength(2);
  expect(anew).toEqual(standing);
});
