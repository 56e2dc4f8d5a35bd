import { doseForLine } from '../../../src-shared/dose/dose.ts';
import { doseInGroup } from '../../../src-shared/dose/group-part.ts';
import { type HoldDecision, unitsOf } from '../../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { amountOf } from '../../../src-shared/quantity/amount.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { laterLocal } from '../../../src-shared/time/local.ts';
import { OFF_LABEL_LAWS } from '../../../src-shared/withdrawal/off-label-laws.ts';
import type { Reader, Store } from '../../store/store.ts';
import { organicRulesOn } from '../reading/certificates.ts';
import { type Holding, holdingOf, recordOf } from '../reading/holding.ts';
import { instructionOf } from '../reading/instructions.ts';
import { subjectsOf } from '../reading/subjects.ts';
import { type Administered, ageOn, syringeOf } from './core.ts';
import type { Moved } from './doses-before.ts';
import { decided } from './holds.ts';
import { groupAsGiven, isOverFor } from './in-group.ts';
import { instructionDeviations, statedBy } from './instructed.ts';
import { labelDeviations } from './outside-label.ts';
import { dayDeviation, lineOfRepeats, othersThatDay } from './same-day.ts';

/** An administration as its table has it. */
export type GivenRow = { id: string; seq: number; subject: string; at: string; local: string; data: string };

/** Deviations that follow from the label: under corrected terms they are found anew. All others stay as named. */
const FROM_LABEL = new Set([
  'above-last-band',
  'age-not-known',
  'below-first-band',
  'class-not-on-label',
  'dose-line-unknown',
  'draws-to-zero',
  'group-dose',
  'other-than-worked-out',
  'over-label',
  'made-up-by-volume',
  'more-doses',
  'not-for-sheep',
  'other-route',
  'over-most',
  'repeated-early',
  'strength-missing',
  'too-heavy',
  'too-light',
  'too-old',
  'too-young',
  'under-least',
  'under-own-dose',
  'vaccine-early',
  'weight-missing',
]);

/** The holds that stand for an administration, whatever was decided about it since. */
export function standingHolds(tx: Reader, row: Pick<GivenRow, 'id' | 'subject'>): HoldDecision[] {
  return tx
    .all<{ data: string }>(
      'SELECT data FROM hold WHERE subject = ? AND source = ? ORDER BY produce, market, clock',
      row.subject,
      `administration:${row.id}`,
    )
    .map(({ data }) => JSON.parse(data) as HoldDecision);
}

/** Every revision an administration was drawn from or stated under. */
export function revisionsOf(data: Administered): string[] {
  return data.source.kind === 'ours'
    ? [...new Set(data.source.draws.map((draw) => draw.revision))]
    : [data.source.revision];
}

/**
 * What one administration's holds are under these labels: by the same rules as when it was given, from what its
 * entry keeps (class, route, dose line, weight, dose, local time and zone, the vet's instruction) and from what has
 * happened since (the course was closed). What waits for an event waits again, and is settled anew when it is
 * written. An open course holds to its planned last dose. The way of counting and the farm's margin stay those of the first decision.
 * @param termsOf the label of each revision, corrected or as it stands; draws from several take the longest of all
 */
export function decideAnew(
  store: Pick<Store, 'entry'>,
  tx: Reader,
  row: GivenRow,
  termsOf: (revision: string) => LabelTerms,
  /** A course that is being closed, so that its last dose given counts and not its last one planned, or opened again. */
  turning?: { course: string; to: 'open' | 'closed' },
  /** Heads that are only now said to have come to it. */
  moved?: readonly Moved[],
): { holds: HoldDecision[]; overLabel: boolean } {
  const data = JSON.parse(row.data) as Administered;
  const standing = standingHolds(tx, row);
  const holding = holdingOf(tx, data.holding);
  const zone = store.entry(row.seq)?.happened.zone ?? holding.zone;
  const revisions = revisionsOf(data).map((revision) => ({ terms: termsOf(revision) }));
  const deviations = deviationsAnew(tx, data, row, revisions[0]?.terms, moved);
  const instruction = data.instruction === undefined ? undefined : instructionOf(tx, data.instruction);
  // Who was in a lot may have been written since: whom the vet's word is for is found anew.
  const followed = { medicine: data.medicine, subjects: [data.subject], local: row.local, zone, at: row.at };
  const milk = standing.find(
    (hold) => hold.produce === 'milk' && hold.market === 'domestic' && hold.clock === 'food',
  );
  const openCourse = data.course && openCourseOf(tx, data.course, turning);
  const counting = standing.find((hold) => hold.counting !== undefined)?.counting ?? holding.counting;
  const marginDays = marginOf(standing) ?? holding.marginDays;
  const milking = milkingThen(tx, data.subject, milk);
  const fresh = decided(
    {
      holding: {
        counting,
        marginDays,
        law: lawOf(standing) ?? holding.law,
        atFoot: atFootOf(standing, holding),
      },
      subject: { class: data.class, milking: milking ? 1 : 0 },
      happened: { local: row.local, zone },
      stated: statedBy(instruction, instruction ? instructionDeviations(tx, instruction, followed) : []),
      course: openCourse,
      organic: organicRulesOn(tx, data.subject, data.holding, row.local.slice(0, 10)),
    },
    revisions,
    { id: data.doseLine, route: data.route },
    deviations,
  );
  return {
    holds: fresh,
    overLabel: deviations.some(({ code }) => code === 'over-label' || code === 'over-most'),
  };
}

