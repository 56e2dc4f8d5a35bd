import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { holdsOn } from '../../src-main/answers/reading/holds.ts';
import type { HoldDecision } from '../../src-shared/entries/parts.ts';
import { type FlockBook, flockBook } from './flock-book.ts';

let book: FlockBook;
beforeEach(() => {
  book = flockBook();
});
afterEach(() => book.close());

const H = { holding: 'h1' } as const;
const ewe = (more: object) => book.call('set-animal', { ...H, class: 'ewe', ...more }).animal;
const lot = (name: string, heads: number, more: object = {}) =>
  book.call('set-lot', { ...H, name, heads, class: 'lamb', ...more }).lot;
const heads = (id: string) => book.call('subject', { subject: `lot:${id}` }).who.heads;
const sources = (subject: string) => holdsOn(book.store.read, [subject]).map((hold) => hold.source);

function held(subject: string, hold: string, local: string) {
  const meat: HoldDecision = {
    produce: 'meat',
    market: 'domestic',
    clock: 'food',
    state: 'until',
    until: '2026-05-01T00:00:00.000Z',
    period: '28 d',
    says: '28 d',
    rule: 'test',
    working: [],
  };
  book.enter('held', { hold, subject, cause: 'other', holds: [meat], why: 'test' }, local);
}

describe('lots', () => {
  test('split, merge and tag carry the holds of the lot along, and not what comes after', () => {
    const from = lot('Lambs', 100, { happened: '2026-03-01' });
    held(`lot:${from}`, 'before', '2026-04-01');
    const half = book.call('move-heads', {
      from,
      heads: 40,
      to: { newLot: 'Small lambs' },
      happened: '2026-04-02',
    }).to;
    held(`lot:${from}`, 'after', '2026-04-05');
    expect(heads(from)).toBe(60);
    expect(heads(half.slice(4))).toBe(40);
    expect(sources(half)).toEqual(['hold:before']);
    const tagged = book.call('move-heads', {
      from: half.slice(4),
      heads: 1,
      to: { tag: 'UK 0 123456 00001' },
    }).to;
    expect(sources(tagged)).toEqual(['hold:before']);
    expect(book.call('subject', { subject: tagged })).toMatchObject({
      who: { shown: 'UK 0 123456 00001', class: 'lamb', heads: 1 },
      holds: [{ produce: 'meat', state: 'until', source: 'hold:before' }],
    });
    const other = lot('Other lambs', 5);
    book.call('move-heads', { from, heads: 10, to: { lot: other } });
    expect(heads(other)).toBe(15);
    expect(sources(`lot:${other}`)).toEqual(['hold:before', 'hold:after']);
  });

  test('a treatment on the day of a move without a time follows the heads', () => {
    const from = lot('Lambs', 100, { happened: '2026-03-01' });
    held(`lot:${from}`, 'noon', '2026-04-02T12:00');
    const to = book.call('move-heads', {
      from,
      heads: 40,
      to: { newLot: 'Small' },
      happened: '2026-04-02',
    }).to;
    expect(sources(to)).toEqual(['hold:noon']);
  });

  test('two moves of one day, told without and with a time, lose no hold on the way', () => {
    const first = lot('First', 100, { happened: '2026-03-01' });
    held(`lot:${first}`, 'noon', '2026-04-02T12:00');
    const second = book.call('move-heads', {
      from: first,
      heads: 40,
      to: { newLot: 'Second' },
      happened: '2026-04-02',
    }).to;
    const third = book.call('move-heads', {
      from: second.slice(4),
      heads: 10,
      to: { newLot: 'Third' },
      happened: '2026-04-02T15:00',
    }).to;
    expect(sources(third)).toEqual(['hold:noon']);
  });

  test('moves of today, without and with a time, lose no hold either', () => {
    const first = lot('First', 100, { happened: '2026-03-01' });
    held(`lot:${first}`, 'morning', '2026-04-12T08:00');
    const second = book.call('move-heads', {
      from: first,
      heads: 40,
      to: { newLot: 'Second' },
      happened: '2026-04-12',
    }).to;
    book.at('2026-04-12T11:00:00.000Z');
    const third = book.call('move-heads', { from: second.slice(4), heads: 10, to: { newLot: 'Third' } }).to;
    expect(sources(third)).toEqual(['hold:morning']);
  });

  test('cannot give more heads than they have, nor to themselves, nor several heads one tag', () => {
    const from = lot('Lambs', 3);
    expect(book.refused('move-heads', { from, heads: 4, to: { newLot: 'x' } })).toMatchObject({
      code: 'too-few-heads',
      field: 'heads',
    });
    expect(book.refused('move-heads', { from, heads: 1, to: { lot: from } }).code).toBe('same-lot');
    expect(book.refused('move-heads', { from, heads: 2, to: { management: '1' } }).code).toBe('one-head');
    expect(book.refused('move-heads', { from, heads: 1, to: { newLot: 'lambs' } }).code).toBe('name-taken');
    expect(heads(from)).toBe(3);
  });

  test('of two classes are merged only when somebody says so', () => {
    const from = lot('Lambs', 10);
    const ewes = lot('Ewes', 10, { class: 'ewe' });
    expect(book.refused('move-heads', { from, heads: 1, to: { lot: ewes } }).code).toBe('ask:class-differs');
    book.call('move-heads', { from, heads: 1, to: { lot: ewes }, confirmed: ['class-differs'] });
    expect([heads(from), heads(ewes)]).toEqual([9, 11]);
  });

  test('a move told as before the lot was in the book still moves the heads', () => {
    const from = lot('Lambs', 10);
    const to = book.call('move-heads', {
      from,
      heads: 4,
      to: { newLot: 'Small' },
      happened: '2026-04-01',
    }).to;
    expect([heads(from), heads(to.slice(4))]).toEqual([6, 4]);
  });

  test('bought in are held, and a recount keeps the hold and the weight', () => {
    const bought = lot('Stores', 50, { origin: 'bought' });
    book.call('weigh', { subject: `lot:${bought}`, weight: '30', how: 'eye' });
    book.call('set-lot', {
      ...H,
      lot: bought,
      name: 'Stores',
      class: 'lamb',
      heads: 49,
      why: 'counted again',
    });
    const { who, holds } = book.call('subject', { subject: `lot:${bought}` });
    expect(who).toMatchObject({ heads: 49, weight: '30 kg' });
    expect(holds.map((hold) => hold.produce)).toEqual(['meat', 'milk']);
  });

  test('are listed by name, empty ones only when asked for', () => {
    lot('Béla', 5);
    lot('Empty', 0);
    const listed = (asked: object) => book.call('lots', asked).lots.map((one) => one.shown);
    expect(listed({})).toEqual(['Béla']);
    expect(listed({ empty: true })).toEqual(['Béla', 'Empty']);
    expect(listed({ search: 'bel' })).toEqual(['Béla']);
  });
});

