import { describe, expect, test } from 'vitest';
import { changedAgain, typeAgain } from '../../src-renderer/screens/label/again.ts';
import {
  blankLabel,
  blankLine,
  draftOf,
  freeId,
  type LabelDraft,
  labelDraftSchema,
  putLines,
  shapeOf,
} from '../../src-renderer/screens/label/draft.ts';
import { readDraft } from '../../src-renderer/screens/label/problems.ts';
import { sampleDoses } from '../../src-renderer/screens/label/reading.ts';
import { type LabelTerms, labelTermsSchema } from '../../src-shared/label/terms.ts';

/** Every field that a label can have. */
const rich: LabelTerms = labelTermsSchema.parse({
  name: 'Morvane Duo',
  form: 'injection',
  kind: 'volume',
  purpose: 'antibiotic',
  prescription: 'vet-prescription',
  actives: [
    { substance: 'morvane', strength: '200 mg/mL', salt: 'morvane hydrate', strengthOf: 'salt' },
    { substance: 'tessel', strength: '50 mg/mL' },
  ],
  narrowMargin: true,
  flowClass: 'oily',
  stains: true,
  irritates: true,
  shakeWell: true,
  doseLines: [
    {
      id: 'a',
      title: 'Lambs',
      classes: ['lamb', 'hogg'],
      against: 'joint ill',
      route: 'subcutaneous',
      rate: { style: 'rate', text: '5 mg/kg', of: 1, perVolume: '1 mL per 10 kg' },
      leastWeight: '5 kg',
      mostWeight: '60 kg',
      leastAge: '7 d',
      mostAge: '365 d',
      mostPerSite: '5 mL',
      mostDose: '10 mL',
      rounding: 'down',
      repeats: { doses: 3, earliest: '20 d', due: '28 d', latest: '35 d', whenLate: 'Start again.' },
      protects: '365 d',
      followedBy: 'b',
    },
    {
      id: 'b',
      classes: [],
      route: 'intramuscular',
      rate: {
        style: 'bands',
        bands: [
          { upTo: '20 kg', dose: '1 mL' },
          { upTo: '40 kg', dose: '2 mL' },
        ],
        from: '5 kg',
        furtherStep: { each: '10 kg', dose: '0.5 mL' },
      },
    },
  ],
  periods: [
    {
      produce: 'meat',
      classes: ['lamb'],
      routes: ['subcutaneous'],
      doseLines: ['a'],
      says: 'value',
      value: '28 d',
      market: 'export',
    },
    { produce: 'milk', says: 'value', value: '36 h', countedFrom: 'later-of-two', valueFromDose: '35 d' },
    { produce: 'wool-handling', says: 'not-stated' },
  ],
  notIf: [
    { id: 'n1', code: 'pregnant-from-to', from: '0 d', to: '35 d', says: 'Not in early pregnancy.' },
    { id: 'n2', code: 'milking' },
  ],
  sucklingYoung: 'Keep lambs away.',
  sucklingMeat: { says: 'value', value: '7 d' },
  inUse: '28 d',
  storage: { says: 'Dark.', leastC: 2, mostC: 8 },
  hazards: { people: 'Irritates.', pregnantWomen: 'Do not handle.', other: 'Fish.' },
  note: 'Second edition.',
});

const drench = (more: Partial<LabelDraft> = {}): LabelDraft => ({
  ...blankLabel,
  name: 'Calverol drench',
  form: 'drench',
  kind: 'volume',
  purpose: 'parasites',
  actives: [{ substance: 'calverol', strength: '10 mg/mL', salt: '', strengthOf: '' }],
  doseLines: [{ ...blankLine('d1'), route: 'oral', rate: { ...blankLine('d1').rate, text: '1 mg/kg' } }],
  periods: blankLabel.periods.map((row) => ({ ...row, says: 'zero' })),
  ...more,
});
const problemsOf = (draft: LabelDraft) => {
  const read = readDraft(draft);
  return 'problems' in read ? read.problems.map((one) => one.field) : [];
};

