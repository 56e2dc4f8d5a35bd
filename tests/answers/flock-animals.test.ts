import { afterEach, beforeEach, describe, expect, test } from 'vitest';
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
const found = (read: string) => book.call('find-subject', { read }).found.map((one) => one.shown);

describe('a named animal', () => {
  test('is shown by its tag, else its chip, else its own number', () => {
    const shown = (numbers: object) => book.call('set-animal', { ...H, class: 'ewe', ...numbers }).shown;
    expect(shown({ tag: 'uk012345600001', chip: '826012345600001', management: 'b 1' })).toBe(
      'UK 0 123456 00001',
    );
    expect(shown({ chip: '982000123456789', management: 'b 2' })).toBe('982 000123456789');
    expect(shown({ management: 'b 3' })).toBe('b 3');
    expect(book.refused('set-animal', { ...H, class: 'ewe' })).toMatchObject({
      code: 'no-identity',
      field: 'tag',
    });
  });

  test('cannot have the number of another, named by what it is called', () => {
    ewe({ tag: 'UK 0 123456 00001' });
    const fault = book.refused('set-animal', { ...H, class: 'ewe', chip: '826012345600001' });
    expect(fault).toMatchObject({ code: 'number-in-use', field: 'chip' });
    expect(fault.message).toContain('UK 0 123456 00001');
    expect(book.count('animal')).toBe(1);
  });

  test('cannot have a tag and a chip of two animals', () => {
    const numbers = { tag: 'UK 0 123456 00001', chip: '826012345600002' };
    expect(book.refused('set-animal', { ...H, class: 'ewe', ...numbers }).code).toBe('tag-chip-differ');
  });

  test('shares a short number only when somebody says so, and then both are found', () => {
    ewe({ tag: 'UK 0 123456 00001', management: '12' });
    const second = { ...H, class: 'ewe', tag: 'UK 0 123456 00002', management: '12' } as const;
    expect(book.refused('set-animal', second).code).toBe('ask:number-shared');
    book.call('set-animal', { ...second, confirmed: ['number-shared'] });
    expect(found('12')).toEqual(['UK 0 123456 00001', 'UK 0 123456 00002']);
    expect(book.refused('set-animal', { ...H, class: 'ewe', management: '12' }).code).toBe('number-in-use');
  });

  test('keeps its old numbers findable when it gets another tag, and they stay its own', () => {
    const animal = ewe({ tag: 'UK 0 123456 00001', management: '7', sex: 'female', born: '2022-03-01' });
    book.call('set-animal', { ...H, animal, tag: 'UK 0 123456 00099', class: 'ewe' });
    for (const read of ['UK 0 123456 00001', '826012345600001', 'UK012345600099', '7']) {
      expect([read, found(read)]).toEqual([read, ['UK 0 123456 00099']]);
    }
    const { who } = book.call('subject', { subject: `animal:${animal}` });
    expect(who).toMatchObject({ management: '7', sex: 'female', born: '2022-03-01' });
    expect(book.refused('set-animal', { ...H, class: 'ewe', tag: 'UK 0 123456 00001' }).message).toBe(
      'UK 0 123456 00001 is UK 0 123456 00099, or was before it got another tag.',
    );
  });

  test('loses the chip of its old tag with that tag, but not a chip of another make', () => {
    const who = (animal: string) => book.call('subject', { subject: `animal:${animal}` }).who;
    const first = ewe({ tag: 'UK 0 123456 00001', chip: '826012345600001' });
    book.call('set-animal', { ...H, animal: first, tag: 'UK 0 123456 00101', class: 'ewe' });
    expect(who(first)).toMatchObject({ tag: 'UK 0 123456 00101' });
    expect(who(first).chip).toBeUndefined();
    expect(found('826012345600001')).toEqual(['UK 0 123456 00101']);
    const second = ewe({ tag: 'UK 0 123456 00002', chip: '982000123456789' });
    book.call('set-animal', { ...H, animal: second, tag: 'UK 0 123456 00102', class: 'ewe' });
    expect(who(second)).toMatchObject({ tag: 'UK 0 123456 00102', chip: '982000123456789' });
    const both = { tag: 'UK 0 123456 00103', chip: '826012345600102' };
    expect(book.refused('set-animal', { ...H, animal: second, class: 'ewe', ...both }).code).toBe(
      'tag-chip-differ',
    );
  });

  test('bought in, or of unknown standing, is held until a statement; one of our own is not', () => {
    const states = (animal: string) =>
      book
        .call('subject', { subject: `animal:${animal}` })
        .holds.map((hold) => `${hold.produce} ${hold.state}`);
    expect(states(ewe({ management: '1', origin: 'bought' }))).toEqual(['meat unknown', 'milk unknown']);
    expect(states(ewe({ management: '2', standing: 'unknown' }))).toEqual(['meat unknown', 'milk unknown']);
    expect(states(ewe({ management: '3' }))).toEqual([]);
  });

  test('days still to come are refused', () => {
    expect(
      book.refused('set-animal', { ...H, class: 'ewe', management: '1', born: '2026-04-13' }),
    ).toMatchObject({
      code: 'in-the-future',
      field: 'born',
    });
    expect(
      book.refused('set-animal', { ...H, class: 'ewe', management: '1', happened: '2026-04-13' }).code,
    ).toBe('in-the-future');
  });
});

