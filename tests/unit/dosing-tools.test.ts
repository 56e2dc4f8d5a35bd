import { describe, expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { draftingRefused } from '../../src-shared/dose/draft.ts';
import { draftForLine, type LineAnimal } from '../../src-shared/dose/draft-line.ts';
import { predictWeight } from '../../src-shared/dose/growth.ts';
import { checkGun } from '../../src-shared/dose/gun.ts';
import { mixture } from '../../src-shared/dose/mix.ts';
import { chooseSyringe } from '../../src-shared/dose/syringes.ts';
import { printWorking } from '../../src-shared/dose/working.ts';
import { labelTermsSchema } from '../../src-shared/label/terms.ts';
import { parseAmount, printAmount } from '../../src-shared/quantity/amount.ts';
import { fraction, parseDecimal } from '../../src-shared/quantity/fraction.ts';
import { parseStrength } from '../../src-shared/quantity/strength.ts';
import { parseWeight } from '../../src-shared/quantity/weight.ts';
import { refused } from './refused.ts';

const amount = (text: string) => parseAmount(text, 'amount');
describe('a draft by a label line', () => {
  const terms = (more: object = {}, line: object = {}) =>
    labelTermsSchema.parse({
      name: 'Test drench',
      form: 'drench',
      kind: 'volume',
      purpose: 'parasites',
      actives: [{ substance: 'testate', strength: '10 mg/mL' }],
      doseLines: [{ id: 'a', route: 'oral', rate: { style: 'rate', text: '2 mg/kg' }, ...line }],
      ...more,
    });
  const lamb = (id: string, kg: number, more: object = {}): LineAnimal => ({
    id,
    given: { class: 'lamb', weight: parseWeight(`${kg} kg`, 'weight'), ...more },
  });
  const flock = [lamb('a', 50), lamb('b', 20), lamb('c', 41), lamb('d', 42), lamb('e', 49.7)];

  it('gives each animal its part and dose, in the order asked', () => {
    const draft = draftForLine(terms(), 'a', flock, { parts: 2, step: amount('0.5 mL') });
    expect(draft.animals.map(({ id, part, dose }) => [id, part, printAmount(dose)])).toEqual([
      ['a', 1, '10 mL'],
      ['b', 0, '4 mL'],
      ['c', 1, '10 mL'],
      ['d', 1, '10 mL'],
      ['e', 1, '10 mL'],
    ]);
    expect(draft.warnings.map(({ code }) => code)).toContain('dose-by-itself');
    expect(draft.leftOut).toEqual([]);
  });

  it('leaves out by name whom the label gives no dose, and counts the heads of a lot', () => {
    const draft = draftForLine(
      terms({}, { leastWeight: '10 kg', classes: ['lamb'] }),
      'a',
      [
        ...flock,
        lamb('light', 9),
        { ...lamb('lot', 48), heads: 30 },
        lamb('ewe', 60, { class: 'ewe' }),
        lamb('unknown', 1, { weight: undefined }),
      ],
      { parts: 3 },
    );
    expect(draft.leftOut.map(({ id, fault }) => [id, fault.code])).toEqual([
      ['light', 'too-light'],
      ['ewe', 'class-not-on-label'],
      ['unknown', 'weight-missing'],
    ]);
    expect(draft.chosen.parts.reduce((sum, part) => sum + part.heads, 0)).toBe(35);
  });

  it('is refused when all are left out, with the reason of the first', () => {
    const refusal = refused(() => draftForLine(terms({}, { classes: ['ram'] }), 'a', flock, { parts: 2 }));
    expect(refusal).toMatchObject({ code: 'nobody-to-draft', field: 'animals' });
    expect(refusal.next).toContain('not for a lamb');
  });

  it('never gives a part more than the label allows in one animal', () => {
    const one = terms({}, { mostDose: '9.9 mL' });
    const draft = draftForLine(one, 'a', flock, { parts: 2 });
    // 50 kg and 49.7 kg need 10 mL and 9.94, drawn as 10: neither may have it.
    expect(draft.leftOut.map(({ id }) => id)).toEqual(['a', 'e']);
    const fits = terms({}, { mostDose: '10.1 mL' });
    expect(refused(() => draftForLine(fits, 'a', flock, { parts: 2, step: amount('3 mL') })).code).toBe(
      'over-most',
    );
  });

  it.each(['vaccine', 'parasites', 'vitamin-mineral', 'hormone', 'other'] as const)(
    'is offered for %s',
    (purpose) => {
      expect(draftingRefused({ purpose, narrowMargin: false })).toBeUndefined();
    },
  );
});

describe('gates', () => {
  const draft = (weights: string[], more: object = {}) =>
    workOut('draft', { weights, rate: '1 mL per 5 kg', groups: 2, capPercent: 60, ...more });
  const gates = (reply: Record<string, unknown>) =>
    (reply.parts as { gate?: string }[]).map(({ gate }) => gate);

  it('are set to the lowest round weight not below the heaviest of the lighter part', () => {
    expect(gates(draft(['30.2 kg', '30.4 kg', '49.1 kg', '50 kg']))).toEqual(['31 kg', undefined]);
    expect(gates(draft(['30 kg', '30.1 kg', '49.1 kg', '50 kg']))).toEqual(['31 kg', undefined]);
    expect(gates(draft(['30.2 kg', '30.7 kg', '30.7 kg', '50 kg'], { gate: '0.1 kg' }))[0]).toBe('30.7 kg');
  });
  it('stand at half a kilogram where no whole one lies between, and nowhere when neither does', () => {
    expect(
      gates(draft(['20 kg', '30.4 kg', '30.6 kg', '46.4 kg'], { step: '0.01 mL', capPercent: '52.5' })),
    ).toEqual(['30.5 kg', undefined]);
    const none = draft(['20 kg', '30.1 kg', '30.4 kg', '46 kg'], { step: '0.01 mL', capPercent: '51.5' });
    expect(gates(none)).toEqual([undefined, undefined]);
    expect(none.warnings).toContainEqual(expect.objectContaining({ code: 'no-gate-weight' }));
  });
});

describe('the farm’s syringes', () => {
  const own = [
    ['ten', '10 mL', '0.5 mL'],
    ['two', '2 mL', '0.1 mL'],
    ['one', '1 mL', '0.01 mL'],
    ['five', '5 mL', '0.2 mL'],
  ].map(([name = '', capacity = '', graduation = '']) => ({
    id: name,
    name,
    capacity: amount(capacity),
    graduation: amount(graduation),
  }));
  const choose = (ml: string, more: object = {}) =>
    chooseSyringe(own, { exact: parseDecimal(ml, 'exact'), rounding: 'nearest', ...more });

  it('the smallest that holds the dose is chosen, with what it may be off by', () => {
    expect(choose('1').choice).toMatchObject({ name: 'one', error: { errorPercent: fraction(5) } });
    expect(choose('1.24').choice).toMatchObject({ name: 'two', draw: amount('1.2 mL') });
    expect(choose('7').choice.name).toBe('ten');
  });
  it('goes by what is in it at one time when the dose is shared between sites', () => {
    expect(choose('7', { maxPerSite: amount('5 mL') }).choice).toMatchObject({
      name: 'five',
      fill: amount('3.6 mL'),
    });
  });
  it('asks for a finer one when marks are more than 5 % off', () => {
    const coarse = chooseSyringe(
      own.filter(({ name }) => name !== 'one'),
      {
        exact: parseDecimal('0.24', 'exact'),
        rounding: 'nearest',
      },
    );
    expect(coarse).toMatchObject({ coarse: true, choice: { name: 'two' } });
    expect(coarse.finer).toBeUndefined();
    expect(choose('2.3', { rounding: 'up' })).toMatchObject({ choice: { name: 'five' }, coarse: false });
    const finer = chooseSyringe(
      [
        { id: 'a', name: 'coarse', capacity: amount('5 mL'), graduation: amount('1 mL') },
        { id: 'b', name: 'finer', capacity: amount('10 mL'), graduation: amount('0.5 mL') },
      ],
      { exact: parseDecimal('3.5', 'exact'), rounding: 'nearest' },
    );
    expect(finer).toMatchObject({ coarse: true, choice: { name: 'coarse' }, finer: { name: 'finer' } });
  });
  it('none is chosen that rounds it to nothing or cannot hold it', () => {
    expect(refused(() => choose('11')).code).toBe('no-syringe-holds');
    expect(refused(() => choose('0.001')).code).toBe('no-syringe-holds');
    expect(refused(() => chooseSyringe([], { exact: fraction(1), rounding: 'up' })).code).toBe(
      'no-syringe-holds',
    );
    const wide = [{ id: 'w', name: 'wide', capacity: amount('5 mL'), graduation: amount('1 mL') }];
    const ask = { exact: fraction(2), rounding: 'up' as const, maxPerSite: amount('0.5 mL') };
    expect(refused(() => chooseSyringe(wide, ask)).code).toBe('no-syringe-holds');
  });
});

describe('a gun', () => {
  it('is set so that it gives what it stood at, on its own marks', () => {
    const found = checkGun({
      setTo: amount('5 mL'),
      shots: 10,
      total: amount('56 mL'),
      graduation: amount('0.25 mL'),
    });
    expect(found.newSetting).toEqual(amount('4.5 mL'));
    expect(found.says).toBe('It gives 5.6 mL at 5 mL, 12 % too much. Set it to 4.5 mL and check again.');
    const coarse = checkGun({
      setTo: amount('5 mL'),
      shots: 10,
      total: amount('53 mL'),
      graduation: amount('1 mL'),
    });
    expect(coarse.says).toContain('dose with another gun');
  });
  it('has no new setting when it is right, uneven or hardly shot', () => {
    const setTo = amount('5 mL');
    expect(checkGun({ setTo, shots: 10, total: amount('51 mL') }).newSetting).toBeUndefined();
    expect(checkGun({ setTo, each: ['7 mL', '5 mL', '6 mL'].map(amount) })).not.toHaveProperty('newSetting');
    expect(checkGun({ setTo, shots: 2, total: amount('20 mL') })).toMatchObject({ verdict: 'too-few' });
  });
  it('asks whether half or double is a slip in typing', () => {
    const codes = (total: string) =>
      checkGun({ setTo: amount('5 mL'), shots: 10, total: amount(total) }).warnings.map(({ code }) => code);
    expect(codes('100 mL')).toEqual(['gun-unlikely']);
    expect(codes('25 mL')).toEqual(['gun-unlikely']);
    expect(codes('99 mL')).toEqual([]);
  });
});

describe('what is made up', () => {
  const powder = { amount: amount('52 g'), strength: parseStrength('900 mg/g', 'strength') };
  it('says what was taken for the volume, unless it was filled to a mark', () => {
    expect(mixture({ from: [powder], water: amount('943 mL') }).warnings.map(({ code }) => code)).toEqual([
      'volume-assumed',
    ]);
    expect(mixture({ from: [powder], madeUpTo: amount('943 mL') })).toMatchObject({
      strength: '46800 mg in 943 mL',
      warnings: [],
    });
  });
  it('adds what is in several containers of one substance', () => {
    const concentrate = { amount: amount('100 mL'), strength: parseStrength('1 %', 'strength') };
    const made = mixture({ from: [powder, concentrate], water: amount('900 mL') });
    expect(made).toMatchObject({ strength: '47800 mg in 1000 mL', substance: fraction(47_800), unit: 'mg' });
    expect(printWorking(made.working).map(({ text }) => text)).toEqual([
      '52 g at 900 mg/g holds 46800 mg',
      '100 mL at 1 % holds 1000 mg',
      '100 mL + 900 mL = 1000 mL',
      '46800 mg + 1000 mg = 47800 mg in 1000 mL is 47.8 mg in each mL',
    ]);
  });
  it('does not add units to milligrams', () => {
    const units = { amount: amount('10 mL'), strength: parseStrength('300000 IU/mL', 'strength') };
    expect(refused(() => mixture({ from: [powder, units], water: amount('1 L') }))).toMatchObject({
      code: 'units-do-not-match',
      field: 'from.1.strength',
    });
    expect(refused(() => mixture({ from: [], water: amount('1 L') })).code).toBe('nothing-mixed');
  });
});

describe('growth between weighings', () => {
  const last = parseWeight('40 kg', 'weight');
  const earlier = (kg: string, daysEarlier: number) => ({
    weight: parseWeight(`${kg} kg`, 'weight'),
    daysEarlier,
  });

  it('is the animal’s own, and says that it is predicted and how old the weighing is', () => {
    const growth = predictWeight({ last, daysAgo: 10, before: earlier('34', 30) });
    expect(growth).toMatchObject({ state: 'predicted', weight: { value: '42', unit: 'kg' } });
    expect(growth.says).toBe(
      '40 kg, weighed 10 days ago; at 200 g a day growing about 42 kg today: predicted, not weighed.',
    );
    expect(predictWeight({ last, daysAgo: 1, gramsPerDay: fraction(-150) })).toMatchObject({
      weight: { value: '39.9', unit: 'kg' },
    });
  });
  it.each([
    ['weighed today', { daysAgo: 0 }, 'weighed'],
    ['after 42 days still', { daysAgo: 42, gramsPerDay: fraction(100) }, 'predicted'],
    ['not after 43', { daysAgo: 43, gramsPerDay: fraction(100) }, 'unknown'],
    ['not from one weighing', { daysAgo: 5 }, 'unknown'],
    ['not from two a few days apart', { daysAgo: 5, before: earlier('38', 13) }, 'unknown'],
    ['from two a fortnight apart', { daysAgo: 5, before: earlier('38', 14) }, 'predicted'],
    ['not from two that lie long apart', { daysAgo: 5, before: earlier('20', 121) }, 'unknown'],
    ['not from growth no sheep has', { daysAgo: 5, before: earlier('20', 14) }, 'unknown'],
    ['nor from a loss no sheep has', { daysAgo: 5, gramsPerDay: fraction(-301) }, 'unknown'],
  ])('%s', (_name, more, state) => {
    expect(predictWeight({ last, ...more }).state).toBe(state);
  });
  it('never predicts nothing', () => {
    const small = parseWeight('0.8 kg', 'weight');
    expect(predictWeight({ last: small, daysAgo: 3, gramsPerDay: fraction(-300) }).state).toBe('unknown');
  });
});
