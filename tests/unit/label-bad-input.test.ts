import { describe, expect, test } from 'vitest';
import {
  blankLabel,
  blankLine,
  blankPeriod,
  blankRule,
  type LabelDraft,
} from '../../src-renderer/screens/label/draft.ts';
import { readDraft } from '../../src-renderer/screens/label/problems.ts';

/** What people type amiss into the fields of a label: one sentence, beginning with what the field is called on the form. */

type Put = (text: string) => LabelDraft;
const line = blankLine('d1');
const label = (more: Partial<LabelDraft> = {}, rate: Partial<typeof line.rate> = {}): LabelDraft => ({
  ...blankLabel,
  name: 'Calverol',
  form: 'injection',
  kind: 'volume',
  purpose: 'antibiotic',
  actives: [{ substance: 'calverol', strength: '10 mg/mL', salt: '', strengthOf: '' }],
  doseLines: [{ ...line, route: 'subcutaneous', rate: { ...line.rate, text: '0.2 mg/kg', ...rate } }],
  periods: [
    { ...blankPeriod('meat'), says: 'value', value: '28 d' },
    { ...blankPeriod('milk'), says: 'zero' },
  ],
  ...more,
});
const onLine = (more: Partial<typeof line>) => label({ doseLines: [{ ...label().doseLines[0]!, ...more }] });

const dose: Put = (text) => label({}, { text });
const beside: Put = (perVolume) => label({}, { perVolume });
const strength: Put = (text) =>
  label({ actives: [{ substance: 'calverol', strength: text, salt: '', strengthOf: '' }] });
const meat: Put = (value) =>
  label({ periods: [{ ...blankPeriod('meat'), says: 'value', value }, ...label().periods.slice(1)] });
const least: Put = (leastWeight) => onLine({ leastWeight });
const inOnePlace: Put = (mostPerSite) => onLine({ mostPerSite });
const due: Put = (text) => onLine({ repeats: { ...line.repeats, doses: '2', due: text } });
const protects: Put = (text) => onLine({ protects: text });
const tooLight: Put = (value) => label({ notIf: [{ ...blankRule('n1'), code: 'lighter-than', value }] });
const upTo: Put = (text) => label({}, { style: 'bands', bands: [{ upTo: text, dose: '2 mL' }] });
const bandDose: Put = (text) => label({}, { style: 'bands', bands: [{ upTo: '20 kg', dose: text }] });

describe.each([
  ['Dose', 'doseLines.0.rate.text', dose],
  ['Printed also as', 'doseLines.0.rate.perVolume', beside],
  ['Strength', 'actives.0.strength', strength],
  ['Period', 'periods.0.value', meat],
  ['Not under, weight', 'doseLines.0.leastWeight', least],
  ['Most in one place', 'doseLines.0.mostPerSite', inOnePlace],
  ['The next is due after', 'doseLines.0.repeats.due', due],
  ['It protects for', 'doseLines.0.protects', protects],
  ['Not if', 'notIf.0.value', tooLight],
  ['Up to', 'doseLines.0.rate.bands.0.upTo', upTo],
  ['Dose', 'doseLines.0.rate.bands.0.dose', bandDose],
] as const)('%s (%s)', (name, field, put) => {
  test.each(['0,5', '1e999', '２', '-1', '7', 'some', '5 stone', '1e999 kg', '0,5 mL per kg', '２0 mg/mL'])(
    '%s',
    (text) => {
      const read = readDraft(put(text));
      expect('problems' in read && read.problems.map((one) => one.field)).toEqual([field]);
      const message = 'problems' in read ? (read.problems[0]?.message ?? '') : '';
      expect(message.slice(0, name.length + 2)).toBe(`${name}: `);
      // One sentence: it ends once, and does not run on.
      expect(message).toMatch(/^[^.!?]*(?:\d\.\d[^.!?]*)*\.$/);
      expect(message.length).toBeLessThan(170);
    },
  );
});

test.each([
  [dose('0 mg/kg'), 'Dose: a dose rate must be above zero.'],
  [dose('10000 mg/kg'), 'Dose: that is more than 5,000 mg for each kilogram; check the unit.'],
  [
    dose('10,000 mg/kg'),
    'Dose: write a point, not a comma, and nothing between thousands, as in 1.5 or 1500.',
  ],
  [dose('1e999 mg/kg'), 'Dose: write “1e999” out in plain digits.'],
  [dose('０.2 mg/kg'), 'Dose: “０.2” is not a number in plain digits, as in 12 or 0.5.'],
  [dose('1 bolus per head'), 'Dose: this medicine is measured in mL, so write it so.'],
  [strength('0 mg/mL'), 'Strength: a strength must be above zero.'],
  [strength('0 %'), 'Strength: a strength in % lies above 0 and at most at 100.'],
  [strength('10 mg per bolus'), 'Strength: this medicine is measured in mL, so write it so.'],
  [strength('300000 IU/mL'), 'Strength: write it in the unit of the rate, both mg or both IU.'],
  [
    beside('1 mL per 48.5 kg'),
    'Printed also as: “0.2 mg/kg” and “1 mL per 48.5 kg” are not the same dose at this strength, they differ by 3.1 %.',
  ],
  [meat('28'), 'Period: write d for days or h for hours after “28”.'],
  [meat('3 months'), 'Period: months and years differ in length; write the days, as in 28 d.'],
  [inOnePlace('0 mL'), 'Most in one place: it must be above zero.'],
])('%#: said as it stands on the form', (draft, message) => {
  const read = readDraft(draft);
  expect('problems' in read && read.problems.map((one) => one.message)).toEqual([message]);
});
