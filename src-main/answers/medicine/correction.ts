import type { Reply } from '../../../src-shared/calls/all.ts';
import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { printUseBy, unusableOnceOpened } from '../../../src-shared/stock/use-by.ts';
import { type Instant, laterOf, localOf, parseInstant, printInstant } from '../../../src-shared/time/zone.ts';
import type { Warning } from '../../../src-shared/working.ts';
import type { BookEntry, Reader, Store } from '../../store/store.ts';
import type { Act } from '../context.ts';
import { holdingOf } from '../reading/holding.ts';
import { printLocal, termsReader } from '../reading/labels.ts';
import { type Notice, noticesOf } from '../reading/notices.ts';
import { untilText } from '../reading/say-hold.ts';
import { stockRows } from '../reading/stock.ts';
import { subjectsOf } from '../reading/subjects.ts';
import type { Administered } from '../treat/core.ts';
import { decideAnew, type GivenRow, revisionsOf, standingHolds } from '../treat/decide-anew.ts';
import { possiblyHolds, possiblyUnder } from '../treat/possible.ts';

type Moved = Reply<'set-label'>['moved'][number];
type Reopened = { entry: BookEntry; container: string; label: string; before: string; unusableFrom: string };

/** What a treatment, or one held as possibly treated, is held by under the corrected label. */
type Anew = { source: string; subject: string; at: string; holds: HoldDecision[] };

/** Everything that a corrected revision moves. Computed the same way for the preview and for the writing. */
export type Correction = {
  moved: Moved[];
  notices: Notice[];
  /** Treatments and possible treatments whose holds are others now, with what was decided. */
  anew: Anew[];
  /** Opened containers whose in-use life is another now. */
  reopened: Reopened[];
  /** What the person must look at, in words. */
  warnings: Warning[];
};

/**
 * What follows when a revision was typed wrongly and really says `terms`: every administration drawn from or stated
 * under it is decided anew, and every opened container of it gets the use-by of its in-use life. Nothing is written.
 */
export function correctionOf(
  store: Store,
  tx: Reader,
  medicine: string,
  revision: string,
  terms: LabelTerms,
): Correction {
  const stored = termsReader(tx);
  const termsOf = (id: string): LabelTerms => {
    const found = id === revision ? terms : stored(id);
    if (!found)
      throw new Refusal('no-such-label', 'A label that was used is not in the book.', { field: 'revision' });
    return found;
  };
  const anew: Correction['anew'] = [];
  const moved: Moved[] = [];
  let over = 0;
  for (const row of givenUnder(tx, medicine, revision)) {
    const before = standingHolds(tx, row);
    const { holds, overLabel } = decideAnew(store, tx, row, termsOf);
    if (overLabel) over += 1;
    const { holding } = JSON.parse(row.data) as Administered;
    const rows = movedRows(
      tx,
      { id: row.id, subject: row.subject, given: printLocal(row.local), holding },
      before,
      holds,
    );
    if (rows.length === 0) continue;
    anew.push({ source: `administration:${row.id}`, subject: row.subject, at: row.at, holds });
    moved.push(...rows.filter(isSeen));
  }
  for (const one of possiblyUnder(tx, revision)) {
    const { session, source, subject, at } = one;
    const closed = session.closed ?? session.opened;
    const anewHolds = possiblyHolds(tx, session, one.row, one.lines, closed, termsOf);
    // Where the vet has given it an end since, that is the vet's word about this animal and stays.
    const vets = new Map(one.standing.filter(isVetsWord).map((hold) => [keyOf(hold), hold]));
    const holds = anewHolds.map((hold) => vets.get(keyOf(hold)) ?? hold);
    const said = {
      id: source.slice('hold:'.length),
      subject,
      given: `possibly, in ${session.name}`,
      holding: session.plan.holding,
    };
    const rows = movedRows(tx, said, one.standing, holds);
    if (rows.length === 0) continue;
    anew.push({ source, subject, at, holds });
    moved.push(...rows.filter(isSeen));
  }
  const reopened = reopenedOf(store, tx, medicine, revision, terms);
  return {
    moved,
    notices: newNotices(tx, anew),
    anew,
    reopened,
    warnings: [...overWarning(over), ...movedUseBy(reopened), ...openWork(tx, revision)],
  };
}

/** Adds the entries of a correction, after the label itself. */
export function addCorrection(
  act: Act,
  correction: Correction,
  inUse: string | undefined,
  why: string,
): void {
  const now = act.happened(undefined, localOf(parseInstant(act.now, 'clock'), act.happened(undefined).zone));
  for (const { entry, container, unusableFrom } of correction.reopened) {
    act.add(
      'replaced',
      {
        target: { request: entry.request, n: entry.n },
        kind: entry.kind,
        v: entry.v,
        happened: entry.happened,
        data: { container, unusableFrom, ...(inUse === undefined ? {} : { inUse }) },
        reason: why,
      },
      { ...now, at: act.now },
    );
  }
  for (const { source, subject, at: since, holds } of correction.anew) {
    // It must sort after the treatment it is about, even when the clock has been set back since.
    const at = laterOf(parseInstant(since, 'at'), parseInstant(act.now, 'clock'));
    act.add('reassessed', { source, subject, holds, why }, { ...now, at });
  }
}

