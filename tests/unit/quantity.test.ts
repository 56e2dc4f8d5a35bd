import { describe, expect, it } from 'vitest';
import {
  addAmounts,
  amountOf,
  baseOf,
  compareAmounts,
  parseAmount,
  printAmount,
} from '../../src-shared/quantity/amount.ts';
import {
  compare,
  fraction,
  parseDecimal,
  roundTo,
  toDecimal,
  toPlaces,
} from '../../src-shared/quantity/fraction.ts';
import { parsePeriod, periodInWords, printPeriod } from '../../src-shared/quantity/period.ts';
import { parseRate, perKilogram, printRate, shortRate } from '../../src-shared/quantity/rate.ts';
import { parseStrength, printStrength, strengthPerUnit } from '../../src-shared/quantity/strength.ts';
import { kilograms, parseWeight, poundsOf, weightQuestion } from '../../src-shared/quantity/weight.ts';
import { refused } from './refused.ts';

describe('numbers as typed', () => {
  it.each([
    ['1,5', /comma/],
    ['300,000', /comma/],
    ['１２', /plain digits/],
    ['1e999', /plain digits/],
    ['1e3', /plain digits/],
    ['', /missing/],
    ['   ', /missing/],
    ['-1', /below zero/],
    ['−1', /below zero/],
    ['.5', /0\.5/],
    ['5.', /after the point/],
    ['1 000', /plain digits/],
    ['Infinity', /plain digits/],
    ['0x10', /plain digits/],
    ['1.2.3', /plain digits/],
    ['1234567890123', /at most/],
    ['1.1234567891', /at most/],
    ['9'.repeat(5000), /at most/],
  ])('refuses %j with a reason', (text, reason) => {
    const refusal = refused(() => parseDecimal(text, 'maxPerSite'));
    expect(refusal).toMatchObject({ code: 'bad-number', field: 'maxPerSite' });
    expect(refusal.message).toMatch(reason);
    expect(refusal.message).toMatch(/^Max per site: /);
    expect(refusal.message.length).toBeLessThan(160);
  });

  it('are printed plainly', () => {
    expect(toDecimal(fraction(1, 2))).toBe('0.5');
    expect(toDecimal(fraction(30))).toBe('30');
    expect(toDecimal(fraction(-16, 5))).toBe('-3.2');
    expect(toDecimal(fraction(1, 3))).toBe('0.333333333');
    expect(toDecimal(fraction(-2, 3))).toBe('-0.666666667');
    expect(toDecimal(fraction(1, 3000))).toBe('0.000333333333');
    expect(toDecimal(fraction(1_000_000_000_000, 3))).toBe('333333333000');
    expect(toDecimal(fraction(999_999_999_999n, 1_000_000_000_001n))).toBe('1');
    expect(toDecimal(fraction(0))).toBe('0');
    expect(toPlaces(fraction(1, 3), 1)).toBe('0.3');
    expect(toPlaces(fraction(-1, 100), 1)).toBe('0');
  });

  it('have no zero below the line', () => {
    expect(() => fraction(1, 0)).toThrow(RangeError);
    expect(() => fraction(0.5)).toThrow(RangeError);
    expect(() => roundTo(fraction(1), fraction(0), 'up')).toThrow(RangeError);
  });
});

