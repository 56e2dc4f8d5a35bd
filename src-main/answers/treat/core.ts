import { type DoseAnswer, doseForLine, type LineGiven } from '../../../src-shared/dose/dose.ts';
import { doseInGroup, type GroupDose, type InGroup } from '../../../src-shared/dose/group-part.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { amountData, unitsOf } from '../../../src-shared/entries/parts.ts';
import { type DoseLine, type LabelTerms, NEEDLE_ROUTES } from '../../../src-shared/label/terms.ts';
import {
  type Amount,
  amountOf,
  baseOf,
  parseAmount,
  printAmount,
} from '../../../src-shared/quantity/amount.ts';
import type { Weight } from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { type Day, daysBetween } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import { organicRulesOn } from '../reading/certificates.ts';
import type { Holding } from '../reading/holding.ts';
import { knownInstruction } from '../reading/instructions.ts';
import { newestRevision, revisionOf } from '../reading/revision.ts';
import type { SubjectRow } from '../reading/subjects.ts';
import { drawsData } from './draws-data.ts';
import { decided } from './holds.ts';
import { doseDeviations, dosedToOf, movedQuestion } from './in-group.ts';
import { instructionDeviations, statedBy } from './instructed.ts';
import { type LeakedAsk, leakOf } from './leaked.ts';
import { notIfReader } from './not-if-facts.ts';
import { labelDeviations, notIfDeviations } from './outside-label.ts';
import { dayDeviation, dosedToday, lineOfRepeats, othersThatDay } from './same-day.ts';
import type { Draw, Opened, Shelf } from './shelf.ts';

export type Administered = DataOf<'administered'>;
type Deviation = Administered['deviations'][number];

/** Everything said about one treatment, by plan or as it happened. */
export type Treatment = {
  holding: Holding;
  subject: SubjectRow;
  heads: number;
  medicine: string;
  doseLine?: string | undefined;
  source: 'ours' | 'vet' | 'contractor' | 'earlier-keeper';
  /** The revision meant when it is not from our own containers; the newest otherwise. */
  revision?: string | undefined;
  reason: string;
  weight?: Weight | undefined;
  weightHow?: string | undefined;
  /** When it was weighed, where the weight is the one the book had. */
  weightOn?: string | undefined;
  given?: string | undefined;
  containers?: readonly string[] | undefined;
  syringe?: { capacity: string; graduation: string } | undefined;
  batch?: string | undefined;
  who?: string | undefined;
  givenBy: string;
  happened: Happened;
  session?: string | undefined;
  line?: string | undefined;
  /** The way it really went in, where that is not the one of the dose line. */
  route?: DoseLine['route'] | undefined;
  site?: string | undefined;
  side?: 'left' | 'right' | 'both' | undefined;
  needle?: string | undefined;
  /** The farm's own syringe or gun; `syringe` has been filled from it. */
  equipment?: string | undefined;
  lost?: { amount: string; why: string } | undefined;
  /** What ran out again, of what was drawn. */
  leaked?: LeakedAsk | undefined;
  instruction?: string | undefined;
  prescription?: string | undefined;
  course?: Administered['course'] | undefined;
  /** Medicines given at the same time, which a "not if" row may speak of. */
  together?: readonly string[] | undefined;
  /** The lot it comes out of with this very act: what the book knows of it is written there. */
  cameOutOf?: SubjectRow | undefined;
  /** How its group is dosed, when it is not dosed by its own weight. */
  group?: InGroup | undefined;
};

export type Decided = {
  data: Administered;
  draws: Draw[];
  /** Containers that this dose broached. */
  opens: Opened[];
  worked: DoseAnswer | undefined;
  terms: LabelTerms;
  /** To be asked about first: it gets another dose than its part was planned to. */
  moved: { code: string; text: string } | undefined;
  /** To be asked about first: with what it had that day it gets more than the label's dose. */
  again: { code: string; text: string } | undefined;
};

/** The dose line that is asked for, or the only one that fits the class. Refuses (`dose-line-unknown`, `choose-dose-line`). */
export function lineFor(terms: LabelTerms, asked: string | undefined, cls: SubjectRow['class']): DoseLine {
  if (asked !== undefined) {
    const line = terms.doseLines.find((each) => each.id === asked);
    if (line) return line;
    throw new Refusal('dose-line-unknown', 'The label has no such dose line.', { field: 'doseLine' });
  }
  const fits = terms.doseLines.filter((line) => line.classes.length === 0 || line.classes.includes(cls));
  const [only, second] = fits;
  if (only && !second) return only;
  if (second) {
    throw new Refusal(
      'choose-dose-line',
      `The label of ${terms.name} has several dose lines for this class.`,
      {
        field: 'doseLine',
        next: 'Choose the dose line.',
      },
    );
  }
  throw new Refusal(
    'class-not-on-label',
    `The label of ${terms.name} has no dose for a ${cls.replace('-', ' ')}.`,
    {
      field: 'doseLine',
      next: 'Choose another medicine, or ask the vet.',
    },
  );
}