describe('finding', () => {
  test('goes by number, then by lot, then by the end of a tag', () => {
    ewe({ tag: 'UK 0 123456 00012' });
    ewe({ tag: 'UK 0 765432 00012' });
    lot('Müller lambs', 10);
    expect(found('…00012')).toEqual(['UK 0 123456 00012', 'UK 0 765432 00012']);
    expect(found('3456 00012')).toEqual(['UK 0 123456 00012']);
    expect(found('12')).toEqual([]);
    ewe({ management: '00012' });
    expect(found('00012')).toEqual(['00012']);
    expect(found('muller  LAMBS')).toEqual(['Müller lambs']);
    expect(found('8.26012E+14')).toEqual([]);
  });

  test('shows an animal that left only where none that is there has the number', () => {
    const first = ewe({ management: '5' });
    book.call('depart', { subjects: [{ subject: `animal:${first}` }], how: 'died' });
    expect(book.call('find-subject', { read: '5' }).found).toMatchObject([{ present: false }]);
    const second = ewe({ management: '5' });
    expect(book.call('find-subject', { read: '5' }).found.map((one) => one.subject)).toEqual([
      `animal:${second}`,
    ]);
  });
});

describe('a weight', () => {
  test('takes the unit of the holding when none is typed, and the typed one otherwise', () => {
    const subject = `animal:${ewe({ management: '1' })}`;
    expect(book.call('weigh', { subject, weight: '62.5', how: 'scale' }).weight).toBe('62.5 kg');
    expect(book.call('weigh', { subject, weight: '137 lb', how: 'scale' }).weight).toBe('137 lb');
    expect(book.call('subject', { subject }).weighings.map((one) => one.weight)).toEqual([
      '137 lb',
      '62.5 kg',
    ]);
  });

  test.each([
    ['0', 'bad-weight'],
    ['-3', 'bad-number'],
    ['620', 'ask:decimal-point'],
    ['6.2', 'ask:decimal-point'],
    ['137', 'ask:pounds-for-kilograms'],
    ['28', 'ask:kilograms-for-pounds'],
    ['95', 'ask:weight-jump'],
  ])('of %s against 62 kg is not taken as it is', (weight, code) => {
    const subject = `animal:${ewe({ management: '1' })}`;
    book.call('weigh', { subject, weight: '62', how: 'scale' });
    expect(book.refused('weigh', { subject, weight, how: 'scale' })).toMatchObject({ code, field: 'weight' });
    expect(book.count('weighing')).toBe(1);
  });

  test('that was asked about is taken once somebody is sure, with the warning', () => {
    const subject = `animal:${ewe({ management: '1' })}`;
    const { weight, warnings } = book.call('weigh', {
      subject,
      weight: '170',
      how: 'eye',
      confirmed: ['weight-unlikely'],
    });
    expect(weight).toBe('170 kg');
    expect(warnings.map((one) => one.code)).toEqual(['weight-unlikely']);
  });

  test('from before the animal stood in the book counts, and a newer one is not overwritten by it', () => {
    const animal = ewe({ management: '1' });
    const subject = `animal:${animal}`;
    book.call('weigh', { subject, weight: '60', how: 'crate', happened: '2026-03-01' });
    expect(book.call('subject', { subject }).who).toMatchObject({ weight: '60 kg', weighedOn: '2026-03-01' });
    book.call('weigh', { subject, weight: '58', how: 'crate', happened: '2026-02-01' });
    expect(book.call('subject', { subject }).who.weight).toBe('60 kg');
  });
});