describe('amounts', () => {
  it.each([
    ['1.24 mL', 'volume', 1240],
    ['500 mL', 'volume', 500_000],
    ['500ml', 'volume', 500_000],
    ['2.5 L', 'volume', 2_500_000],
    ['1 cc', 'volume', 1000],
    ['250 g', 'mass', 250_000_000],
    ['5 µg', 'mass', 5],
    ['5 μg', 'mass', 5],
    ['20 tablets', 'pieces', 20],
    ['1 bolus', 'pieces', 1],
    ['3 doses', 'pieces', 3],
    ['0 mL', 'volume', 0],
  ] as const)('%s is %s of %d', (text, kind, base) => {
    const amount = parseAmount(text, 'amount');
    expect(amount.kind).toBe(kind);
    expect(baseOf(amount)).toBe(base);
  });

  it.each([
    ['5', 'bad-amount'],
    ['mL', 'bad-number'],
    ['5 pints', 'bad-amount'],
    ['0.0005 mL', 'bad-amount'],
    ['0.5 tablets', 'bad-amount'],
    ['1,5 mL', 'bad-number'],
    ['-5 mL', 'bad-number'],
    ['1e999 mL', 'bad-number'],
    ['999999999999 L', 'bad-amount'],
    ['5 ug', 'bad-amount'],
    ['', 'bad-amount'],
    ['5 mL '.repeat(100), 'bad-amount'],
  ])('refuses %j as %s', (text, code) => {
    expect(refused(() => parseAmount(text, 'amount'))).toMatchObject({ code, field: 'amount' });
  });

  it('uses the medicine’s own word for a piece', () => {
    expect(parseAmount('2 pellets', 'amount', { piece: 'pellet' })).toEqual(amountOf('pieces', 2));
    expect(refused(() => parseAmount('2 pellets', 'amount')).code).toBe('bad-amount');
    expect(printAmount(amountOf('pieces', 1), 'bolus')).toBe('1 bolus');
    expect(printAmount(amountOf('pieces', 2), 'bolus')).toBe('2 boluses');
  });

  it('prints each kind plainly, below zero too, for a balance', () => {
    expect(printAmount(amountOf('volume', 1240))).toBe('1.24 mL');
    expect(printAmount(amountOf('volume', -500))).toBe('-0.5 mL');
    expect(printAmount(amountOf('mass', 250_000_000))).toBe('250 g');
    expect(printAmount(amountOf('mass', 200))).toBe('200 µg');
    expect(printAmount(amountOf('mass', 1500))).toBe('1.5 mg');
  });

  it('add and compare only among their own kind', () => {
    expect(addAmounts(amountOf('volume', 1), amountOf('volume', 2))).toEqual(amountOf('volume', 3));
    expect(compareAmounts(amountOf('mass', 1), amountOf('mass', 2))).toBeLessThan(0);
    expect(() => addAmounts(amountOf('volume', 1), amountOf('mass', 2))).toThrow(RangeError);
    expect(() => amountOf('volume', 0.5)).toThrow(RangeError);
    expect(() => amountOf('volume', Number.MAX_SAFE_INTEGER + 1)).toThrow(RangeError);
  });
});

describe('weights', () => {
  it('are kept as they were typed', () => {
    expect(parseWeight('62.50 kg', 'weight')).toEqual({ value: '62.50', unit: 'kg' });
    expect(parseWeight('137lbs', 'weight')).toEqual({ value: '137', unit: 'lb' });
    expect(parseWeight('62', 'weight', { unit: 'kg' })).toEqual({ value: '62', unit: 'kg' });
    expect(parseWeight('137 lb', 'weight', { unit: 'kg' })).toEqual({ value: '137', unit: 'lb' });
    expect(toDecimal(kilograms({ value: '137', unit: 'lb' }))).toBe('62.14215469');
    expect(toDecimal(poundsOf({ value: '45.359237', unit: 'kg' }))).toBe('100');
  });

  it.each([
    ['62', 'weight-unit-missing'],
    ['0 kg', 'bad-weight'],
    ['0.000 kg', 'bad-weight'],
    ['-5 kg', 'bad-number'],
    ['62 stone', 'bad-weight'],
    ['5000 g', 'bad-weight'],
    ['62,5 kg', 'bad-number'],
    ['62000 kg', 'bad-weight'],
    ['kg', 'bad-number'],
    ['', 'bad-number'],
    ['62 kg 62 kg', 'bad-weight'],
  ])('refuses %j as %s', (text, code) => {
    expect(refused(() => parseWeight(text, 'weight'))).toMatchObject({ code, field: 'weight' });
  });

  const kg = (value: string) => ({ value, unit: 'kg' as const });
  it.each([
    [kg('62'), undefined, undefined],
    [kg('0.9'), undefined, 'weight-unlikely'],
    [kg('1'), undefined, undefined],
    [kg('160'), undefined, undefined],
    [kg('160.1'), undefined, 'weight-unlikely'],
    [{ value: '353', unit: 'lb' as const }, undefined, 'weight-unlikely'],
    [kg('137'), kg('62'), 'pounds-for-kilograms'],
    [kg('28'), kg('62'), 'kilograms-for-pounds'],
    [{ value: '62', unit: 'lb' as const }, kg('62'), 'kilograms-for-pounds'],
    [kg('620'), kg('62'), 'decimal-point'],
    [kg('6.2'), kg('62'), 'decimal-point'],
    [kg('62'), kg('60'), undefined],
    [kg('100'), kg('60'), 'weight-jump'],
    [kg('40'), kg('60'), 'weight-jump'],
    [kg('90'), kg('60'), undefined],
  ])('of %j after %j asks %s', (now, last, code) => {
    expect(weightQuestion(now, last)?.code).toBe(code);
  });

  it('asks about pounds by name', () => {
    expect(weightQuestion(kg('137'), kg('62'))?.text).toMatch(/137 lb, pounds/);
    expect(weightQuestion({ value: '62', unit: 'lb' }, kg('62'))?.text).toMatch(/62 kg, kilograms/);
  });
});