/** The course of a dose while it is open: to its last dose planned, also where that was taken back in between. */
function openCourseOf(
  tx: Reader,
  own: NonNullable<Administered['course']>,
  turning: Parameters<typeof decideAnew>[4],
): Administered['course'] {
  const record = recordOf<{ state: string; planned: string[] }>(tx, 'course', own.course);
  const state = turning?.course === own.course ? turning.to : record?.state;
  if (record === undefined || state !== 'open') return undefined;
  return { ...own, plannedLast: laterLocal(record.planned.at(-1) ?? own.plannedLast, own.plannedLast) };
}

/**
 * Whether she was in milk, by the milk hold that stands. One that only says that the vet must state the period does
 * not tell: the book's word on the animal is taken, and with none she is taken as milking, so that no gap in the book
 * hides a hold.
 */
function milkingThen(tx: Reader, subject: string, milk: HoldDecision | undefined): boolean {
  if (milk !== undefined && milk.rule !== 'off-label-vet-must-state') return milk.state !== 'dormant';
  if (milk?.state === 'dormant') return false;
  return subjectsOf(tx, [subject])[0]?.milking !== 0;
}

/** The law it was decided by, where one was asked; nothing for a treatment that was on its label. */
function lawOf(standing: readonly HoldDecision[]): Holding['law'] | undefined {
  const id = standing
    .flatMap((hold) => hold.working)
    .find((step) => step.code === 'law-in-force' || step.code === 'law-has-none')?.values.id;
  return OFF_LABEL_LAWS.find((law) => law === id);
}

/** The farm's rule for lambs at foot: the one it was decided by, where that shows, else the one of today. */
function atFootOf(standing: readonly HoldDecision[], { atFoot }: Pick<Holding, 'atFoot'>): Holding['atFoot'] {
  const young = standing.find((hold) => hold.young !== undefined && hold.market === 'domestic')?.young;
  if (young?.instead === true) return 'as-the-label';
  return young === undefined ? atFoot : 'as-the-ewe';
}

/** The farm's own margin as it was counted then; nothing when no hold ended by time, so that none is known. */
function marginOf(standing: readonly HoldDecision[]): number | undefined {
  const days = standing.flatMap((hold) => hold.working).find((step) => step.code === 'margin')?.values.days;
  if (days !== undefined) return Number(days);
  return standing.some((hold) => hold.until !== undefined) ? 0 : undefined;
}

/** Whether the dose that was given fits this label: its deviations from it, found as they would be at the race. */
function deviationsAnew(
  tx: Reader,
  data: Administered,
  { local, at }: Pick<GivenRow, 'local' | 'at'>,
  terms: LabelTerms | undefined,
  moved?: readonly Moved[],
): { code: string }[] {
  const standing = data.deviations.filter(({ code }) => !FROM_LABEL.has(code));
  if (terms === undefined) return standing;
  const line = terms.doseLines.find((each) => each.id === data.doseLine);
  const { administration, subject, medicine, route, heads } = data;
  const happened = { local, at };
  const departs = { administration, subjects: [subject], medicine, route, heads, happened, moved };
  const kept = [...standing, ...(line === undefined ? [] : labelDeviations(tx, terms, line, departs))];
  const id = data.subject.slice(data.subject.indexOf(':') + 1);
  const table = data.subject.startsWith('lot:') ? 'lot' : 'animal';
  const born = tx.get<{ born: string | null }>(`SELECT born FROM ${table} WHERE id = ?`, id)?.born ?? null;
  const first = data.source.kind === 'ours' ? data.source.draws[0]?.container : undefined;
  const own =
    first === undefined
      ? undefined
      : tx.get<{ strength: string | null }>('SELECT strength FROM container WHERE id = ?', first)?.strength;
  try {
    const given = {
      weight: data.weight,
      class: data.class,
      ageDays: ageOn(born, local),
      syringe: syringeOf(data.syringe),
      containerStrength: own ?? undefined,
    };
    const group = data.dosedTo && groupAsGiven(data.dosedTo);
    const dosed =
      group === undefined
        ? { worked: doseForLine(terms, data.doseLine, given) }
        : doseInGroup(terms, data.doseLine, given, group);
    const dose = amountOf(data.dose.kind, unitsOf(data.dose));
    if (dose.kind !== dosed.worked.draw.kind) return kept;
    const repeated = line && lineOfRepeats(terms, line);
    const others = repeated === undefined ? (data.thatDay ?? []) : othersThatDay(tx, departs, [], repeated);
    const isOver =
      isOverFor(dose, dosed, group) || dayDeviation(others, { terms, dose, dosed, group }) !== undefined;
    return isOver ? [...kept, { code: 'over-label' }] : kept;
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    return [...kept, { code: thrown.code }];
  }
}