test('a subject shows its treatments with until when they hold, and its marks', () => {
  const subject = `animal:${ewe({ management: '1' })}`;
  const amount = { kind: 'volume', microlitres: 1240 } as const;
  book.enter(
    'administered',
    {
      administration: 'a1',
      holding: 'h1',
      subject,
      heads: 1,
      medicine: 'm1',
      product: 'Inventol',
      doseLine: 'd1',
      source: { kind: 'vet', revision: 'r1' },
      class: 'ewe',
      dose: amount,
      total: amount,
      sites: [],
      route: 'oral',
      reason: 'worms',
      givenBy: 'p1',
      deviations: [],
      holds: [
        {
          produce: 'meat',
          market: 'domestic',
          clock: 'food',
          state: 'until',
          until: '2026-05-07T23:00:00.000Z',
          period: '28 d',
          says: '28 d',
          rule: 'test',
          working: [],
        },
      ],
      working: [],
    },
    '2026-04-10',
  );
  book.enter('marked', { subject, colour: 'blue', place: 'rump', lastsUntil: '2026-06-01' }, '2026-04-10');
  const shown = book.call('subject', { subject });
  expect(shown.treatments).toEqual([
    {
      administration: 'a1',
      local: '2026-04-10',
      product: 'Inventol',
      quantity: '1.24 mL',
      reason: 'worms',
      until: '8 May 2026, 00:00',
    },
  ]);
  expect(shown.holds).toMatchObject([{ text: 'Meat held until 8 May 2026, 00:00 (Inventol, 28 d)' }]);
  expect(shown.marks).toEqual([
    { colour: 'blue', place: 'rump', local: '2026-04-10', lastsUntil: '2026-06-01' },
  ]);
});

describe('the list of animals', () => {
  beforeEach(() => {
    for (let i = 1; i <= 25; i += 1) {
      ewe({
        tag: `UK 0 123456 ${String(i).padStart(5, '0')}`,
        management: `b${i}`,
        class: i % 5 === 0 ? 'ram' : 'ewe',
      });
    }
  });

  test('comes in pages that together are the whole flock, each animal once', () => {
    const shown: string[] = [];
    let after: string | undefined;
    do {
      const page = book.call('animals', { limit: 7, ...(after === undefined ? {} : { after }) });
      expect(page.total).toBe(25);
      shown.push(...page.animals.map((one) => one.shown));
      after = page.next;
    } while (after !== undefined);
    expect(shown).toHaveLength(25);
    expect(shown).toEqual([...new Set(shown)].toSorted());
    expect(book.refused('animals', { after: 'nothing' }).code).toBe('bad-page');
  });

  test('narrows by text in any number, by class, by group and by presence', () => {
    const list = (asked: object) => book.call('animals', asked).animals.map((one) => one.shown.slice(-2));
    expect(list({ search: 'uk0123456000 07' })).toEqual(['07']);
    expect(list({ search: 'B13' })).toEqual(['13']);
    expect(list({ search: 'own' })).toEqual([]);
    expect(list({ class: 'ram' })).toEqual(['05', '10', '15', '20', '25']);
    const three = book.call('find-subject', { read: 'b3' }).found.map((one) => one.subject);
    const { group } = book.call('set-group', { ...H, name: 'Three', add: three });
    expect(list({ group })).toEqual(['03']);
    book.call('depart', { subjects: three.map((subject) => ({ subject })), how: 'lost' });
    expect(list({ group })).toEqual([]);
    expect(list({ present: false })).toEqual(['03']);
  });
});
