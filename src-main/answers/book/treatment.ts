import type { Reply } from '../../../src-shared/calls/all.ts';
import { printWorking } from '../../../src-shared/dose/working.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { printWeight } from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { instantOf } from '../../../src-shared/time/zone.ts';
import { sayOffLabel } from '../../../src-shared/withdrawal/off-label-deviations.ts';
import type { BookEntry, Reader } from '../../store/store.ts';
import type { Answer, Context } from '../context.ts';
import { barring, holdsBySubject, pieceWords, revisionIn } from '../declare/lines.ts';
import { optional } from '../optional.ts';
import { bookItem } from '../reading/book.ts';
import { holdingOf, personName, recordOf } from '../reading/holding.ts';
import { instructionOf } from '../reading/instructions.ts';
import { noticesOf } from '../reading/notices.ts';
import { sayHold } from '../reading/say-hold.ts';
import { stockRows } from '../reading/stock.ts';
import { subjectsOf } from '../reading/subjects.ts';
import type { Administered } from '../treat/core.ts';
import { asHoldRow } from '../treat/give.ts';
import {
  type CorrectionAct,
  corrected,
  drawnBefore,
  entryOf,
  meatUntil,
  standingTreatment,
} from './correct-treatment.ts';

type Draws = Reply<'treatment'>['draws'];

/** Answers `treatment`: one line of the record with everything that was decided for it. Changes nothing. */
export const treatment: Answer<'treatment'> = (context, asked) => {
  const tx = context.store.read;
  const name =
    asked.entry ?? (asked.administration === undefined ? undefined : entryOf(tx, asked.administration));
  const entry = name && context.store.entryNamed(name.request, name.n);
  const item = entry && bookItem(tx, entry.seq);
  const data = item?.last;
  const isOther = asked.administration !== undefined && data?.administration !== asked.administration;
  if (!entry || !item || !data || isOther) {
    throw new Refusal('no-such-treatment', 'This treatment is not in the book.', {
      field: 'administration',
      next: 'Open it again from the book.',
    });
  }
  const { zone } = holdingOf(tx, data.holding);
  const stands = item.stands !== undefined;
  const written = context.store.written(entry.seq)?.entry ?? entry;
  return {
    administration: data.administration,
    entry: { request: entry.request, n: entry.n },
    seq: entry.seq,
    recorded: written.recorded,
    by: personName(tx, written.by),
    clock: written.clock,
    versions: item.rows,
    stands,
    zone,
    local: entry.happened.local,
    subject: data.subject,
    medicine: data.medicine,
    givenBy: data.givenBy,
    ...given(tx, data),
    draws: drawsOf(tx, data, new Map()),
    deviations: data.deviations,
    holds: stands ? standingHoldsOf(tx, data, zone) : decidedHolds(data, entry.happened, zone),
    working: printWorking(data.working),
    ifStruck: stands ? ifStruck(context, entry, data) : [],
  };
};

/** How it was given, as far as it was said. */
function given(tx: Reader, data: Administered) {
  const piece = pieceWords(tx)(revisionIn(data));
  const session =
    data.session === undefined
      ? undefined
      : tx.get<{ name: string }>('SELECT name FROM session WHERE id = ?', data.session);
  const said = (amount: Administered['dose']) => printAmount(amountOf(amount.kind, unitsOf(amount)), piece);
  return {
    ...(data.weight === undefined ? {} : { weight: printWeight(data.weight) }),
    ...(data.weightHow === undefined ? {} : { weightHow: data.weightHow }),
    ...(data.weightOn === undefined ? {} : { weightOn: data.weightOn }),
    ...(data.planned === undefined ? {} : { planned: said(data.planned) }),
    sites: data.sites.map(said),
    ...(data.site === undefined ? {} : { site: data.site }),
    ...(data.side === undefined ? {} : { side: data.side }),
    ...(data.needle === undefined ? {} : { needle: data.needle }),
    ...(data.equipment === undefined
      ? {}
      : { equipment: recordOf<{ name: string }>(tx, 'equipment', data.equipment)?.name ?? data.equipment }),
    ...(data.leaked === undefined ? {} : { leaked: sayLeaked(data.leaked, said) }),
    ...optional('outside', sayOffLabel(data.deviations)),
    ...optional('instruction', followed(tx, data)),
    ...(data.course === undefined ? {} : { course: { n: data.course.n, of: data.course.of } }),
    ...(session === undefined || data.session === undefined
      ? {}
      : { session: { session: data.session, name: session.name } }),
  };
}

/** The vet's instruction that it names; one struck out since is said to be. */
function followed(tx: Reader, { instruction }: Administered) {
  if (instruction === undefined) return undefined;
  const found = instructionOf(tx, instruction);
  const says =
    found === undefined
      ? 'An instruction that was struck out since'
      : `${personName(tx, found.data.vet)}: ${found.data.what}${found.inWriting ? '' : ' (not yet in writing)'}`;
  return { instruction, says };
}

function sayLeaked(
  { amount, drops }: NonNullable<Administered['leaked']>,
  said: (amount: Administered['dose']) => string,
): string {
  return drops === undefined
    ? said(amount)
    : `${drops} ${drops === 1 ? 'drop' : 'drops'}, booked as ${said(amount)}`;
}

