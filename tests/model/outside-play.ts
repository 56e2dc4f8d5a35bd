import fc from 'fast-check';
import type { Ask } from '../../src-shared/calls/all.ts';
import type { HistoryDesk } from './play-desk.ts';

/** A made-up history of treatments in and outside their labels, as calls to the desk in the order in which they are made. */
const maybe = <T>(some: fc.Arbitrary<T>, weight: number, none: number): fc.Arbitrary<T | undefined> =>
  fc.oneof({ weight, arbitrary: some }, { weight: none, arbitrary: fc.constant(undefined) });
const pick = fc.nat({ max: 999 });
const PERIODS = ['0 d', '1 d', '3 d', '7 d', '14 d', '28 d', '49 d', '36 h', '60 h', '108 h'] as const;
const period = fc.constantFrom(...PERIODS);
/** About 17 May 2024, when the law of Great Britain changed, and days of the year of the book. */
const DAYS = [
  '2024-05-15',
  '2024-05-16T23:30',
  '2024-05-17',
  '2024-05-18T08:00',
  '2026-04-01T08:00',
  '2026-04-20',
] as const;

const row = (produce: 'meat' | 'milk') =>
  fc
    .record({
      says: fc.oneof(
        { weight: 6, arbitrary: fc.constant('value' as const) },
        { weight: 1, arbitrary: fc.constant('zero' as const) },
        { weight: 1, arbitrary: fc.constant('not-stated' as const) },
        {
          weight: 2,
          arbitrary: fc.constant(
            produce === 'milk' ? ('not-for-this-produce' as const) : ('for-life' as const),
          ),
        },
      ),
      value: period,
      classes: fc.constantFrom<'lamb'[]>([], [], ['lamb']),
    })
    .map(({ says, value, classes }) => ({ produce, says, classes, ...(says === 'value' ? { value } : {}) }));
const other = fc
  .record({
    produce: fc.constantFrom('meat' as const, 'milk' as const),
    says: fc.constantFrom(
      'value' as const,
      'value' as const,
      'zero' as const,
      'not-for-this-produce' as const,
    ),
    value: period,
    otherFamily: fc.boolean(),
  })
  .map(({ value, ...rest }) => ({ animal: 'others', ...rest, ...(rest.says === 'value' ? { value } : {}) }));
const label = fc.record({
  /** Half of the labels print nothing for sheep but rows for other animals. */
  meat: fc.array(row('meat'), { maxLength: 2 }),
  milk: fc.array(row('milk'), { maxLength: 1 }),
  others: fc.array(other, { maxLength: 3 }),
  ewesOnly: fc.constantFrom(false, false, false, true),
});
type Label = typeof label extends fc.Arbitrary<infer T> ? T : never;

const treat = fc.record({
  do: fc.constant('treat' as const),
  subject: pick,
  medicine: pick,
  given: fc.constantFrom('6 mL', '6.6 mL', '6.7 mL', '12 mL', '12 mL', '2 mL'),
  route: maybe(fc.constant('subcutaneous' as const), 1, 5),
  day: fc.constantFrom(...DAYS),
  instruction: maybe(pick, 4, 1),
});
const instruct = fc.record({
  do: fc.constant('instruct' as const),
  medicine: maybe(pick, 1, 3),
  subject: maybe(pick, 1, 3),
  until: maybe(fc.constantFrom('2024-05-16', '2026-04-10'), 1, 3),
  meat: maybe(period, 8, 1),
  milk: maybe(period, 4, 1),
});
const step = fc.oneof(
  { weight: 12, arbitrary: treat },
  { weight: 4, arbitrary: instruct },
  {
    weight: 3,
    // The same animal, medicine and day as one before: a whole dose, or the half of one.
    arbitrary: fc.record({
      do: fc.constant('again' as const),
      pick,
      given: fc.constantFrom('6 mL', '6 mL', '3 mL', '2 mL'),
      instruction: maybe(pick, 1, 1),
    }),
  },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('label' as const), medicine: pick, label }) },
  {
    weight: 3,
    arbitrary: fc.record({
      do: fc.constant('correct' as const),
      pick,
      instruction: maybe(pick, 2, 1),
      day: maybe(fc.constantFrom(...DAYS), 1, 1),
      subject: maybe(pick, 1, 2),
    }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('void' as const), pick }) },
);
export const outsideScripts = fc.record({
  law: fc.constantFrom(
    'gb' as const,
    'gb' as const,
    'gb' as const,
    'eu' as const,
    'ni' as const,
    'nz' as const,
    'us' as const,
    'other' as const,
  ),
  counting: fc.constantFrom('24-hour' as const, 'whole-days' as const, 'later' as const),
  labels: fc.tuple(label, label, label),
  steps: fc.array(step, { minLength: 12, maxLength: 30, size: 'max' }),
});
export type OutsideScript = typeof outsideScripts extends fc.Arbitrary<infer T> ? T : never;

