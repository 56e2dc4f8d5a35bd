import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { printDay } from '../../../src-shared/time/day.ts';
import { dayOf, type Instant } from '../../../src-shared/time/zone.ts';
import type { BookEntry, Reader } from '../../store/store.ts';
import { type Act, type Answer, type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { happenedBy, notBefore } from '../reading/flock.ts';
import { type Holding, holdingOf, personName } from '../reading/holding.ts';
import { printLocal } from '../reading/labels.ts';
import { type SubjectRow, subjectsOf } from '../reading/subjects.ts';
import { namesOf } from './told.ts';

type Declared = DataOf<'declared'>;
type Moved = DataOf<'holding-moved'>;
type Line = Declared['lines'][number];
type Transfer = NonNullable<Reply<'declarations'>['declarations'][number]['transfer']>;

/** Somebody on a transfer paper as it can be moved: the whole of it, or heads that are split off a lot. */
type Going = { line: Line; row: SubjectRow };

/** Answers `move-declared`: those on a signed transfer paper are on the other holding from when they left. */
export const moveDeclared: Answer<'move-declared'> = (context, asked) =>
  write<'move-declared'>(context, asked, (act) => {
    const { tx } = act;
    const declared = standingTransfer(context, asked.declaration);
    const from = holdingOf(tx, declared.holding);
    const to = holdingOf(tx, declared.toHolding);
    const { going, left } = whoCanMove(tx, declared);
    if (going.length === 0) {
      throw new Refusal('nobody-to-move', `Nobody on this paper is on ${from.name} by the book any more.`, {
        field: 'declaration',
        next: 'Look under Flock where they are by the book.',
      });
    }
    if (left.length > 0) {
      const said = left.map(({ shown, why }) => `${shown} ${why}`);
      act.ask('not-all-move', `Not moved by this: ${namesOf(said)}. Move the others?`, 'declaration');
    }
    if (asked.happened === undefined && declared.departsAt > act.now) {
      throw new Refusal('not-left-yet', `They leave only on ${printLocal(declared.departs)}.`, {
        field: 'declaration',
        next: 'Move them in the book once they have left.',
      });
    }
    const said = happenedBy(act, from, 'end', asked.happened ?? declared.departs);
    const happened = notBefore(said, lastSetOf(tx, going));
    const moved = going.map((one) => ({ subject: goesAs(act, one, to, happened), heads: one.line.heads }));
    act.add(
      'holding-moved',
      { move: act.id(), declaration: asked.declaration, from: from.holding, to: to.holding, moved },
      happened,
    );
    return { heads: moved.reduce((sum, { heads }) => sum + heads, 0), left };
  });

/** A transfer paper that stands and was not moved by yet. */
function standingTransfer(context: Context, declaration: string): Declared & { toHolding: string } {
  const row = context.store.read.get<{ state: string; data: string }>(
    'SELECT state, data FROM declaration WHERE id = ?',
    declaration,
  );
  const refuse = (code: string, message: string, next: string) => {
    throw new Refusal(code, message, { field: 'declaration', next });
  };
  if (row === undefined) {
    return refuse('no-such-declaration', 'This paper is not in the book.', 'Open it again under Declare.');
  }
  const declared = JSON.parse(row.data) as Declared;
  const { toHolding } = declared;
  if (declared.purpose !== 'transfer' || toHolding === undefined) {
    return refuse(
      'not-a-transfer',
      'Only a paper between two holdings of the farm moves anybody.',
      'Record under Flock who left the farm.',
    );
  }
  if (row.state !== 'standing') {
    return refuse(
      'declaration-cancelled',
      'This paper is cancelled, so nobody is moved by it.',
      'Sign a new one for those who go.',
    );
  }
  if (standingMove(context.store.read, declaration) !== undefined) {
    return refuse(
      'already-moved',
      'Those on this paper are moved already.',
      'If they did not go, take the move back first.',
    );
  }
  return { ...declared, toHolding };
}

function standingMove(tx: Reader, declaration: string): { data: Moved; seq: number } | undefined {
  const row = tx.get<{ data: string; seq: number }>(
    "SELECT data, seq FROM record WHERE what = 'holding-moved' AND name = ?",
    declaration,
  );
  return row && { data: JSON.parse(row.data) as Moved, seq: row.seq };
}

/** Of those on the paper: who can be moved as it says, and who cannot and why. */
function whoCanMove(
  tx: Reader,
  declared: Declared,
): { going: Going[]; left: { shown: string; why: string }[] } {
  const rows = new Map(
    subjectsOf(
      tx,
      declared.lines.map(({ subject }) => subject),
    ).map((row) => [row.subject, row]),
  );
  const going: Going[] = [];
  const left: { shown: string; why: string }[] = [];
  for (const line of declared.lines) {
    const row = rows.get(line.subject);
    const why = whyNot(row, line, declared.holding);
    if (row !== undefined && why === undefined) going.push({ line, row });
    else left.push({ shown: line.shown, why: why ?? 'is not in the book' });
  }
  return { going, left };
}

function whyNot(row: SubjectRow | undefined, line: Line, from: string): string | undefined {
  if (row === undefined) return 'is not in the book any more';
  if (row.present !== 1) return 'is not there any more';
  if (row.holding !== from) return 'is on another holding by the book';
  return row.heads < line.heads ? `has ${row.heads} head by the book, not ${line.heads}` : undefined;
}

/** Heads of a lot that stays go as a lot of their own. */
function goesAs(act: Act, { line, row }: Going, to: Holding, happened: Happened): string {
  if (row.heads === line.heads || !row.subject.startsWith('lot:')) return row.subject;
  const lot = act.id();
  const { name, origin } = act.tx.get<{ name: string; origin: 'own' | 'bought' }>(
    'SELECT name, origin FROM lot WHERE id = ?',
    row.subject.slice('lot:'.length),
  ) ?? { name: row.shown, origin: 'own' as const };
  act.add(
    'lot-set',
    {
      lot,
      holding: row.holding,
      name: freeName(act.tx, `${name}, to ${to.name}`),
      class: row.class,
      heads: 0,
      milking: row.milking === 1,
      origin,
      ...optional('born', row.born ?? undefined),
    },
    happened,
  );
  const from = row.subject.slice('lot:'.length);
  act.add('lot-moved', { from, to: `lot:${lot}`, heads: line.heads, why: 'split' }, happened);
  return `lot:${lot}`;
}

const MOST_LETTERS = 110;

/** The name, or with the first number behind it that no lot with heads has. */
function freeName(tx: Reader, name: string): string {
  const short = name.slice(0, MOST_LETTERS);
  for (let n = 1; ; n += 1) {
    const tried = n === 1 ? short : `${short} (${n})`;
    if (!tx.get('SELECT 1 FROM lot WHERE name_key = ? AND heads > 0', searchKey(tried))) return tried;
  }
}

/** The latest moment at which one of them was entered, changed or got heads: what was written then names a holding too. */
function lastSetOf(tx: Reader, going: readonly Going[]): string | undefined {
  const row = tx.get<{ at: string | null }>(
    `SELECT max(e.at) AS at FROM subject_entry AS e JOIN journal AS j ON j.seq = e.seq
     WHERE e.subject IN (SELECT value FROM json_each(?)) AND j.line ->> '$.kind' IN ('animal-set', 'lot-set', 'lot-moved')`,
    JSON.stringify(going.map(({ row: { subject } }) => subject)),
  );
  return row?.at ?? undefined;
}

/** What became of those on a transfer paper by the book; nothing for a paper of another sort. */
export function transferOf({ store, now }: Context, declared: Declared): Transfer | undefined {
  const { toHolding, declaration, holding, departsAt } = declared;
  if (declared.purpose !== 'transfer' || toHolding === undefined) return undefined;
  const tx = store.read;
  const from = holdingOf(tx, holding);
  const to = holdingOf(tx, toHolding);
  const standing = standingMove(tx, declaration);
  const today = dayOf(now() as Instant, from.zone);
  const isStillHere = today < declared.departs.slice(0, 10) || now() < departsAt;
  return {
    from: from.name,
    to: to.name,
    isStillHere,
    ...optional('moved', standing && movedSaid(tx, store.entry(standing.seq), standing.data, declared)),
    ...optional(
      'takenBack',
      standing === undefined ? takenBack(tx, store.entriesOf(`declaration:${declaration}`)) : undefined,
    ),
  };
}

function movedSaid(
  tx: Reader,
  entry: BookEntry | undefined,
  { moved, to, from }: Moved,
  { lines }: Declared,
): NonNullable<Transfer['moved']> {
  const rows = new Map(
    subjectsOf(tx, [
      ...new Set([...moved.map(({ subject }) => subject), ...lines.map(({ subject }) => subject)]),
    ]).map((row) => [row.subject, row]),
  );
  const went = new Set(moved.map(({ subject }) => subject));
  const others = moved.filter(({ subject }) => !lines.some((line) => line.subject === subject));
  // Heads that were split off stand under a name of their own.
  const asParts = new Set(others.flatMap(({ subject }) => parentsOf(tx, subject)));
  return {
    entry: { request: entry?.request ?? '', n: entry?.n ?? 0 },
    local: entry?.happened.local ?? '',
    by: entry === undefined ? '' : personName(tx, entry.by),
    heads: moved.reduce((sum, { heads }) => sum + heads, 0),
    parts: others.map(({ subject, heads }) => ({
      subject: subject as `lot:${string}`,
      shown: rows.get(subject)?.shown ?? subject,
      heads,
    })),
    notMoved: lines
      .filter(({ subject }) => !went.has(subject) && !asParts.has(subject))
      .map(({ shown }) => shown),
    goneOn: moved.flatMap(({ subject }) => {
      const row = rows.get(subject);
      if (row === undefined || row.present !== 1 || row.holding === to) return [];
      return [`${row.shown} ${row.holding === from ? 'is back' : 'is on another holding'} by the book`];
    }),
  };
}

function parentsOf(tx: Reader, lot: string): string[] {
  return tx
    .all<{ parent: string }>('SELECT parent FROM lineage WHERE subject = ?', lot)
    .map(({ parent }) => parent);
}

/** The latest move that was struck out, and why. */
function takenBack(tx: Reader, entries: readonly BookEntry[]): Transfer['takenBack'] {
  const entry = entries.findLast((each) => each.kind === 'holding-moved' && each.state === 'voided');
  if (entry === undefined) return undefined;
  const row = tx.get<{ reason: string; by: string; recorded: string }>(
    `SELECT j.line ->> '$.data.reason' AS reason, j.line ->> '$.by' AS by, j.line ->> '$.recorded' AS recorded
     FROM correction JOIN journal AS j ON j.seq = correction.seq
     WHERE correction.target = ? ORDER BY correction.seq DESC LIMIT 1`,
    entry.seq,
  );
  if (row === undefined) return undefined;
  const on = printDay(dayOf(row.recorded as Instant, entry.happened.zone));
  return { why: row.reason, by: personName(tx, row.by), on };
}