describe('a label in the form', () => {
  test('every field goes into the form and comes out as it was', () => {
    const shape = shapeOf(draftOf(rich));
    expect(shape.success && shape.data).toEqual(rich);
    expect(problemsOf(draftOf(rich))).toEqual([]);
  });
  test.each(['none', 'at once'])('once opened: %s', (inUse) => {
    const shape = shapeOf(draftOf({ ...rich, inUse }));
    expect(shape.success && shape.data.inUse).toBe(inUse);
  });
  test('what only a needle has is left out of a drench, whatever was typed before', () => {
    const line = { ...drench().doseLines[0]!, mostPerSite: '5 mL' };
    const shape = shapeOf(drench({ doseLines: [line], flowClass: 'oily', stains: true, irritates: true }));
    expect(shape.success && shape.data).toMatchObject({ stains: false, irritates: false });
    expect(shape.success && shape.data.flowClass).toBeUndefined();
    expect(shape.success && shape.data.doseLines[0]?.mostPerSite).toBeUndefined();
  });
  test('a value typed before “not stated” was chosen does not stay behind it', () => {
    const [meat, milk] = drench().periods;
    const shape = shapeOf(drench({ periods: [{ ...meat!, says: 'not-stated', value: '28 d' }, milk!] }));
    expect(shape.success && shape.data.periods[0]).toMatchObject({ says: 'not-stated' });
    expect(shape.success && shape.data.periods[0]?.value).toBeUndefined();
  });
  test('a form kept before a field was there goes on with it empty', () => {
    const kept: unknown = JSON.parse(
      JSON.stringify(draftOf(rich), (name, value: unknown) =>
        ['protects', 'whenLate', 'strengthOf', 'sucklingMeat'].includes(name) ? undefined : value,
      ),
    );
    const found = labelDraftSchema.safeParse(kept);
    expect(found.success && found.data.doseLines[0]).toMatchObject({
      protects: '',
      repeats: { whenLate: '', due: '28 d' },
    });
  });
  test('what a strength counts is left out when the salt is taken out again', () => {
    const shape = shapeOf(
      drench({ actives: [{ substance: 'calverol', strength: '10 mg/mL', salt: ' ', strengthOf: 'salt' }] }),
    );
    expect(shape.success && shape.data.actives).toEqual([{ substance: 'calverol', strength: '10 mg/mL' }]);
  });
  test('with a dose line goes what named it: a period only for it must be answered again, with its text kept', () => {
    const draft = draftOf(rich);
    const [, second] = draft.doseLines;
    const put = putLines(draft, [second!]);
    expect(put.periods[0]).toMatchObject({ says: '', value: '28 d', doseLines: [] });
    expect(put.periods[1]).toEqual(draft.periods[1]);
    expect(problemsOf({ ...draft, ...put })).toContain('periods.0.says');
    // A row that speaks of another line as well goes on for that one.
    const both = {
      ...draft,
      periods: draft.periods.map((row, n) => (n === 0 ? { ...row, doseLines: ['a', 'b'] } : row)),
    };
    expect(putLines(both, [second!]).periods[0]).toMatchObject({ says: 'value', doseLines: ['b'] });
    const [first] = draft.doseLines;
    expect(putLines(draft, [first!]).doseLines[0]?.followedBy).toBe('');
  });
  test('ids of rows are never given twice', () => {
    expect(freeId('d', [{ id: 'd1' }, { id: 'd3' }])).toBe('d2');
  });
});

describe('what is still missing', () => {
  test('an empty label: everything at once, and a period is never taken for granted', () => {
    expect(problemsOf(blankLabel)).toEqual([
      'name',
      'form',
      'kind',
      'purpose',
      'doseLines.0.route',
      'doseLines.0.rate.text',
      'periods.0.says',
      'periods.1.says',
    ]);
  });
  test('each unreadable text has its own field', () => {
    const line = blankLine('d1');
    const found = problemsOf(
      drench({
        actives: [{ substance: 'calverol', strength: '10', salt: '', strengthOf: '' }],
        doseLines: [{ ...line, route: 'oral', rate: { ...line.rate, text: '1 mg' }, leastWeight: '5' }],
        periods: [{ ...blankLabel.periods[0]!, says: 'value', value: '28' }],
        storage: { says: '', leastC: 'cold', mostC: '' },
      }),
    );
    expect(found).toEqual([
      'actives.0.strength',
      'doseLines.0.rate.text',
      'doseLines.0.leastWeight',
      'periods.0.value',
      'storage.leastC',
    ]);
  });
  test('two statements that disagree are found once all can be read', () => {
    const line = drench().doseLines[0]!;
    const rate = { ...line.rate, perVolume: '1 mL per 5 kg' };
    expect(problemsOf(drench({ doseLines: [{ ...line, rate }] }))).toEqual(['doseLines.0.rate.perVolume']);
  });
  test('a label that is unusual is asked about, not refused', () => {
    const line = drench().doseLines[0]!;
    const read = readDraft(drench({ doseLines: [{ ...line, rate: { ...line.rate, text: '50 mg/kg' } }] }));
    expect('questions' in read && read.questions.map((one) => one.code)).toEqual(['much-by-mouth']);
  });
});

describe('what a dose line gives three sheep', () => {
  test('1 mg/kg at 10 mg/mL', () => {
    expect(sampleDoses(drench(), 0).map((one) => one.text)).toEqual(['2 mL', '4.5 mL', '8 mL']);
  });
  test('nothing while it cannot be read, also when the rest of the label is empty', () => {
    expect(sampleDoses(blankLabel, 0)).toEqual([]);
    expect(
      sampleDoses(
        drench({ actives: [{ substance: 'calverol', strength: '', salt: '', strengthOf: '' }] }),
        0,
      ),
    ).toEqual([]);
    expect(sampleDoses(drench({ name: '', form: '', purpose: '', periods: [] }), 0)).toHaveLength(3);
  });
  test('an animal the label has no dose for gets none', () => {
    const line = drench().doseLines[0]!;
    const samples = sampleDoses(drench({ doseLines: [{ ...line, leastWeight: '25 kg' }] }), 0);
    expect(samples.map((one) => one.isDose)).toEqual([false, true, true]);
  });
});