/** Administrations drawn from or stated under a revision, in the order in which they happened. */
function givenUnder(tx: Reader, medicine: string, revision: string): GivenRow[] {
  return tx
    .all<GivenRow>(
      'SELECT id, seq, subject, at, local, data FROM administration WHERE medicine = ? ORDER BY at, seq',
      medicine,
    )
    .filter((row) => revisionsOf(JSON.parse(row.data) as Administered).includes(revision));
}

const isVetsWord = ({ says }: HoldDecision) => says === 'vet-word';
const keyOf = (hold: HoldDecision) => `${hold.produce}:${hold.market}:${hold.clock}`;

/** Whether a decision means something else; another working or wording of the same is no change. */
function same(a: HoldDecision | undefined, b: HoldDecision | undefined): boolean {
  if (a === undefined || b === undefined) return a === b;
  return (
    (['state', 'until', 'event', 'period', 'periodFromDose', 'wakes'] as const).every(
      (key) => a[key] === b[key],
    ) &&
    a.young?.until === b.young?.until &&
    a.young?.instead === b.young?.instead
  );
}

/** A row that reads the same on both sides is decided anew, but there is nothing in it to show. */
const isSeen = (row: Moved) => row.from !== row.to;

function movedRows(
  tx: Reader,
  what: { id: string; subject: string; given: string; holding: string },
  before: readonly HoldDecision[],
  after: readonly HoldDecision[],
): Moved[] {
  const { zone } = holdingOf(tx, what.holding);
  const keys = [...new Set([...before, ...after].map(keyOf))];
  return keys.flatMap((key) => {
    const was = before.find((hold) => keyOf(hold) === key);
    const now = after.find((hold) => keyOf(hold) === key);
    const one = now ?? was;
    if (one === undefined || same(was, now)) return [];
    return [
      {
        administration: what.id,
        subject: what.subject,
        shown: subjectsOf(tx, [what.subject])[0]?.shown ?? what.subject,
        given: what.given,
        produce: `${one.produce}${one.market === 'export' ? ' for export' : ''}${one.clock === 'organic' ? ' (organic)' : ''}`,
        from: said(was, zone),
        to: said(now, zone),
      },
    ];
  });
}

/** What ends a hold, in words, with the period behind an event that has not come yet. */
function said(hold: HoldDecision | undefined, zone: string): string {
  if (hold === undefined) return 'no word on it';
  const text = untilText({ state: hold.state, until: hold.until ?? null, event: hold.event ?? null }, zone);
  const then = hold.event !== undefined && hold.period !== undefined ? `, then ${hold.period}` : '';
  const asleep =
    hold.state !== 'dormant' ? '' : hold.until === undefined ? ' (not in milk)' : ' (if it comes into milk)';
  const lambs =
    hold.young === undefined
      ? ''
      : `; lambs at foot ${printInstant(hold.young.until as Instant, zone)}${hold.young.instead ? '' : ', if that is later'}`;
  return `${text}${then}${asleep}${lambs}`;
}

/** Only what this change brings: a declaration that was untrue before says so without it. */
function newNotices(tx: Reader, anew: Correction['anew']): Notice[] {
  if (anew.length === 0) return [];
  const about = [...new Set(anew.map(({ subject }) => subject))];
  const changed = new Map(anew.map(({ source, holds }) => [source, holds] as const));
  const key = (notice: Notice) => `${notice.declaration} ${notice.text}`;
  const before = new Set(noticesOf(tx, { changed: new Map(), about }).map(key));
  return noticesOf(tx, { changed, about }).filter((notice) => !before.has(key(notice)));
}

function reopenedOf(
  store: Store,
  tx: Reader,
  medicine: string,
  revision: string,
  terms: LabelTerms,
): Reopened[] {
  return stockRows(tx, medicine).flatMap((row) => {
    if (row.revision !== revision || row.opened === null) return [];
    const entry = store
      .entriesOf(`container:${row.id}`)
      .findLast((one) => one.kind === 'container-opened' && one.state !== 'voided');
    if (!entry) return [];
    const unusableFrom = unusableOnceOpened({
      opened: row.opened,
      zone: entry.happened.zone,
      inUse: terms.inUse,
      unopenedUntil: row.unopened_until,
    });
    return unusableFrom === row.unusable_from
      ? []
      : [{ entry, container: row.id, label: row.label, before: row.unusable_from, unusableFrom }];
  });
}

function overWarning(over: number): Warning[] {
  if (over === 0) return [];
  const who = over === 1 ? 'One treatment was' : `${over} treatments were`;
  const text = `${who} above the dose of this label: its periods do not cover that. Ask the vet for the period.`;
  return [{ code: 'over-label', text }];
}

function movedUseBy(reopened: readonly Reopened[]): Warning[] {
  return reopened.map((one) => ({
    code: 'use-by-moved',
    text: `${one.label} was opened: use by ${printUseBy(one.unusableFrom)}, not ${printUseBy(one.before)}.`,
  }));
}

/** Work that is open and was planned under this label: the doses on its sheet are those of the label as it was typed. */
function openWork(tx: Reader, revision: string): Warning[] {
  const sessions = tx.all<{ name: string }>(
    `SELECT name FROM session WHERE state = 'open'
     AND EXISTS (SELECT 1 FROM json_each(session.data, '$.lines') AS line WHERE line.value ->> 'revision' = ?)
     ORDER BY at`,
    revision,
  );
  return sessions.map(({ name }) => ({
    code: 'planned-under-it',
    text: `${name} was planned under the label as it was typed: plan it again before going on.`,
  }));
}
