import { describe, expect, it } from 'vitest';
import { TOPICS, workOut } from '../../src-shared/calls/work-out.ts';
import { doseForLine, roundingOf, workOutDose } from '../../src-shared/dose/dose.ts';
import { printWorking } from '../../src-shared/dose/working.ts';
import { type LabelTerms, labelTermsSchema } from '../../src-shared/label/terms.ts';
import { baseOf, parseAmount } from '../../src-shared/quantity/amount.ts';
import { toDecimal } from '../../src-shared/quantity/fraction.ts';
import { parseRate } from '../../src-shared/quantity/rate.ts';
import { parseStrength } from '../../src-shared/quantity/strength.ts';
import { parseWeight } from '../../src-shared/quantity/weight.ts';
import { refused } from './refused.ts';

const dose = (ask: Record<string, unknown>) => workOut('dose', ask);
const marks = (capacity: string, graduation: string) => ({ capacity, graduation });
const lines = (answer: Record<string, unknown>) =>
  (answer.working as { text: string }[]).map((line) => line.text);

describe('one dose', () => {
  it('is a sentence a person can check', () => {
    expect(lines(dose({ weight: '62 kg', rate: '0.2 mg/kg', strength: '10 mg/mL' }))).toEqual([
      '62 kg × 0.2 mg for each kg ÷ 10 mg in each mL = 1.24 mL',
      '1.24 mL rounded to the nearest on marks of 0.1 mL = 1.2 mL',
    ]);
    expect(lines(dose({ weight: '137 lb', rate: '1 mL per 50 kg' }))[0]).toBe(
      '137 lb × 0.45359237 = 62.14215469 kg',
    );
    expect(lines(dose({ weight: '50 kg', rate: '3000 IU/lb', strength: '300000 IU/mL' }))[0]).toBe(
      '50 kg ÷ 0.45359237 = 110.231131 lb',
    );
    expect(lines(dose({ weight: '50 kg', bands: [{ upTo: '60 kg', dose: '3 mL' }] }))[0]).toBe(
      '50 kg is in the band up to 60 kg: 3 mL',
    );
    expect(
      lines(
        dose({
          weight: '75 kg',
          bands: [{ upTo: '60 kg', dose: '3 mL' }],
          furtherStep: { each: '10 kg', dose: '0.5 mL' },
        }),
      )[0],
    ).toBe('75 kg is above 60 kg: 3 mL + 2 × 0.5 mL for each further 10 kg or part = 4 mL');
  });

  it('says what the draw delivers and how far it is off', () => {
    expect(dose({ weight: '62 kg', rate: '0.2 mg/kg', strength: '10 mg/mL', rounding: 'up' })).toMatchObject({
      drawMl: '1.3',
      deliveredPerKg: '0.209677419',
      deliveredUnit: 'mg',
      deviationPercent: '4.83870968',
      warnings: [],
    });
    expect(dose({ weight: '100 lb', rate: '1 mL per 100 lb', strength: '300000 IU/mL' })).toMatchObject({
      deliveredUnit: 'IU',
      deliveredPerKg: '6613.86787',
    });
    expect(dose({ rate: '2 mL per head' })).not.toHaveProperty('deliveredPerKg');
  });

  it('counts pieces whole and a powder in mg', () => {
    expect(dose({ rate: '1 bolus per head' })).toMatchObject({
      exactPieces: '1',
      drawPieces: '1',
      sites: [{ pieces: '1' }],
    });
    expect(dose({ weight: '25 kg', rate: '1 tablet per 10 kg' })).toMatchObject({
      exactPieces: '2.5',
      drawPieces: '3',
    });
    expect(dose({ weight: '25 kg', rate: '10 mg/kg', strength: '100 mg per tablet' })).toMatchObject({
      exactPieces: '2.5',
      drawPieces: '3',
      deliveredPerKg: '12',
    });
    expect(dose({ weight: '43 kg', rate: '10 mg/kg', strength: '500 mg/g' })).toMatchObject({
      exactMg: '860',
      drawMg: '860',
    });
  });

  it('calls a piece what the label calls it', () => {
    expect(lines(dose({ weight: '50 kg', bands: [{ upTo: '60 kg', dose: '2 boluses' }] }))).toEqual([
      '50 kg is in the band up to 60 kg: 2 boluses',
      '2 boluses: no rounding needed on marks of 1 bolus',
    ]);
  });

  it.each([
    [{ rate: '0.2 mg/kg', strength: '1 %' }, 'weight-missing', 'weight'],
    [{ bands: [{ upTo: '20 kg', dose: '2 mL' }] }, 'weight-missing', 'weight'],
    [{ weight: '62 kg', rate: '0.2 mg/kg' }, 'strength-missing', 'strength'],
    [{ weight: '62 kg', rate: '3000 IU/kg', strength: '10 mg/mL' }, 'units-do-not-match', 'strength'],
    [{ weight: '62 kg', rate: '1 mL per 50 kg', most: '1 mL' }, 'over-most', 'most'],
    [{ weight: '62 kg', rate: '1 mL per 50 kg', least: '2 mL' }, 'under-least', 'least'],
    [{ weight: '62 kg', rate: '1 mL per 50 kg', least: '2 tablets' }, 'units-do-not-match', 'least'],
    [{ weight: '9 kg', rate: '1 mL per 50 kg', least: '10 kg' }, 'under-least', 'weight'],
    [{ weight: '91 kg', rate: '1 mL per 50 kg', most: '90 kg' }, 'over-most', 'weight'],
    [{ rate: '2 mL per head', most: '90 kg' }, 'weight-missing', 'weight'],
    [
      { weight: '4 kg', rate: '1 mL per 50 kg', syringe: marks('5 mL', '0.2 mL') },
      'draws-to-zero',
      'syringe',
    ],
    [
      { weight: '9 kg', rate: '1 mL per 50 kg', syringe: marks('5 mL', '0.2 mL'), rounding: 'down' },
      'draws-to-zero',
      'syringe',
    ],
    [{ rate: '2 mL per head', syringe: marks('5 mL', '0 mL') }, 'bad-syringe', 'syringe.graduation'],
    [{ rate: '2 mL per head', syringe: marks('1 mL', '2 mL') }, 'bad-syringe', 'syringe.graduation'],
    [{ rate: '2 mL per head', syringe: marks('5 tablets', '1 mL') }, 'bad-syringe', 'syringe.capacity'],
    [
      { rate: '2 mL per head', syringe: marks('5 mL', '1 mL'), maxPerSite: '0.5 mL' },
      'site-below-graduation',
      'maxPerSite',
    ],
    [{ rate: '200 mL per head', maxPerSite: '1 mL' }, 'too-many-sites', 'maxPerSite'],
    [{ rate: '2 mL per head', maxPerSite: '1 tablet' }, 'units-do-not-match', 'maxPerSite'],
    [
      {
        weight: '30 kg',
        bands: [
          { upTo: '20 kg', dose: '2 mL' },
          { upTo: '20 kg', dose: '3 mL' },
        ],
      },
      'bad-bands',
      'bands.1.upTo',
    ],
    [
      {
        weight: '30 kg',
        bands: [
          { upTo: '20 kg', dose: '2 mL' },
          { upTo: '30 kg', dose: '1 bolus' },
        ],
      },
      'bad-bands',
      'bands.1.dose',
    ],
    [{ weight: '30 kg', bands: [{ upTo: '20 kg', dose: '0 mL' }] }, 'bad-bands', 'bands.0.dose'],
    [{ weight: '30 kg', bands: [{ upTo: '20 kg', dose: '2 mL' }], from: '25 kg' }, 'bad-bands', 'from'],
    [{ weight: '30 kg', bands: [{ upTo: 'heavy', dose: '2 mL' }] }, 'bad-number', 'bands.0.upTo'],
    [{ weight: '30 kg', rate: '1 mL/kg', bands: [{ upTo: '20 kg', dose: '2 mL' }] }, 'bad-input', 'rate'],
    [{ weight: '30 kg' }, 'bad-input', 'rate'],
    [{ weight: '30 kg', rate: '1 mL/kg', from: '10 kg' }, 'bad-input', 'from'],
    [{ weight: 30, rate: '1 mL/kg' }, 'bad-input', 'weight'],
    [{ weight: '30 kg', rate: '1 mL/kg', colour: 'red' }, 'bad-input', 'colour'],
    [{ weight: '30 kg', bands: [{ upTo: '20 kg', dose: '2 mL', x: 1 }] }, 'bad-input', 'bands.0.x'],
    [{ weight: '30 kg', bands: [] }, 'bad-input', 'bands'],
    [{ weight: '30 kg', rate: '1 mL/kg', rounding: 'sideways' }, 'bad-input', 'rounding'],
    [{ weight: 'x'.repeat(500), rate: '1 mL/kg' }, 'bad-input', 'weight'],
  ])('%j is refused as %s at %s', (ask, code, field) => {
    const refusal = refused(() => dose(ask));
    expect({ code: refusal.code, field: refusal.field }).toEqual({ code, field });
    expect(refusal.message).toMatch(/^[A-Z0-9“][^\n]{10,180}[.]$/);
  });

  it('warns of a draw beyond the syringe, of more than 5 % off, and of an unlikely weight', () => {
    const codes = (ask: Record<string, unknown>) =>
      (dose(ask).warnings as { code: string }[]).map((one) => one.code);
    expect(codes({ rate: '7 mL per head', syringe: marks('5 mL', '0.2 mL') })).toEqual(['over-capacity']);
    expect(codes({ rate: '7 mL per head', syringe: marks('5 mL', '0.2 mL'), maxPerSite: '5 mL' })).toEqual(
      [],
    );
    expect(codes({ weight: '12 kg', rate: '1 mL per 50 kg', syringe: marks('5 mL', '0.2 mL') })).toEqual([
      'finer-syringe',
    ]);
    expect(codes({ weight: '200 kg', rate: '1 mL per 50 kg' })).toEqual(['weight-unlikely']);
    // Exactly 5 % off is not beyond it.
    expect(codes({ rate: '2 mL per head', syringe: marks('5 mL', '0.1 mL') })).toEqual([]);
    expect(codes({ weight: '40 kg', rate: '0.1 mL per kg', syringe: marks('5 mL', '0.6 mL') })).toEqual([]);
  });

  it('asks whether so much can be meant for one sheep', () => {
    const codes = (rate: string) =>
      (dose({ weight: '60 kg', rate, strength: '1 mg/mL' }).warnings as { code: string }[]).map(
        (one) => one.code,
      );
    expect(codes('2.5 mg/kg')).toEqual([]);
    expect(codes('2.6 mg/kg')).toEqual(['much-at-once']);
  });

  it('asks for no finer marks where only whole pieces can be given', () => {
    const tablets = (weight: string) => dose({ weight, rate: '1 tablet per 50 kg' });
    expect(tablets('60 kg')).toMatchObject({ drawPieces: '1', warnings: [{ code: 'whole-pieces' }] });
    expect(JSON.stringify(tablets('60 kg').warnings)).not.toMatch(/marks|syringe/);
    expect(refused(() => tablets('10 kg')).next).not.toMatch(/marks|syringe/);
  });

  it('keeps a weight in kg with all the digits that pounds have', () => {
    const bands = [
      { upTo: '50 lb', dose: '5 mL' },
      { upTo: '100 lb', dose: '10 mL' },
    ];
    expect(dose({ weight: '22.6796185 kg', bands }).drawMl).toBe('5');
    expect(dose({ weight: '22.679618501 kg', bands }).drawMl).toBe('10');
  });

  it('gives the least and the most themselves', () => {
    expect(dose({ weight: '50 kg', rate: '1 mL per 50 kg', least: '1 mL', most: '1 mL' }).drawMl).toBe('1');
  });
});

