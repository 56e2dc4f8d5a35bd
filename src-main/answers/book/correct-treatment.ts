import type { Asked } from '../../../src-shared/calls/all.ts';
import { administered } from '../../../src-shared/entries/administered.ts';

import type { Happened } from '../../../src-shared/entries/kind.ts';
import { type HoldDecision, unitsOf } from '../../../src-shared/entries/parts.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { parseWeight, type Weight } from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Reader } from '../../store/store.ts';
import { type Act, type Answer, type Context, write } from '../context.ts';
import { checkPerson, holdingOf, recordOf } from '../reading/holding.ts';
import { untilText } from '../reading/say-hold.ts';
import { type SubjectRow, subjectOfName, weightOf } from '../reading/subjects.ts';
import {
  type Administered,
  type Decided,
  decideAdministration,
  quantityText,
  type Treatment,
} from '../treat/core.ts';
import { groupAsGiven } from '../treat/in-group.ts';
import { holdWithoutRecord } from '../treat/record-gone.ts';
import { shelfOf } from '../treat/shelf.ts';
import { noticesAfter } from './void.ts';

export type Old = { request: string; n: number; happened: Happened; data: Administered };

/** What a correction needs of a writing call in progress; a preview gives the same and writes nothing. */
export type CorrectionAct = Pick<Act, 'tx' | 'now' | 'happened' | 'ask'>;

/** Answers `correct-treatment`: what really happened takes the place of what was written; both stay in the journal. */
export const correctTreatment: Answer<'correct-treatment'> = (context, asked) =>
  write<'correct-treatment'>(context, asked, (act) => {
    const old = standingTreatment(context, asked.administration);
    const { decided, happened } = corrected(act, asked, old);
    for (const opened of decided.opens) act.add('container-opened', opened.data, opened.happened);
    const { request, n } = old;
    act.add('replaced', {
      target: { request, n },
      kind: administered.kind,
      v: administered.version,
      happened,
      data: decided.data,
      reason: asked.reason,
    });
    holdWithoutRecord(act, old.data, asked.reason, { subject: decided.data.subject, happened });
    return {
      administration: asked.administration,
      quantity: quantityText(decided.data, decided.terms.piece),
      until: meatUntil(decided.data.holds, happened.zone),
      notices: noticesAfter(act, { request, n }),
    };
  });

/** A treatment as it stands now. Refuses (`no-such-treatment`) what is not there or is struck out. */
export function standingTreatment(context: Context, administration: string): Old {
  const name = entryOf(context.store.read, administration);
  const found = name && context.store.entryNamed(name.request, name.n);
  if (!name || !found || found.state === 'voided') {
    throw new Refusal('no-such-treatment', 'This treatment does not stand in the book.', {
      field: 'administration',
      next: 'Open it again from the book.',
    });
  }
  return { ...name, happened: found.happened, data: administered.schema.parse(found.data) };
}

/** The entry that wrote a treatment which stands. */
export function entryOf(tx: Reader, administration: string): { request: string; n: number } | undefined {
  return tx.get<{ request: string; n: number }>(
    'SELECT request, n FROM administration JOIN journal ON journal.seq = administration.seq WHERE administration.id = ?',
    administration,
  );
}

/** What ends its meat hold, in words. */
export function meatUntil(holds: readonly HoldDecision[], zone: string): string {
  const meat = holds.find(
    (hold) => hold.produce === 'meat' && hold.market === 'domestic' && hold.clock === 'food',
  );
  return meat
    ? untilText({ state: meat.state, until: meat.until ?? null, event: meat.event ?? null }, zone)
    : '';
}