describe('rates', () => {
  it.each([
    ['0.2 mg/kg', '0.2', '0.2 milligrams for each kilogram'],
    ['200 µg/kg', '0.2', '200 micrograms for each kilogram'],
    ['200 μg/kg', '0.2', '200 micrograms for each kilogram'],
    ['200 mcg per kg', '0.2', '200 micrograms for each kilogram'],
    ['0.1 g/kg bodyweight', '100', '0.1 grams for each kilogram'],
    ['3000 IU/kg', '3000', '3000 international units for each kilogram'],
    ['1 mL per 50 kg', '0.02', '1 millilitre for each 50 kilograms'],
    ['1 mL/5 kg', '0.2', '1 millilitre for each 5 kilograms'],
    ['0.1 mL per kg', '0.1', '0.1 millilitres for each kilogram'],
    ['1 tablet per 10 kg', '0.1', '1 tablet for each 10 kilograms'],
    ['1 mL for each 50 kg', '0.02', '1 millilitre for each 50 kilograms'],
  ])('%s is %s for each kg: %s', (text, each, words) => {
    const rate = parseRate(text, 'rate');
    expect(toDecimal(perKilogram(rate))).toBe(each);
    expect(printRate(rate)).toBe(words);
    expect(parseRate(shortRate(rate), 'rate')).toEqual(rate);
  });

  it.each([
    ['2 mL per head', '2 millilitres for each animal'],
    ['1 bolus per head', '1 bolus for each animal'],
    ['1 dose / head', '1 dose for each animal'],
    ['1 mL / 100 lb', '1 millilitre for each 100 pounds'],
    ['3000 IU/lb', '3000 international units for each pound'],
  ])('%s is %s', (text, words) => {
    expect(printRate(parseRate(text, 'rate'))).toBe(words);
  });

  it('a rate by the pound is exact by the kilogram, and by the head has none', () => {
    const perLb = perKilogram(parseRate('3000 IU/lb', 'rate'));
    expect(compare(perLb, fraction(300_000_000_000n, 45_359_237n))).toBe(0);
    expect(() => perKilogram(parseRate('2 mL per head', 'rate'))).toThrow(RangeError);
  });

  it.each([
    ['0.2 mg', 'bad-rate'],
    ['2 mL', 'bad-rate'],
    ['0 mg/kg', 'bad-rate'],
    ['1 mL per 0 kg', 'bad-rate'],
    ['200 ug/kg', 'bad-rate'],
    ['mg/kg', 'bad-rate'],
    ['0.2/kg', 'bad-rate'],
    ['1 mL per 50', 'bad-rate'],
    ['1 mL per stone', 'bad-rate'],
    ['0,2 mg/kg', 'bad-number'],
    ['-1 mg/kg', 'bad-number'],
    ['', 'bad-rate'],
    ['1 mL per 50 kg '.repeat(10), 'bad-rate'],
  ])('refuses %j as %s', (text, code) => {
    expect(refused(() => parseRate(text, 'doseLines.0.rate.text'))).toMatchObject({
      code,
      field: 'doseLines.0.rate.text',
    });
  });
});