describe('a departure', () => {
  test('takes animals and heads off the farm, once', () => {
    const animal = `animal:${ewe({ management: '1' })}`;
    const lambs = lot('Lambs', 10);
    const subjects = [{ subject: animal }, { subject: `lot:${lambs}`, heads: 4 }];
    book.call('depart', { subjects, how: 'slaughter', to: 'An invented abattoir', happened: '2026-04-10' });
    expect(book.call('subject', { subject: animal }).who.present).toBe(false);
    expect(heads(lambs)).toBe(6);
    const fault = book.refused('depart', { subjects: [{ subject: animal }], how: 'sold' });
    expect(fault).toMatchObject({
      code: 'already-gone',
      message: '1 left on 10 Apr 2026 (sent to slaughter) already.',
    });
    expect(
      book.refused('depart', { subjects: [{ subject: `lot:${lambs}`, heads: 7 }], how: 'sold' }).code,
    ).toBe('too-few-heads');
    expect(book.refused('depart', { subjects: [{ subject: 'animal:none' }], how: 'sold' }).code).toBe(
      'no-such-animal',
    );
  });

  test('with one wrong animal in the list takes none', () => {
    const one = `animal:${ewe({ management: '1' })}`;
    expect(book.refused('depart', { subjects: [{ subject: one }, { subject: one }], how: 'sold' }).code).toBe(
      'named-twice',
    );
    expect(book.call('subject', { subject: one }).who.present).toBe(true);
  });
});

describe('groups', () => {
  test('have members, dates and a name of their own', () => {
    const one = `animal:${ewe({ management: '1' })}`;
    const lambs = `lot:${lot('Lambs', 10)}`;
    const dates = { ramIn: '2025-10-20', lambingFrom: '2026-03-15', lambingTo: '2026-04-20' };
    const { group } = book.call('set-group', { ...H, name: 'Early', add: [one, lambs], dates });
    expect(book.call('groups', {}).groups).toEqual([{ group, name: 'Early', heads: 11, subjects: 2, dates }]);
    expect(book.refused('set-group', { ...H, name: 'EARLY' }).code).toBe('name-taken');
    book.call('set-group', { ...H, group, name: 'Early', remove: [lambs] });
    expect(book.call('group', { group })).toMatchObject({
      group: { heads: 1, dates },
      members: [{ subject: one }],
    });
    expect(book.call('subject', { subject: one }).groups).toEqual([{ group, name: 'Early' }]);
    book.call('depart', { subjects: [{ subject: one }], how: 'lost' });
    expect(book.call('groups', {}).groups).toMatchObject([{ heads: 0, subjects: 0 }]);
    book.call('set-group', { ...H, group, name: 'Early', active: false });
    expect(book.call('groups', {}).groups).toEqual([]);
  });

  test('refuse crossed dates, days that do not exist and members nobody knows', () => {
    const crossed = { ramIn: '2025-10-20', ramOut: '2025-10-01' };
    expect(book.refused('set-group', { ...H, name: 'x', dates: crossed })).toMatchObject({
      code: 'dates-crossed',
      field: 'dates.ramOut',
    });
    expect(book.refused('set-group', { ...H, name: 'x', dates: { shorn: '2026-02-30' } }).code).toBe(
      'bad-day',
    );
    expect(book.refused('set-group', { ...H, name: 'x', add: ['animal:none'] })).toMatchObject({
      code: 'no-such-animal',
      field: 'add.0',
    });
  });
});