/** What it took out of each container, and what is left there once `back` (whole units) is put back and it is drawn. */
function drawsOf(tx: Reader, data: Administered, back: ReadonlyMap<string, number>): Draws {
  if (data.source.kind !== 'ours') return [];
  const piece = pieceWords(tx);
  const stock = new Map(stockRows(tx, data.medicine).map((row) => [row.id, row]));
  const isPreview = back.size > 0;
  const left = new Map([...stock].map(([id, row]) => [id, row.left_units + (back.get(id) ?? 0)]));
  return data.source.draws.map((draw) => {
    const word = piece(draw.revision);
    const kind = draw.amount.kind;
    const said = (units: number) => printAmount(amountOf(kind, units), word);
    const lost = draw.lost ? unitsOf(draw.lost) : 0;
    const leaked = draw.leaked ? unitsOf(draw.leaked) : 0;
    const now = left.get(draw.container) ?? 0;
    // A preview has not drawn yet; what stands has.
    const then = isPreview ? now - unitsOf(draw.amount) - leaked - lost : now;
    left.set(draw.container, then);
    return {
      container: draw.container,
      label: stock.get(draw.container)?.label ?? draw.container,
      batch: draw.batch,
      amount: said(unitsOf(draw.amount)),
      ...(leaked === 0 ? {} : { leaked: said(leaked) }),
      ...(lost === 0 ? {} : { lost: `${said(lost)} (${draw.lostWhy ?? 'lost'})` }),
      left: then < 0 ? `${said(-then)} less than nothing` : said(then),
    };
  });
}

function standingHoldsOf(tx: Reader, data: Administered, zone: string) {
  const source = `administration:${data.administration}`;
  return (holdsBySubject(tx, [data.subject]).get(data.subject) ?? [])
    .filter((hold) => hold.source === source)
    .map((hold) => sayHold(hold, zone));
}

/** Holds as they were decided, for a treatment that holds nobody (struck out, or not written yet). */
function decidedHolds(data: Administered, happened: Happened, zone: string) {
  return data.holds.map((hold) => sayHold(asHoldRow(hold, data, happened.at), zone));
}

/** What follows when a standing treatment is struck out, in sentences. */
function ifStruck(context: Context, entry: BookEntry, data: Administered): string[] {
  const tx = context.store.read;
  const { zone } = holdingOf(tx, data.holding);
  const shown = subjectsOf(tx, [data.subject])[0]?.shown ?? data.subject;
  const piece = pieceWords(tx)(revisionIn(data));
  const labels = new Map(stockRows(tx, data.medicine).map((row) => [row.id, row.label]));
  const said: string[] = [];
  for (const [container, units] of drawnBefore(data)) {
    const amount = printAmount(amountOf(data.dose.kind, units), piece);
    said.push(`${amount} counts as back in ${labels.get(container) ?? container}.`);
  }
  const others = (holdsBySubject(tx, [data.subject]).get(data.subject) ?? []).filter(
    (hold) => hold.source !== `administration:${data.administration}`,
  );
  const [still] = barring(others, 'meat', context.now());
  said.push(
    still === undefined
      ? `Its holds end, and nothing else holds the meat of ${shown}.`
      : `Its holds end, but ${shown} stays held: ${sayHold(still, zone).text}.`,
  );
  const notices = noticesOf(tx, {
    changed: new Map([[`administration:${data.administration}`, []]]),
    about: [data.subject],
  });
  said.push(...notices.map((notice) => notice.text));
  said.push(`Line ${entry.seq} stays in the book, struck through, with your reason.`);
  return said;
}

/** Answers `preview-correction`: the same decision as `correct-treatment`, without writing it. */
export const previewCorrection: Answer<'preview-correction'> = (context, asked) => {
  const tx = context.store.read;
  const old = standingTreatment(context, asked.administration);
  const questions: string[] = [];
  const act: CorrectionAct = {
    tx,
    now: context.now(),
    happened: (holding, local = old.happened.local) => {
      const zone = holding?.zone ?? old.happened.zone;
      return { local, zone, at: instantOf(local, zone, 'start', 'local') };
    },
    ask: (_code, message) => void questions.push(message),
  };
  const { decided, happened } = corrected(act, asked, old);
  const { data, terms } = decided;
  const { zone } = happened;
  const said = (amount: Administered['dose']) =>
    printAmount(amountOf(amount.kind, unitsOf(amount)), terms.piece);
  const about = [...new Set([old.data.subject, data.subject])];
  return {
    shown: subjectsOf(tx, [data.subject])[0]?.shown ?? data.subject,
    heads: data.heads,
    dose: said(data.dose),
    quantity: said(data.total),
    until: meatUntil(data.holds, zone),
    draws: drawsOf(tx, data, withKeys(drawnBefore(old.data), data)),
    deviations: data.deviations,
    holds: decidedHolds(data, happened, zone),
    working: printWorking(data.working),
    questions,
    notices: noticesOf(tx, {
      changed: new Map([[`administration:${data.administration}`, data.holds]]),
      about,
    }).map((notice) => notice.text),
  };
};

/** What goes back, with a zero for each container that is only drawn from now. */
function withKeys(back: ReadonlyMap<string, number>, data: Administered): ReadonlyMap<string, number> {
  const draws = data.source.kind === 'ours' ? data.source.draws : [];
  return new Map([...draws.map((draw) => [draw.container, 0] as const), ...back]);
}