/** Age in whole days on the day of treatment, when the day of birth is known. */
export function ageOn(born: string | null, local: string): number | undefined {
  return born === null ? undefined : daysBetween(born as Day, local.slice(0, 10) as Day);
}

/** The farm's syringe as amounts. */
export function syringeOf(syringe: Treatment['syringe']) {
  return (
    syringe && {
      capacity: parseAmount(syringe.capacity, 'syringe.capacity'),
      graduation: parseAmount(syringe.graduation, 'syringe.graduation'),
    }
  );
}

/** The worked-out dose by the label, which refuses what the label does not allow. */
export function workedDose(
  terms: LabelTerms,
  line: DoseLine,
  asked: Treatment,
  strength?: string | null,
): DoseAnswer {
  return doseForLine(terms, line.id, lineGiven(asked, strength));
}

function lineGiven(asked: Treatment, strength: string | null | undefined): LineGiven {
  return {
    weight: asked.weight,
    class: asked.subject.class,
    ageDays: ageOn(asked.subject.born, asked.happened.local),
    syringe: syringeOf(asked.syringe),
    containerStrength: strength ?? undefined,
  };
}

/** The dose by its own weight, or by its part of a group; refuses what the label does not allow. */
export function dosedBy(
  terms: LabelTerms,
  line: DoseLine,
  asked: Treatment,
  strength?: string | null,
): Omit<GroupDose, 'isMoved'> & Partial<Pick<GroupDose, 'isMoved'>> {
  const given = lineGiven(asked, strength);
  if (asked.group === undefined) return { worked: doseForLine(terms, line.id, given) };
  return doseInGroup(terms, line.id, given, asked.group);
}

/**
 * Decides one administration as it happened: dose, draws, holds, deviations, working. What really happened is
 * never refused; only what cannot be known is asked for (`say-what-was-given`). A "not if" row of the label that
 * applied is a named deviation (`not-if`).
 */
