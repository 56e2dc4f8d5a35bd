import type { z } from 'zod';
import type { CALLS, CallName, Reply, WritingCall } from '../../src-shared/calls/all.ts';
import { type DataOf, draft, type KindName } from '../../src-shared/entries/all.ts';
import type { EntryDraft, Happened } from '../../src-shared/entries/kind.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { instantOf, localOf, parseInstant } from '../../src-shared/time/zone.ts';
import { clockState, type Reader, type Store } from '../store/store.ts';
import type { WorkBoard, WorkTools } from '../work/board.ts';
import type { Work } from '../work/desk-work.ts';
import type { BackupShelf } from './backup.ts';
import type { PackShelf } from './book/make-pack.ts';
import type { Holding } from './reading/holding.ts';
import { checkPerson, onlyHolding } from './reading/holding.ts';
import { settlements } from './reading/settling.ts';

/** What every answer works with. One for each open book. */
export type Context = {
  store: Store;
  /** UTC now, ISO with milliseconds; the only clock there is. */
  now(): string;
  /** A file that came by file input, by its token. */
  file(token: string): { name: string; bytes: Uint8Array } | undefined;
  /** Renders a paper definition to PDF bytes, in the worker where there is one. */
  render(paper: PaperJob, tools?: WorkTools): Promise<Uint8Array>;
  /** Long work on the book, in the worker where there is one. */
  work: Work;
  /** Which long work is under way; the screens ask it. */
  board: WorkBoard;
  /** The backup that was made and waits to be saved. */
  backups: BackupShelf;
  /** The inspector's pack that was made and waits to be saved. */
  packs: PackShelf;
};

/** Refuses (`clock-doubted`): nothing is called clear by a clock that is not believed. */
export function checkClock(context: Context): void {
  if (clockState(context.store, context.now()).state === 'believed') return;
  throw new Refusal(
    'clock-doubted',
    'The date of this computer is in doubt, so nothing can be called clear.',
    {
      next: 'Confirm what day it is under Farm, then look again.',
    },
  );
}

/** A paper to render: the name of its definition in paper/ and the data it is made from. */
export type PaperJob = { paper: string; data: unknown };

export type Asked<N extends CallName> = z.output<(typeof CALLS)[N]['request']>;
/** An answer: checked request in, reply out; it throws a Refusal to say no. */
export type Answer<N extends CallName> = (context: Context, asked: Asked<N>) => Reply<N> | Promise<Reply<N>>;
export type Answers<N extends CallName> = { [K in N]: Answer<K> };

/** One writing call in progress, inside its transaction: what it may read and the entries it adds. */
export type Act = {
  tx: Reader;
  now: string;
  /** A fresh id for a thing this call makes: the request and a number, so that a repeat makes the same one. */
  id(): string;
  /** Adds an entry, by the person of the call, at the call's time or another. */
  add<K extends KindName>(kind: K, data: DataOf<K>, happened?: Happened): void;
  /** When it happened, in the holding's zone. A day alone sorts at its start; `end` for moves, so that a hold follows. */
  happened(holding: Holding | undefined, local?: string, side?: 'start' | 'end'): Happened;
  /** Refuses with "ask:code" unless the person has already said yes to it. */
  ask(code: string, message: string, field?: string): void;
  /**
   * Work in the same transaction when the entries are folded and before the reply is kept: on the kept tables (an
   * issued paper's bytes), or on what the reply says of the book as it is then.
   */
  keep(work: Keeper): void;
  /** From here on entries are written by this person: the keeper whom the first call of a book makes. */
  writeAs(person: string): void;
};
type Keeper = NonNullable<ReturnType<Parameters<Store['write']>[2]>['keep']>;

type WritingAsk = {
  request: string;
  by: string;
  happened?: string | undefined;
  confirmed: string[];
};

/**
 * Runs one writing call: opens the transaction, lets `work` read and add entries, appends and folds them. The
 * same request id with the same request is answered as it was the first time. Refuses (`no-such-person`) when the
 * book does not know who writes; only the call that starts a book (`writer` 'made-here') makes that person itself.
 */
export function write<N extends WritingCall>(
  context: Context,
  asked: Asked<N> & WritingAsk,
  work: (act: Act) => Reply<N>,
  writer: 'known' | 'made-here' = 'known',
): Reply<N> {
  return context.store.write(asked.request, asked, (tx) => {
    if (writer === 'known') checkPerson(tx, asked.by, 'by');
    let by = asked.by;
    const entries: EntryDraft[] = [];
    const keepers: Keeper[] = [];
    const now = context.now();
    let made = 0;
    const act: Act = {
      tx,
      now,
      id: () => `${asked.request}.${++made}`,
      happened(holding, local = asked.happened, side = 'start') {
        const zone = (holding ?? onlyHolding(tx))?.zone ?? 'UTC';
        if (local === undefined) return { local: localOf(parseInstant(now, 'clock'), zone), zone, at: now };
        if (instantOf(local, zone, 'start', 'happened') > now) {
          throw new Refusal('in-the-future', 'This is said to have happened later than now.', {
            field: 'happened',
            next: 'Check the date and the time, and the clock of the computer.',
          });
        }
        const at = instantOf(local, zone, side, 'happened');
        // A move on a day that is not over yet sorts now, not at the end of a day still to come.
        const isStillToCome = at > now;
        return { local, zone, at: isStillToCome ? now : at };
      },
      add(kind, data, happened) {
        entries.push(draft(kind, by, happened ?? act.happened(undefined), data));
      },
      ask(code, message, field) {
        // A screen may send the code as the refusal named it, or bare.
        if (asked.confirmed.includes(code) || asked.confirmed.includes(`ask:${code}`)) return;
        throw new Refusal(`ask:${code}`, message, { field, next: 'Say yes if it is so, or correct it.' });
      },
      keep: (keeper) => keepers.push(keeper),
      writeAs(person) {
        by = person;
      },
    };
    const reply = work(act);
    // What was written may be what a hold waits for, or wait for what has happened already.
    entries.push(...settlements(tx, entries));
    return {
      entries,
      reply,
      keep(kept) {
        for (const keeper of keepers) keeper(kept);
      },
    };
  });
}
