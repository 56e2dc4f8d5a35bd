import { dateConfirmed, dateConfirmedSchema } from '../../src-shared/entries/date-confirmed.ts';
import type { Entry, EntryDraft } from '../../src-shared/entries/kind.ts';
import { happenedSchema, isInstant, type Replaced } from '../../src-shared/entries/replaced.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { type Clock, clockBelief, dayIn } from './clock.ts';
import { journalSource } from './effective.ts';
import { foldEngine } from './fold.ts';
import { canonical, chainHash, checkedData, type Kinds, kindFor, parseLine, sha256 } from './journal.ts';
import type { Kept, keptReplies } from './kept.ts';
import type { ReplayParts } from './replay.ts';
import { type Db, readerOf } from './sqlite.ts';
import type { Head, Store } from './store-type.ts';

type WritingParts = {
  db: Db;
  parts: ReplayParts;
  clock: Clock;
  kept: Kept;
  replies: ReturnType<typeof keptReplies>;
  head: () => Head;
  clockReference: () => string | undefined;
};

/** The one path by which anything gets into a book. */
export function writingCalls({
  db,
  parts,
  clock,
  kept,
  replies,
  head,
  clockReference,
}: WritingParts): Store['write'] {
  const tx = readerOf(db);
  const engine = foldEngine(db, journalSource(db), parts.kinds, parts.projections);
  const begin = db.prepare('BEGIN IMMEDIATE');
  const commit = db.prepare('COMMIT');
  const rollback = db.prepare('ROLLBACK');
  const insert = db.prepare('INSERT INTO journal (seq, request, n, line, hash) VALUES (?, ?, ?, ?, ?)');
  const askedBefore = db.prepare('SELECT line FROM journal WHERE request = ? AND n = 1').pluck();

  function append(request: string, asked: string, drafts: readonly EntryDraft[], from: Head): void {
    const recorded = clock.now();
    if (!isInstant(recorded))
      throw new Error(`the clock answers ${recorded}, which is not UTC with milliseconds`);
    let { seq, hash } = from;
    let belief = clockBelief(clockReference(), recorded).state;
    const folding = engine.begin();
    for (const [place, draft] of drafts.entries()) {
      seq += 1;
      const entry = written(
        draft,
        { seq, request, n: place + 1, asked, recorded, clock: belief },
        parts.kinds,
      );
      const line = canonical(entry);
      hash = chainHash(hash, line);
      insert.run(seq, request, place + 1, line, hash);
      // What is folded is what a replay will read: the line, not the object it was made from.
      folding.take(parseLine(line));
      if (draft.kind === dateConfirmed.kind) belief = 'believed';
    }
    folding.finish();
  }

  return function write(request, asked, compute) {
    if (!/^[\w.:-]{1,80}$/.test(request)) {
      throw new Refusal('request-id', 'This call has no proper request id.', { field: 'request' });
    }
    if (db.inTransaction) throw new Error('a writing call was made inside another');
    const askedHash = sha256(canonical(asked));
    begin.run();
    try {
      const first = replies.get(request);
      if (first || askedBefore.get(request) !== undefined) {
        const reply = repeated(first, askedBefore.get(request), askedHash);
        rollback.run();
        return reply === null ? undefined : JSON.parse(reply);
      }
      const from = head();
      const result = compute(tx, from);
      if (result instanceof Promise) throw new Error('compute must not be asynchronous');
      if (result.entries.length > 0) append(request, askedHash, result.entries, from);
      result.keep?.(kept);
      const reply = result.reply === undefined ? null : canonical(result.reply);
      replies.put(request, askedHash, reply);
      commit.run();
      return reply === null ? undefined : JSON.parse(reply);
    } catch (thrown) {
      if (db.inTransaction) rollback.run();
      throw thrown;
    }
  };
}

/** The first reply to a call that comes again. @throws Refusal when it is another call under the same id */
function repeated(
  first: { asked: string; reply: string | null } | undefined,
  line: unknown,
  asked: string,
): string | null {
  const before = typeof line === 'string' ? parseLine(line).asked : first?.asked;
  if (before !== asked) {
    throw new Refusal('request-id-reused', 'This was already sent with other content, so it was not taken.', {
      field: 'request',
      next: 'Open the form again and send it once more.',
    });
  }
  if (first) return first.reply;
  throw new Refusal('already-written', 'This is already in the book.', {
    next: 'Look it up in the book; nothing needs to be sent again.',
  });
}

type Added = Pick<Entry, 'seq' | 'request' | 'n' | 'asked' | 'recorded' | 'clock'>;

function written(draft: EntryDraft, added: Added, kinds: Kinds): Entry {
  const kind = kinds.get(draft.kind);
  if (!kind) throw new Error(`there is no kind of entry called ${draft.kind}`);
  const happened = happenedSchema.safeParse(draft.happened);
  if (!happened.success) {
    throw new Refusal('happened-not-valid', 'It is not clear when this happened.', {
      field: 'happened',
      next: 'Give the day, and the time if you know it.',
    });
  }
  if (draft.by === '') {
    throw new Refusal('by-missing', 'It is not clear who writes this.', {
      field: 'by',
      next: 'Choose who you are under Farm.',
    });
  }
  let data = checkedData(kind, draft.data);
  if (draft.kind === 'replaced') data = checkedReplacement(data as Replaced, kinds, added.seq);
  if (draft.kind === dateConfirmed.kind) checkDay(data, happened.data.zone, added.recorded);
  return { ...added, kind: kind.kind, v: kind.version, happened: happened.data, by: draft.by, data };
}

/** The content of a replacement is held to the schema of what it replaces, at its newest version. */
function checkedReplacement(data: Replaced, kinds: Kinds, seq: number): Replaced {
  const kind = kindFor(kinds, data.kind, data.v, seq);
  if (data.v !== kind.version)
    throw new Error(`a replacement is written at version ${kind.version} of ${kind.kind}`);
  return { ...data, data: checkedData(kind, data.data) };
}

function checkDay(data: unknown, zone: string, recorded: string): void {
  const { day } = dateConfirmedSchema.parse(data);
  const clockDay = dayIn(zone, recorded);
  if (day === clockDay) return;
  throw new Refusal('date-differs', `This computer says it is ${clockDay}, and you say it is ${day}.`, {
    field: 'day',
    next: "Set the computer's clock right, then confirm the date.",
  });
}