describe('typing again unseen', () => {
  test('rates, bands, strengths and meat periods; nothing else', () => {
    expect(typeAgain(rich).map((one) => one.key)).toEqual([
      'rate-a',
      'from-b',
      'up-to-0-b',
      'band-0-b',
      'up-to-1-b',
      'band-1-b',
      'each-b',
      'step-b',
      'strength-0',
      'strength-1',
      'meat-0',
      'suckling',
    ]);
  });
  const agree = (key: string, text: string) =>
    typeAgain(rich)
      .find((one) => one.key === key)
      ?.agrees(text, key);
  test.each([
    ['rate-a', '5 mg/kg'],
    ['rate-a', '10 mg per 2 kg'],
    ['band-1-b', '2.0 mL'],
    ['strength-0', '20 %'],
    ['meat-0', '4 weeks'],
    ['suckling', '1 week'],
    ['up-to-0-b', '20.0 kg'],
    ['each-b', '10 kg'],
  ])('%s: %s says the same', (key, text) => {
    expect(agree(key, text)).toBe(true);
  });
  test.each([
    ['rate-a', '50 mg/kg'],
    ['rate-a', '5 mg/lb'],
    ['rate-a', '5 mL/kg'],
    ['rate-a', '5 mg per head'],
    ['band-1-b', '20 mL'],
    ['band-1-b', '2 g'],
    ['up-to-0-b', '20 lb'],
    ['up-to-0-b', '25 kg'],
    ['from-b', '50 kg'],
    ['step-b', '5 mL'],
    ['strength-0', '200 IU/mL'],
    ['strength-0', '20 mg/mL'],
    // The same length, but days and hours are counted by different rules.
    ['meat-0', '672 h'],
    ['suckling', '70 d'],
  ])('%s: %s says something else', (key, text) => {
    expect(agree(key, text)).toBe(false);
  });
  test('what to look for is named, and no figure of the first typing stands in it', () => {
    const asked = typeAgain(rich);
    expect(asked.map((one) => one.label)).toEqual([
      'Rate of Lambs, tessel',
      'Table of dose 2: from',
      'Table of dose 2, line 1: up to',
      'Table of dose 2, line 1: dose',
      'Table of dose 2, line 2: up to',
      'Table of dose 2, line 2: dose',
      'Table of dose 2: for each further',
      'Table of dose 2: so much more',
      // Of base and salt the insert prints two figures: the one that was said is the one to look for.
      'Strength of morvane hydrate',
      'Strength of tessel',
      'Meat period, for export, for lambs, under the skin, for the dose Lambs',
      'Meat period of lambs that suck her',
    ]);
    for (const one of asked) expect(one.label).not.toContain(one.text);
  });
  test('a zero is typed again as a zero, and a later of two by both its periods', () => {
    const asked = typeAgain({
      ...rich,
      periods: labelTermsSchema.shape.periods.parse([
        { produce: 'meat', says: 'zero', classes: ['ewe'] },
        { produce: 'meat', says: 'value', value: '36 h', countedFrom: 'later-of-two', valueFromDose: '35 d' },
        { produce: 'meat', says: 'not-stated', classes: ['ram'] },
      ]),
    }).filter((one) => one.key.startsWith('meat'));
    expect(asked.map((one) => one.label)).toEqual([
      'Meat period, for ewes',
      'Meat period',
      'Meat period, from the last dose',
    ]);
    const [zero, , fromDose] = asked;
    for (const text of ['zero', '0 d', '0 h', 'nil']) expect(zero?.agrees(text, 'x')).toBe(true);
    expect(zero?.agrees('7 d', 'x')).toBe(false);
    expect(fromDose?.agrees('35 d', 'x')).toBe(true);
    expect(fromDose?.agrees('36 h', 'x')).toBe(false);
  });
  test('of a correction only what it changes', () => {
    const after = { ...rich, periods: rich.periods.map((row) => ({ ...row, value: '42 d' })) };
    expect(changedAgain(rich, after).map((one) => one.key)).toEqual(['meat-0']);
    expect(changedAgain(rich, rich)).toEqual([]);
    // The same figure, but of another substance: it is looked up again.
    const [first, second] = rich.actives;
    const asBase = { ...rich, actives: [{ ...first!, strengthOf: 'base' as const }, second!] };
    expect(changedAgain(rich, asBase).map((one) => one.key)).toEqual(['strength-0']);
  });
});