describe('strengths', () => {
  it.each([
    ['1 %', '10', '1 per cent: 1 gram in each 100 millilitres'],
    ['1%', '10', '1 per cent: 1 gram in each 100 millilitres'],
    ['10 mg/mL', '10', '10 milligrams in each millilitre'],
    ['300000 IU/mL', '300000', '300000 international units in each millilitre'],
    ['100 mg in 2.1 mL', '47.6190476', '100 milligrams in 2.1 millilitres'],
    ['10 g/L', '10', '10 grams in each litre'],
    ['52 g in 943 mL', '55.1431601', '52 grams in 943 millilitres'],
  ])('%s is %s in each mL: %s', (text, each, words) => {
    const strength = parseStrength(text, 'strength');
    expect(toDecimal(strengthPerUnit(strength, 'volume'))).toBe(each);
    expect(printStrength(strength)).toBe(words);
  });

  it('counts pieces and powders', () => {
    expect(toDecimal(strengthPerUnit(parseStrength('100 mg per bolus', 'strength'), 'pieces'))).toBe('100');
    expect(toDecimal(strengthPerUnit(parseStrength('500 mg/g', 'strength'), 'mass'))).toBe('0.5');
    expect(toDecimal(strengthPerUnit(parseStrength('50 %', 'strength'), 'mass'))).toBe('0.5');
  });

  it.each([
    ['300,000 IU/mL', 'bad-number'],
    ['0 mg/mL', 'bad-strength'],
    ['0 %', 'bad-strength'],
    ['101 %', 'bad-strength'],
    ['10 mg', 'bad-strength'],
    ['10/mL', 'bad-strength'],
    ['10 mL/mL', 'bad-strength'],
    ['10 mg in 0 mL', 'bad-strength'],
    ['10 mg per barrel', 'bad-strength'],
    ['mg/mL', 'bad-strength'],
    ['%', 'bad-number'],
  ])('refuses %j as %s', (text, code) => {
    expect(refused(() => parseStrength(text, 'actives.0.strength'))).toMatchObject({
      code,
      field: 'actives.0.strength',
    });
  });
});

describe('periods', () => {
  it.each([
    ['28 d', { value: 28, unit: 'd' }],
    ['28 days', { value: 28, unit: 'd' }],
    ['28d', { value: 28, unit: 'd' }],
    ['1 day', { value: 1, unit: 'd' }],
    ['72 h', { value: 72, unit: 'h' }],
    ['72 hours', { value: 72, unit: 'h' }],
    ['0 d', { value: 0, unit: 'd' }],
    ['6 weeks', { value: 42, unit: 'd' }],
    ['35 d + 36 h', { value: 876, unit: 'h' }],
    ['1 d + 6 d', { value: 7, unit: 'd' }],
  ])('%s', (text, period) => {
    expect(parsePeriod(text, 'period')).toEqual(period);
  });

  it('are printed short and in words', () => {
    expect(printPeriod({ value: 28, unit: 'd' })).toBe('28 d');
    expect(periodInWords({ value: 1, unit: 'h' })).toBe('1 hour');
  });

  it.each(['28', '', '2.5 d', '-1 d', '3 months', 'zero', '1 y', '3661 d', '1 d +', '28 d 28 d', '1e3 d'])(
    'refuses %j',
    (text) => {
      expect(refused(() => parsePeriod(text, 'periods.0.value'))).toMatchObject({
        code: 'bad-period',
        field: 'periods.0.value',
      });
    },
  );
});