export function decideAdministration(
  tx: Reader,
  shelf: Shelf,
  id: string,
  asked: Treatment,
  notIf = notIfReader(tx),
): Decided {
  const deviations: Deviation[] = [];
  const bottle =
    asked.source === 'ours' ? shelf.first(asked.medicine, asked.happened, asked.containers) : undefined;
  const revision =
    bottle?.revision ??
    (asked.revision ? revisionOf(tx, asked.revision) : newestRevision(tx, asked.medicine));
  const { terms } = revision;
  const piece = terms.piece;

  const line = chosenLine(terms, asked, deviations);
  const barring = notIf
    .findings({
      row: asked.cameOutOf ?? asked.subject,
      terms,
      medicine: asked.medicine,
      weight: asked.weight,
      when: asked.happened,
      together: asked.together,
      except: id,
      course: asked.course?.course,
    })
    .filter((finding) => finding.applies === 'yes');
  deviations.push(...notIfDeviations(barring));
  const route = asked.route ?? line.route;
  const subjects = [asked.subject.subject, ...(asked.cameOutOf ? [asked.cameOutOf.subject] : [])];
  const { medicine, happened, heads } = asked;
  const departing = { administration: id, subjects, medicine, route, happened, heads };
  deviations.push(...labelDeviations(tx, terms, line, departing));
  let by: ReturnType<typeof dosedBy> | undefined;
  try {
    by = dosedBy(terms, line, asked, bottle?.row.strength);
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    if (asked.given === undefined) {
      throw new Refusal(thrown.code, thrown.message, {
        field: thrown.field ?? 'given',
        next: thrown.next ?? 'If it was given all the same, write how much went in.',
      });
    }
    deviations.push({ code: thrown.code, text: thrown.message });
  }

  const worked = by?.worked;
  const dose: Amount =
    asked.given === undefined ? drawOf(worked) : parseAmount(asked.given, 'given', { piece });
  // A powder made up on the farm is given in mL, whatever the label measures the powder in.
  const kind = bottle?.row.kind ?? terms.kind;
  if (dose.kind !== kind) {
    throw new Refusal(
      'units-do-not-match',
      `${terms.name} is measured in ${kind}, and what was given is not.`,
      {
        field: 'given',
      },
    );
  }
  const ofDose = doseDeviations(dose, by, asked, piece);
  // What is over the label by itself has been said.
  const isOver = ofDose.some(({ code }) => code === 'over-label');
  const thatDay = othersThatDay(tx, departing);
  const own = lineOfRepeats(terms, line);
  const judged = own === undefined ? thatDay : othersThatDay(tx, departing, [], own);
  const day = by && dayDeviation(judged, { terms, dose, dosed: by, group: asked.group });
  deviations.push(...ofDose, ...(isOver || day === undefined ? [] : [day]));

  const totalUnits = baseOf(dose) * asked.heads;
  const total = amountOf(dose.kind, totalUnits);
  const leak = asked.leaked && leakOf(asked.leaked, { dose, total, heads: asked.heads, piece });
  if (leak) deviations.push(leak.deviation);
  const lost = asked.lost && parseAmount(asked.lost.amount, 'lost.amount', { piece });
  const leaves = totalUnits + (lost ? baseOf(lost) : 0);
  const stock =
    asked.source === 'ours'
      ? shelf.take(asked.medicine, leaves, asked.happened, asked.containers)
      : undefined;
  deviations.push(...(stock?.deviations ?? []));

  const instruction = asked.instruction === undefined ? undefined : knownInstruction(tx, asked.instruction);
  if (instruction) {
    const { local, zone, at } = happened;
    deviations.push(...instructionDeviations(tx, instruction, { medicine, subjects, local, zone, at }));
  }
  const revisions = stock ? stock.draws.map((draw) => revisionOf(tx, draw.revision)) : [revision];
  const deciding = {
    ...asked,
    stated: statedBy(instruction, deviations),
    organic: organicRulesOn(
      tx,
      asked.subject.subject,
      asked.holding.holding,
      asked.happened.local.slice(0, 10),
    ),
  };
  const holds = decided(deciding, revisions, { id: line.id, route }, deviations);
  const source: Administered['source'] = stock
    ? {
        kind: 'ours',
        draws: drawsData(stock.draws, dose.kind, totalUnits, {
          lost: lost && baseOf(lost),
          why: asked.lost?.why,
          leaked: leak ? unitsOf(leak.data.amount) : 0,
        }),
      }
    : {
        kind: asked.source === 'ours' ? 'vet' : asked.source,
        revision: revision.revision,
        ...(asked.who === undefined ? {} : { who: asked.who }),
        ...(asked.batch === undefined ? {} : { batch: asked.batch }),
      };

  const data: Administered = {
    administration: id,
    holding: asked.holding.holding,
    subject: asked.subject.subject,
    heads: asked.heads,
    medicine: revision.medicine,
    product: terms.name,
    doseLine: line.id,
    source,
    class: asked.subject.class,
    dose: amountData(dose.kind, baseOf(dose)),
    total: amountData(total.kind, totalUnits),
    sites: (asked.given === undefined && worked ? worked.sites : []).map((site) =>
      amountData(site.kind, baseOf(site)),
    ),
    route,
    reason: asked.reason,
    givenBy: asked.givenBy,
    deviations,
    holds,
    working: worked?.working.map((step) => ({ ...step })) ?? [],
    ...(worked ? { planned: amountData(worked.draw.kind, baseOf(worked.draw)) } : {}),
    ...optional('dosedTo', dosedToOf(by, asked.group)),
    ...optional('session', asked.session),
    ...optional('line', asked.line),
    ...optional('weight', asked.weight && { ...asked.weight }),
    ...optional('weightHow', asked.weight && asked.weightHow),
    ...optional('weightOn', asked.weight && asked.weightOn),
    ...optional('syringe', asked.syringe),
    ...optional('equipment', asked.equipment),
    ...optional('leaked', leak?.data),
    // What goes in by mouth or over the back has no site and no needle, whatever was said for the session.
    ...(NEEDLE_ROUTES.includes(route)
      ? {
          ...optional('site', asked.site),
          ...optional('side', asked.side),
          ...optional('needle', asked.needle),
        }
      : {}),
    ...optional('instruction', asked.instruction),
    ...optional('prescription', asked.prescription),
    ...optional('course', asked.course),
    ...optional('thatDay', thatDay.length === 0 ? undefined : thatDay),
  };
  const moved =
    by === undefined || asked.given !== undefined
      ? undefined
      : movedQuestion(asked.subject.shown, by, asked.group, asked.weight, piece);
  const again = day && dosedToday(asked.subject.shown, day.text);
  return { data, draws: stock?.draws ?? [], opens: stock?.opens ?? [], worked, terms, moved, again };
}

function drawOf(worked: DoseAnswer | undefined): Amount {
  if (worked) return worked.draw;
  throw new Refusal('say-what-was-given', 'The dose cannot be worked out, so write how much went in.', {
    field: 'given',
  });
}

/** When it already happened, a line the label has not, or not for this class, is a deviation and no refusal. */
function chosenLine(terms: LabelTerms, asked: Treatment, deviations: Deviation[]): DoseLine {
  try {
    return lineFor(terms, asked.doseLine, asked.subject.class);
  } catch (thrown) {
    const fallback = terms.doseLines[0];
    if (
      !(thrown instanceof Refusal) ||
      thrown.code === 'choose-dose-line' ||
      !fallback ||
      asked.given === undefined
    ) {
      throw thrown;
    }
    deviations.push({ code: thrown.code, text: thrown.message });
    return fallback;
  }
}

/** The whole amount of a decided administration in words. */
export function quantityText(data: Administered, piece: string | undefined): string {
  return printAmount(amountOf(data.total.kind, unitsOf(data.total)), piece);
}