/** The whole new content, decided by the same rules as a treatment recorded today. */
export function corrected(
  act: CorrectionAct,
  asked: Asked<'preview-correction'>,
  old: Old,
): { decided: Decided; happened: Happened } {
  const { tx } = act;
  const { data } = old;
  const holding = holdingOf(tx, data.holding);
  const happened = asked.local === undefined ? old.happened : act.happened(holding, asked.local);
  if (happened.at > act.now) {
    throw new Refusal('in-the-future', 'This is said to have happened later than now.', {
      field: 'local',
      next: 'Check the date and the time.',
    });
  }
  if (asked.givenBy !== undefined) checkPerson(tx, asked.givenBy, 'givenBy');
  const row = subjectOfName(tx, asked.subject ?? data.subject);
  const other = row.subject !== data.subject;
  const weight = weightIn(asked, old, row, holding.weightUnit);
  const heads = asked.heads ?? (other ? Math.min(data.heads, Math.max(1, row.heads)) : data.heads);
  const shelf = shelfOf(tx, drawnBefore(data));
  if (heads > 1 && row.subject.startsWith('animal:')) {
    throw new Refusal('more-heads-than-there-are', `${row.shown} is one animal, not ${heads}.`, {
      field: 'heads',
      next: 'Give 1, or say which lot it was.',
    });
  }
  const treatment = again(tx, old, { row, other, weight, heads, happened, asked });
  const decided = decideAdministration(tx, shelf, data.administration, treatment);
  if (asked.weight !== undefined && asked.given === undefined && !sameDose(decided.data, data)) {
    const piece = decided.terms.piece;
    act.ask(
      'dose-follows-weight',
      `${printAmount(amountOf(data.dose.kind, unitsOf(data.dose)), piece)} was recorded; for ${asked.weight} it is ${printAmount(
        amountOf(decided.data.dose.kind, unitsOf(decided.data.dose)),
        piece,
      )}. Was that what went in? If not, write what was given.`,
      'given',
    );
  }
  return { decided: { ...decided, data: keepingWhatStays(decided.data, data, asked) }, happened };
}

type Change = {
  row: SubjectRow;
  other: boolean;
  weight: Weight | undefined;
  heads: number;
  happened: Happened;
  asked: Partial<
    Pick<
      Asked<'preview-correction'>,
      'weight' | 'given' | 'why' | 'givenBy' | 'containers' | 'leaked' | 'instruction'
    >
  >;
};

/** The old treatment as it would be told today, with what changes put in. What went in stays, unless it is said. */
function again(tx: Reader, old: Old, { row, other, weight, heads, happened, asked }: Change): Treatment {
  const { data } = old;
  const { source } = data;
  const revision = source.kind === 'ours' ? source.draws[0]?.revision : source.revision;
  const piece = tx.get<{ piece: string | null }>(
    "SELECT terms ->> '$.piece' AS piece FROM revision WHERE id = ?",
    revision ?? '',
  )?.piece;
  const follows = asked.weight !== undefined && asked.given === undefined;
  const dose = printAmount(amountOf(data.dose.kind, unitsOf(data.dose)), piece ?? undefined);
  const lost = lostBefore(data, piece ?? undefined);
  return {
    holding: holdingOf(tx, data.holding),
    // The class it was treated as: a lamb of then may be a ewe by now.
    subject: other ? row : { ...row, class: data.class, milking: wasMilking(data, row) },
    heads,
    medicine: data.medicine,
    doseLine: data.doseLine,
    source: source.kind,
    revision,
    reason: asked.why ?? data.reason,
    weight,
    weightHow: asked.weight === undefined && !other ? data.weightHow : undefined,
    weightOn: asked.weight === undefined && !other ? data.weightOn : undefined,
    given: asked.given ?? (follows ? undefined : dose),
    containers:
      asked.containers ?? (source.kind === 'ours' ? source.draws.map((draw) => draw.container) : undefined),
    syringe: data.syringe,
    batch: source.kind === 'ours' ? undefined : source.batch,
    who: source.kind === 'ours' ? undefined : source.who,
    givenBy: asked.givenBy ?? data.givenBy,
    happened,
    session: data.session,
    line: data.line,
    site: data.site,
    side: data.side,
    needle: data.needle,
    equipment: data.equipment,
    leaked: asked.leaked ?? leakedBefore(data, piece ?? undefined),
    lost,
    instruction: asked.instruction === null ? undefined : (asked.instruction ?? data.instruction),
    route: data.route,
    prescription: data.prescription,
    course: other ? undefined : courseNow(tx, data, happened),
    // What its part got went into it, whatever it weighs.
    group: data.dosedTo && groupAsGiven(data.dosedTo),
  };
}