describe('any topic', () => {
  it('is refused by name when there is none', () => {
    const refusal = refused(() => workOut('colour', {}));
    expect(refusal.code).toBe('unknown-topic');
    for (const name of TOPICS.keys()) expect(refusal.message).toContain(name);
    expect(refused(() => workOut('constructor', {})).code).toBe('unknown-topic');
  });

  it.each([...TOPICS.keys()])('%s refuses what is no object', (name) => {
    for (const ask of [null, undefined, [], 'x', 7, {}]) {
      const { code, field } = refused(() => workOut(name, ask));
      expect(code).toBe('bad-input');
      expect(field).toBeTruthy();
    }
  });

  it('says that a count is missing and not that it does not fit', () => {
    const without = (name: string, ask: object) => refused(() => workOut(name, ask));
    expect(without('draft', { weights: ['20 kg'], rate: '1 mL/kg' })).toMatchObject({
      field: 'groups',
      message: 'Groups: it is missing.',
    });
    expect(without('sample', { weighed: 10, picked: 'random' })).toMatchObject({
      field: 'heads',
      message: 'Heads: it is missing.',
    });
    expect(without('draft', { weights: ['20 kg'], rate: '1 mL/kg', groups: [] }).message).toBe(
      'Groups: it must be text in quotes or a number.',
    );
  });

  it('clearance names what it cannot read', () => {
    const ask = { lastDose: '2026-03-01T08:00', zone: 'Europe/London', period: '28 d' };
    const field = (more: object) => refused(() => workOut('clearance', { ...ask, ...more })).field;
    expect(field({ lastDose: '2026-06-31' })).toBe('lastDose');
    expect(field({ zone: '+01:00' })).toBe('zone');
    expect(field({ period: '28' })).toBe('period');
    expect(field({ counting: 'early' })).toBe('counting');
    expect(field({ milkingHours: '0' })).toBe('milkingHours');
    expect(field({ milkingHours: '0.001' })).toBe('milkingHours');
    expect(workOut('clearance', { ...ask, period: '72 h', milkingHours: 12 }).firstMilkingKept).toBe(6);
  });

  it('replies are plain JSON', () => {
    const replies = [
      dose({ weight: '62 kg', rate: '0.2 mg/kg', strength: '1 %' }),
      workOut('clearance', {
        lastDose: '2026-03-01',
        zone: 'Europe/London',
        period: '28 d',
        milkingHours: '12',
      }),
      workOut('identity', { read: '826012345600001' }),
      workOut('label-check', { rate: '0.2 mg/kg', perVolume: '1 mL per 50 kg', strength: '1 %' }),
    ];
    for (const reply of replies) {
      expect(JSON.parse(JSON.stringify(reply))).toEqual(reply);
      expect((reply.working as unknown[]).length).toBeGreaterThan(0);
      expect(Array.isArray(reply.warnings)).toBe(true);
    }
  });
});

