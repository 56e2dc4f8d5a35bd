import { describe, expect, test } from 'vitest';
import { chooseNeedle, judgeNeedles } from '../../src-shared/needle/choose.ts';
import { LENGTH_NAMES, readLength } from '../../src-shared/needle/needle.ts';
import { RULES } from '../../src-shared/needle/rules.ts';
import { LENGTHS } from '../../src-shared/needle/tubing.ts';
import { ewe, lamb5, muscle, n, skin, thickMuscle } from './needle-case-parts.ts';
import { askOf, differs } from './needle-case-run.ts';
import { needleCases } from './needle-cases.ts';
import { laterCases } from './needle-cases-later.ts';
import { refused } from './refused.ts';

const ALL = [...needleCases, ...laterCases];

describe('the cases decided by hand', () => {
  test('there are enough of them, each with a name of its own', () => {
    expect(needleCases.length).toBeGreaterThanOrEqual(30);
    expect(new Set(ALL.map(({ name }) => name)).size).toBe(ALL.length);
  });

  test.each(ALL.map((one) => [one.name, one] as const))('%s', (_, one) => {
    expect(differs(one)).toBeUndefined();
  });

  /** Which row threw each needle of the drawer out, by what the case says after `because`. */
  test.each([
    ['skin-neck-straight', ['straight-quarter-wool']],
    ['skin-too-thin', ['class-thinnest']],
    ['skin-too-wide', ['class-widest']],
    ['skin-too-long', ['skin-longest']],
    ['thick-only-thin', ['thick-thinnest']],
    ['muscle-short', ['muscle-shortest']],
    ['lamb-5-none', ['class-widest', 'class-thinnest']],
    ['label-not-there', ['label-gauge']],
    ['lamb-muscle-long-only', ['muscle-longest']],
    ['thin-ewe-long-only', ['muscle-longest']],
  ])('%s is refused for its reason', (name, rules) => {
    const found = ALL.find((one) => one.name === name);
    if (found === undefined) throw new Error(`There is no case ${name}.`);
    const { ranked, out } = judgeNeedles(askOf(found.ask));
    expect(ranked).toEqual([]);
    for (const { why } of out) expect(why.some(({ rule }) => rules.includes(rule))).toBe(true);
    const said = out.flatMap(({ why }) => why.map(({ rule }) => rule));
    for (const rule of rules) expect(said).toContain(rule);
  });

  test('every refused case is in that list', () => {
    expect(ALL.filter(({ expect: e }) => 'refused' in e).length).toBe(10);
  });
});

describe('the table of rules', () => {
  test('each row has an id of its own, a sentence, a source and a mark', () => {
    expect(new Set(RULES.map(({ id }) => id)).size).toBe(RULES.length);
    for (const { says, source } of RULES) {
      expect(says).toMatch(/^[A-Z].*\.$/);
      expect(source.length).toBeGreaterThan(3);
    }
  });

  test.each(RULES.map(({ id }) => [id]))('taking out %s changes a case', (id) => {
    const without = RULES.filter((rule) => rule.id !== id);
    const changed = ALL.filter((one) => differs(one, without) !== undefined).map(({ name }) => name);
    expect(changed).not.toEqual([]);
  });
});