function weightIn(
  asked: Asked<'preview-correction'>,
  old: Old,
  row: SubjectRow,
  unit: 'kg' | 'lb',
): Weight | undefined {
  if (asked.weight !== undefined) return parseWeight(asked.weight, 'weight', { unit });
  return row.subject === old.data.subject ? old.data.weight : weightOf(row);
}

/** Whether it was in milk when it was treated, by what was decided then. */
function wasMilking(data: Administered, row: SubjectRow): number {
  const milk = data.holds.find((hold) => hold.produce === 'milk');
  return milk ? (milk.state === 'dormant' ? 0 : 1) : row.milking;
}

/** The course it belongs to; once that is closed, its planned last dose counts no more. */
function courseNow(tx: Reader, data: Administered, happened: Happened): Administered['course'] {
  if (data.course === undefined) return undefined;
  const record = recordOf<{ state: string }>(tx, 'course', data.course.course);
  return record?.state === 'open' ? data.course : { ...data.course, plannedLast: happened.local };
}

/** What this treatment took out of each bottle: it goes back before the corrected one is drawn. */
export function drawnBefore(data: Administered): ReadonlyMap<string, number> {
  const back = new Map<string, number>();
  if (data.source.kind !== 'ours') return back;
  for (const draw of data.source.draws) {
    const units =
      unitsOf(draw.amount) + (draw.leaked ? unitsOf(draw.leaked) : 0) + (draw.lost ? unitsOf(draw.lost) : 0);
    back.set(draw.container, (back.get(draw.container) ?? 0) + units);
  }
  return back;
}

function lostBefore(data: Administered, piece: string | undefined): Treatment['lost'] {
  if (data.source.kind !== 'ours') return undefined;
  const lost = data.source.draws.filter((draw) => draw.lost);
  const units = lost.reduce((sum, draw) => sum + (draw.lost ? unitsOf(draw.lost) : 0), 0);
  if (units === 0) return undefined;
  return { amount: printAmount(amountOf(data.dose.kind, units), piece), why: lost[0]?.lostWhy ?? 'lost' };
}

function leakedBefore(data: Administered, piece: string | undefined): Treatment['leaked'] {
  if (data.leaked === undefined) return undefined;
  const { drops, amount } = data.leaked;
  return drops === undefined
    ? { amount: printAmount(amountOf(amount.kind, unitsOf(amount)), piece) }
    : { drops };
}

function sameDose(a: Administered, b: Administered): boolean {
  return a.dose.kind === b.dose.kind && unitsOf(a.dose) === unitsOf(b.dose);
}

/**
 * Where neither dose nor weight nor animal changed, how it was planned stays as it was written: the syringe of that
 * day may not be known any more, and a second rounding is no deviation.
 */
function keepingWhatStays(
  now: Administered,
  old: Administered,
  asked: Asked<'preview-correction'>,
): Administered {
  const touched = asked.weight ?? asked.given ?? asked.subject;
  if (touched !== undefined || !sameDose(now, old)) return now;
  const wrote = old.deviations.some(({ code }) => code === 'other-than-worked-out');
  return {
    ...now,
    sites: old.sites,
    working: old.working,
    deviations: now.deviations.filter(({ code }) => wrote || code !== 'other-than-worked-out'),
    ...(old.planned === undefined ? {} : { planned: old.planned }),
  };
}