function label(more: Record<string, unknown> = {}, line: Record<string, unknown> = {}): LabelTerms {
  return labelTermsSchema.parse({
    name: 'Test drench',
    form: 'drench',
    kind: 'volume',
    purpose: 'other',
    actives: [{ substance: 'testate', strength: '10 mg/mL' }],
    doseLines: [{ id: 'a', route: 'oral', rate: { style: 'rate', text: '0.2 mg/kg' }, ...line }],
    ...more,
  });
}

describe('a dose line', () => {
  const ewe = { class: 'ewe', weight: parseWeight('62 kg', 'weight') } as const;
  const draw = (terms: LabelTerms, given: Parameters<typeof doseForLine>[2] = ewe) =>
    baseOf(doseForLine(terms, 'a', given).draw);

  it('rounds by its purpose: parasites up, a narrow margin down before all, else nearest', () => {
    expect(draw(label())).toBe(1200);
    expect(draw(label({ purpose: 'parasites' }))).toBe(1300);
    expect(draw(label({ narrowMargin: true }))).toBe(1200);
    expect(
      roundingOf(label({ purpose: 'parasites', narrowMargin: true }), label().doseLines[0] ?? never()),
    ).toBe('down');
    expect(draw(label({ narrowMargin: true }, { rounding: 'up' }))).toBe(1300);
  });

  it('takes the strength of the container that was made up before the label’s', () => {
    expect(draw(label(), { ...ewe, containerStrength: '5 mg/mL' })).toBe(2500);
  });

  it('uses the active substance the rate is of', () => {
    const two = {
      actives: [
        { substance: 'one', strength: '10 mg/mL' },
        { substance: 'two', strength: '20 mg/mL' },
      ],
    };
    expect(draw(label(two, { rate: { style: 'rate', text: '0.2 mg/kg', of: 1 } }))).toBe(620);
  });

  it.each([
    [{ classes: ['lamb'] }, {}, 'class-not-on-label'],
    [{ leastWeight: '62.1 kg' }, {}, 'too-light'],
    [{ mostWeight: '61.9 kg' }, {}, 'too-heavy'],
    [{ leastAge: '6 weeks' }, { ageDays: 41 }, 'too-young'],
    [{ mostAge: '42 d' }, { ageDays: 43 }, 'too-old'],
    [{ mostDose: '1 mL' }, {}, 'over-most'],
    [{ leastWeight: '10 kg' }, { weight: undefined }, 'weight-missing'],
    [{}, { weight: undefined }, 'weight-missing'],
    [
      { leastWeight: '10 kg', rate: { style: 'rate', text: '1 mL per head' } },
      { weight: undefined },
      'weight-missing',
    ],
  ])('%j with %j is refused as %s', (line, given, code) => {
    expect(refused(() => doseForLine(label({}, line), 'a', { ...ewe, ...given })).code).toBe(code);
  });

  it('says beside the limit what this animal is', () => {
    const says = (line: Record<string, unknown>, given: object) =>
      refused(() => doseForLine(label({}, line), 'a', { ...ewe, ...given })).message;
    expect(says({ leastWeight: '62.1 kg' }, {})).toBe(
      'Weight: the label is not for animals under 62.1 kg, and this one is 62 kg.',
    );
    expect(says({ leastAge: '42 d' }, { ageDays: 1 })).toBe(
      'Age: the label is not for animals under 42 d, and this one is 1 day old.',
    );
  });

  it('allows the limits themselves, and warns when the age is not known', () => {
    const line = { leastWeight: '62 kg', mostWeight: '62 kg', leastAge: '42 d', mostAge: '42 d' };
    expect(doseForLine(label({}, line), 'a', { ...ewe, ageDays: 42 }).warnings).toEqual([]);
    expect(doseForLine(label({}, { leastAge: '42 d' }), 'a', ewe).warnings.map((one) => one.code)).toEqual([
      'age-not-known',
    ]);
  });

  it('names a line the label does not have', () => {
    expect(refused(() => doseForLine(label(), 'b', ewe)).code).toBe('dose-line-unknown');
  });

  it('works from bands, sites and pieces', () => {
    const bolus = label(
      { kind: 'pieces', piece: 'pellet', form: 'bolus', actives: [] },
      { rate: { style: 'bands', bands: [{ upTo: '70 kg', dose: '2 pellets' }] } },
    );
    const answer = doseForLine(bolus, 'a', ewe);
    expect(baseOf(answer.draw)).toBe(2);
    expect(printWorking(answer.working)[0]?.text).toBe('62 kg is in the band up to 70 kg: 2 pellets');
    const sites = doseForLine(
      label({}, { rate: { style: 'rate', text: '1 mL per 10 kg' }, mostPerSite: '4 mL' }),
      'a',
      ewe,
    );
    expect(sites.sites.map(baseOf)).toEqual([3100, 3100]);
  });

  it('doses a powder by its own grams when it has no strength', () => {
    const powder = label(
      { kind: 'mass', form: 'powder', actives: [] },
      { rate: { style: 'rate', text: '5 g per 50 kg' } },
    );
    expect(draw(powder)).toBe(6_200_000);
  });
});

describe('exactness', () => {
  it('never carries a rounding before the last', () => {
    const answer = workOutDose({
      weight: parseWeight('0.3 kg', 'weight'),
      rate: parseRate('0.1 mg/kg', 'rate'),
      strength: parseStrength('0.003 mg/mL', 'strength'),
    });
    expect(toDecimal(answer.exact)).toBe('10');
    expect(answer.deviationPercent).toEqual({ n: 0n, d: 1n });
  });

  it('refuses a dose beyond what is counted exactly', () => {
    const ask = {
      weight: parseWeight('9999 kg', 'weight'),
      rate: parseRate('999999999999 mL/kg', 'rate'),
      maxPerSite: parseAmount('5 mL', 'maxPerSite'),
    };
    expect(refused(() => workOutDose(ask)).code).toBe('dose-too-large');
  });
});

function never(): never {
  throw new Error('The label has no line.');
}