function termsFrom(name: string, { meat, milk, others, ewesOnly }: Label): Ask<'check-label'>['terms'] {
  return {
    name,
    form: 'drench',
    kind: 'volume',
    purpose: 'parasites',
    actives: [{ substance: 'calverol', strength: '10 mg/mL' }],
    doseLines: [
      {
        id: 'oral',
        route: 'oral',
        rate: { style: 'rate', text: '1 mg/kg' },
        ...(ewesOnly ? { classes: ['ewe' as const] } : {}),
      },
    ],
    periods: [...meat, ...milk],
    ...(others.length === 0 ? {} : { others }),
  };
}

const one = <T>(from: readonly T[], n: number): T | undefined => from[n % Math.max(1, from.length)];

/** Begins a book and makes the calls; what the desk refuses is left at that. */
export async function playOutside(desk: HistoryDesk, script: OutsideScript): Promise<void> {
  const { holding, person } = await desk.must('start-book', {
    business: { name: 'Invented Sheep', address: 'Nowhere' },
    holding: {
      name: 'Invented',
      number: '1',
      address: 'Nowhere',
      zone: 'Europe/London',
      law: script.law,
      milk: true,
      counting: script.counting,
    },
    keeper: { name: 'Ida Invented', roles: ['owner', 'keeper'] },
    happened: '2024-01-01T08:00',
  });
  desk.writeAs(person);
  const { person: vet } = await desk.must('set-person', { name: 'Vet Invented', roles: ['vet'] });
  const medicines: { medicine: string; revision: string; name: string }[] = [];
  for (const [i, each] of script.labels.entries()) {
    const name = `Ovimendol ${'ABC'[i]}`;
    const { medicine, revision } = await desk.must('set-label', {
      act: 'first',
      terms: termsFrom(name, each),
    });
    medicines.push({ medicine, revision, name });
  }
  const subjects: `animal:${string}`[] = [];
  for (const [i, cls] of (['ewe', 'ewe', 'lamb'] as const).entries()) {
    const { animal } = await desk.must('set-animal', {
      holding,
      management: `10${i}`,
      class: cls,
      milking: i === 0,
      happened: '2024-02-01',
    });
    subjects.push(`animal:${animal}`);
    await desk.must('weigh', {
      subject: `animal:${animal}`,
      weight: '60 kg',
      how: 'crate',
      happened: '2024-02-01',
    });
  }
  const instructions: string[] = [];
  const treatments: string[] = [];
  const whom = (step: { subject: number; medicine: number }) => ({
    subject: one(subjects, step.subject) ?? ('animal:nobody' as const),
    medicine: one(medicines, step.medicine)?.medicine ?? '',
  });
  const given: (Pick<Extract<OutsideScript['steps'][number], { do: 'treat' }>, 'route' | 'day'> &
    ReturnType<typeof whom>)[] = [];
  for (const step of script.steps) {
    if (step.do === 'treat' || step.do === 'again') {
      const asked = step.do === 'treat' ? { ...step, ...whom(step) } : one(given, step.pick);
      if (asked === undefined) continue;
      if (step.do === 'treat') given.push(asked);
      const reply = await desk.tell('treat', {
        subject: asked.subject,
        given: step.given,
        route: asked.route,
        happened: asked.day,
        single: {
          medicine: asked.medicine,
          reason: 'invented',
          source: 'vet',
          doseLine: 'oral',
          instruction: step.instruction === undefined ? undefined : one(instructions, step.instruction),
        },
      });
      treatments.push(...(reply?.administrations ?? []));
    } else if (step.do === 'instruct') {
      const periods = (['meat', 'milk'] as const).flatMap((produce) => {
        const said = step[produce];
        return said === undefined ? [] : [{ produce, period: said }];
      });
      const subject = step.subject === undefined ? undefined : one(subjects, step.subject);
      const reply = await desk.tell('record-instruction', {
        vet,
        what: 'invented',
        form: 'told',
        reason: 'invented',
        periods,
        subjects: subject === undefined ? [] : [subject],
        medicine: step.medicine === undefined ? undefined : one(medicines, step.medicine)?.medicine,
        validUntil: step.until,
        happened: '2024-03-01',
      });
      if (reply) instructions.push(reply.instruction);
    } else if (step.do === 'label') {
      const found = one(medicines, step.medicine);
      if (!found) continue;
      const { medicine, revision, name } = found;
      await desk.tell('set-label', {
        act: 'typed-wrongly',
        medicine,
        revision,
        terms: termsFrom(name, step.label),
        why: 'mistyped',
      });
    } else if (step.do === 'correct') {
      const administration = one(treatments, step.pick);
      if (administration === undefined) continue;
      await desk.tell('correct-treatment', {
        administration,
        reason: 'mistyped',
        instruction: step.instruction === undefined ? undefined : one(instructions, step.instruction),
        local: step.day,
        subject: step.subject === undefined ? undefined : one(subjects, step.subject),
      });
    } else {
      const administration = one(treatments, step.pick);
      const shown =
        administration === undefined ? undefined : await desk.tell('treatment', { administration });
      if (shown?.stands === true) await desk.tell('void', { entry: shown.entry, reason: 'never happened' });
    }
  }
}