describe('what is said', () => {
  test('a needle is chosen with what speaks for it, and the rules that decided', () => {
    const found = chooseNeedle(
      askOf({ ...ewe, ...skin, inStock: [n('16', '1/2'), n('18', '1'), n('20', '1'), n('22', '1/2')] }),
    );
    expect(found.ranked.map(({ gauge, lengthIn }) => `${gauge}G ${lengthIn}`)).toEqual([
      '16G 1/2',
      '20G 1',
      '18G 1',
    ]);
    expect(found.ranked[0]?.for.map(({ rule }) => rule)).toEqual([
      'skin-16-18-half',
      'skin-ordinary',
      'less-deep',
    ]);
    expect(found.ranked[0]?.against).toEqual([
      { rule: 'smallest-bore', text: 'It is wider than it needs to be.' },
    ]);
    expect(found.out).toEqual([
      {
        gauge: '22',
        lengthIn: '1/2',
        why: [
          {
            rule: 'class-thinnest',
            text: '22G 1/2 in is thinner than any source gives a grown sheep (20G).',
          },
        ],
      },
    ]);
    expect(found.rules).toEqual([
      'skin-16-18-half',
      'class-thinnest',
      'skin-ordinary',
      'less-deep',
      'site-5-ml',
    ]);
    expect(found.technique.id).toBe('tent');
  });

  test('nothing that suits is an answer: why each fell out, and what to fetch', () => {
    const no = refused(() =>
      chooseNeedle(askOf({ ...ewe, ...thickMuscle, inStock: [n('20', '1'), n('16', '1/2')] })),
    );
    expect(no.code).toBe('no-needle-suits');
    expect(no.message).toBe(
      'Needle: none in the drawer suits: 16G 1/2 in is too short to reach the muscle of a grown sheep (1 in); 20G 1 in is too thin for a thick remedy (16-18G).',
    );
    expect(no.next).toBe('Fetch 18G 1 in, which would be chosen if it were there, or ask the vet.');
    const straight = askOf({
      ...ewe,
      ...skin,
      technique: 'straight',
      inStock: [n('16', '1/2'), n('18', '1')],
    });
    expect(refused(() => chooseNeedle(straight)).message).toBe(
      'Needle: none in the drawer suits: 16G 1/2 in and 18G 1 in: each may reach muscle straight in without a fold of skin (1/4 in).',
    );
    expect(refused(() => chooseNeedle(askOf({ ...ewe, ...muscle, inStock: [] }))).message).toBe(
      'Needle: there is none in the drawer.',
    );
  });

  test('when no drawer would help, it says which answer stands in the way', () => {
    const straight = refused(() => chooseNeedle(askOf({ ...ewe, ...skin, technique: 'straight' })));
    expect([straight.field, straight.next]).toEqual([
      'technique',
      'Lift a fold of skin instead, and choose again.',
    ]);
    const house = refused(() => chooseNeedle(askOf({ ...ewe, ...skin, house: { gauge: '22' } })));
    expect(house.field).toBe('house.gauge');
    expect(house.message).toBe(
      'Needle: none in usual use suits: 22G 1 in, 22G 3/4 in, 22G 5/8 in, 22G 1/2 in and 2 more: each is thinner than any source gives a grown sheep (20G).',
    );
    const label = refused(() => chooseNeedle(askOf({ ...ewe, ...skin, label: { mostLengthMm: '5' } })));
    expect(label.field).toBe('label');
  });

  test('the label stands over guidance and house, and it is said', () => {
    const codes = (label: object, house = {}) =>
      chooseNeedle(askOf({ ...ewe, ...thickMuscle, label, house })).warnings.map(({ code }) => code);
    expect(codes({})).toEqual([]);
    expect(codes({ gauge: '20' })).toEqual(['label-over-guidance', 'hard-to-push']);
    expect(codes({ gauge: '18' }, { gauge: '16', lengthIn: '1' })).toEqual(['house-set-aside']);
    expect(codes({ lengthIn: '1' }, { lengthIn: '1 1/2' })).toEqual(['house-set-aside']);
    expect(codes({ mostLengthMm: '30' }, { lengthIn: '1 1/2' })).toEqual(['house-set-aside']);
    expect(codes({ mostLengthMm: '15' })).toEqual(['label-over-guidance']);
  });

  test('what is taken of guidance that disagrees names label or farm first', () => {
    const taken = (more: object) => chooseNeedle(askOf({ ...ewe, ...skin, ...more })).conflicts[0]?.taken;
    expect(taken({})).toMatch(/^The ordinary length/);
    expect(taken({ house: { gauge: '16' } })).toMatch(/^What the farm has chosen is taken/);
    expect(taken({ house: { gauge: '16' }, label: { gauge: '18' } })).toMatch(
      /^What the label states is taken/,
    );
  });

  test('a label never makes a technique reach deeper than the route', () => {
    const ask = askOf({ ...ewe, ...skin, technique: 'straight', label: { lengthIn: '1/2' } });
    expect(refused(() => chooseNeedle(ask)).field).toBe('technique');
  });

  test('a known age settles the band of a lamb, and a light grown sheep is asked about', () => {
    const at = (ageDays: number) => chooseNeedle({ ...askOf({ ...lamb5, ...muscle }), ageDays }).choice;
    expect([27, 28, 111, 112, 183, 184].map(at)).toEqual([
      n('22', '1/2'),
      n('20', '3/4'),
      n('20', '3/4'),
      n('20', '1'),
      n('20', '1'),
      n('20', '1'),
    ]);
    const weights = ['11.9', '12', '34.9', '35'].map(
      (value) => chooseNeedle({ ...askOf({ ...lamb5, ...muscle }), weight: { value, unit: 'kg' } }).choice,
    );
    expect(weights).toEqual([n('22', '1/2'), n('20', '3/4'), n('20', '3/4'), n('20', '1')]);
    const light = chooseNeedle({ ...askOf({ ...ewe, ...muscle }), weight: { value: '44', unit: 'lb' } });
    expect(light.warnings.map(({ code }) => code)).toEqual(['light-for-class']);
  });

  test('what cannot be is refused by its field', () => {
    const no = (more: object) => refused(() => chooseNeedle({ ...askOf({ ...ewe, ...muscle }), ...more }));
    expect(no({ technique: 'tent' }).code).toBe('technique-not-for-route');
    expect(no({ site: 'ribs' }).code).toBe('site-not-for-route');
    expect(no({ volume: { kind: 'volume', microlitres: 0 } }).field).toBe('volume');
    expect(no({ volume: { kind: 'pieces', pieces: 1 } }).field).toBe('volume');
    expect(no({ house: { maxPerSite: { kind: 'volume', microlitres: 15_001 } } }).code).toBe(
      'house-past-sources',
    );
    expect(no({ label: { maxPerSite: { kind: 'mass', micrograms: 5 } } }).field).toBe('label.maxPerSite');
  });
});

describe('lengths', () => {
  test('every length has its millimetres', () => {
    expect([...LENGTHS.keys()]).toEqual(LENGTH_NAMES);
  });

  test.each([
    ['1/2', '1/2'],
    ['½', '1/2'],
    ['0.5 in', '1/2'],
    ['1½', '1 1/2'],
    ['1 1/2 in', '1 1/2'],
    ['1-1/2"', '1 1/2'],
    ['⅝', '5/8'],
    [' 1 inch ', '1'],
  ])('%s is %s in', (text, length) => {
    expect(readLength(text, 'lengthIn')).toBe(length);
  });

  test.each([['12 mm'], ['2'], [''], ['1/3'], ['-1/2']])('%s is refused', (text) => {
    expect(refused(() => readLength(text, 'inStock.0.lengthIn')).code).toBe('unknown-length');
  });
});
