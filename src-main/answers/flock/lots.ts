import type { z } from 'zod';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import type { lotSet } from '../../../src-shared/entries/lot-set.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { parseDay } from '../../../src-shared/time/day.ts';
import { startOfDay } from '../../../src-shared/time/zone.ts';
import type { Reader, Store } from '../../store/store.ts';
import { type Act, type Answers, type Asked, write } from '../context.ts';
import {
  cameAt,
  checkedDay,
  happenedBy,
  holdingOfSubject,
  holdUntilStatement,
  notBefore,
  sayLeft,
} from '../reading/flock.ts';
import { holdingOf } from '../reading/holding.ts';
import { subjectOfName } from '../reading/subjects.ts';
import { judgeMoved } from '../treat/moved-day.ts';
import { numbersOf } from './animals.ts';

type LotRow = {
  id: string;
  holding: string;
  name: string;
  class: z.output<typeof lotSet.schema>['class'];
  heads: number;
  born: string | null;
  milking: number;
  origin: 'own' | 'bought';
  came_on: string | null;
};

function lotOf(tx: Reader, id: string, field: string): LotRow {
  const row = tx.get<LotRow>(
    'SELECT id, holding, name, class, heads, born, milking, origin, came_on FROM lot WHERE id = ?',
    id,
  );
  if (!row) {
    throw new Refusal('no-such-lot', 'This lot is not in the book.', {
      field,
      next: 'Choose a lot from the list, or make a new one.',
    });
  }
  return row;
}

/** Two lots of one name could not be told apart at the race. An empty one gives its name up. */
function checkName(tx: Reader, name: string, own: string | undefined, field: string): void {
  const other = tx.get<{ name: string }>(
    'SELECT name FROM lot WHERE name_key = ? AND id <> ? AND heads > 0',
    searchKey(name),
    own ?? '',
  );
  if (!other) return;
  throw new Refusal('name-taken', `There is a lot called ${other.name} already.`, {
    field,
    next: 'Give this one another name, or move the heads into that lot.',
  });
}

function checkHeads(lot: Pick<LotRow, 'name' | 'heads'>, heads: number, field: string): void {
  if (heads <= lot.heads) return;
  throw new Refusal('too-few-heads', `${lot.name} has ${lot.heads} heads in the book, not ${heads}.`, {
    field,
    next: 'Correct the number, or count the lot again first.',
  });
}

function setLot(act: Act, asked: Asked<'set-lot'>) {
  const holding = holdingOf(act.tx, asked.holding);
  const before = asked.lot === undefined ? undefined : lotOf(act.tx, asked.lot, 'lot');
  checkName(act.tx, asked.name, asked.lot, 'name');
  const lot = asked.lot ?? act.id();
  const subject = `lot:${lot}`;
  const happened = notBefore(happenedBy(act, holding, 'start', asked.happened), cameAt(act.tx, subject));
  const origin = asked.origin === 'bought' ? 'bought' : (before?.origin ?? 'own');
  act.add(
    'lot-set',
    {
      lot,
      holding: holding.holding,
      name: asked.name,
      class: asked.class,
      heads: asked.heads,
      born: checkedDay(act, holding, 'born', asked.born) ?? before?.born ?? undefined,
      milking: asked.milking,
      origin,
      cameOn: checkedDay(act, holding, 'cameOn', asked.cameOn) ?? before?.came_on ?? undefined,
      why: asked.why,
    },
    happened,
  );
  const bought = origin === 'bought' && before?.origin !== 'bought';
  if (bought || asked.standing === 'unknown') holdUntilStatement(act, subject, happened);
  return { lot };
}

/**
 * When heads moved. A day alone sorts at its end, so that holds of that day follow; and never before the giving
 * lot got heads on that same day, or what those brought along would be lost on the way.
 */
function movedAt(act: Act, asked: Asked<'move-heads'>, from: LotRow, to: string | undefined): Happened {
  const holding = holdingOfSubject(act.tx, from);
  const said = happenedBy(act, holding, 'end', asked.happened);
  const happened = notBefore(
    notBefore(said, cameAt(act.tx, `lot:${from.id}`)),
    to === undefined ? undefined : cameAt(act.tx, to),
  );
  const dayEnds = startOfDay(parseDay(happened.local.slice(0, 10), 'happened'), happened.zone, 1);
  const received = act.tx.get<{ at: string | null }>(
    'SELECT max(at) AS at FROM lineage WHERE subject = ? AND at <= ?',
    `lot:${from.id}`,
    dayEnds,
  );
  return notBefore(happened, received?.at ?? undefined);
}

function moveHeads(store: Store, act: Act, asked: Asked<'move-heads'>): { to: string } {
  const from = lotOf(act.tx, asked.from, 'from');
  checkHeads(from, asked.heads, 'heads');
  const { to, heads } = asked;
  const shared = {
    holding: from.holding,
    class: from.class,
    born: from.born ?? undefined,
    milking: from.milking === 1,
    origin: from.origin,
    cameOn: from.came_on ?? undefined,
  };
  const move = (subject: string, why: 'split' | 'merge' | 'tagged', happened: Happened) => {
    act.add('lot-moved', { from: from.id, to: subject, heads, why }, happened);
    judgeMoved(store, act, `lot:${from.id}`, subject, happened);
    return { to: subject };
  };
  if ('lot' in to) {
    const receiver = lotOf(act.tx, to.lot, 'to');
    if (receiver.id === from.id) {
      throw new Refusal('same-lot', 'These heads are in this lot already.', {
        field: 'to',
        next: 'Choose another lot.',
      });
    }
    if (receiver.class !== from.class) {
      act.ask(
        'class-differs',
        `${from.name} is of class ${from.class} and ${receiver.name} of class ${receiver.class}: from now on these ${heads} are dosed as ${receiver.class}. Move them?`,
        'to',
      );
    }
    const subject = `lot:${receiver.id}`;
    return move(subject, 'merge', movedAt(act, asked, from, subject));
  }
  const happened = movedAt(act, asked, from, undefined);
  if ('newLot' in to) {
    checkName(act.tx, to.newLot, undefined, 'to');
    const lot = act.id();
    act.add('lot-set', { lot, name: to.newLot, heads: 0, ...shared }, happened);
    return move(`lot:${lot}`, 'split', happened);
  }
  if (heads !== 1) {
    throw new Refusal('one-head', 'A tag goes into one animal at a time.', {
      field: 'heads',
      next: 'Move one head for each tag.',
    });
  }
  const numbers = numbersOf(act, to, undefined);
  const animal = act.id();
  act.add('animal-set', { animal, ...numbers, ...shared }, happened);
  return move(`animal:${animal}`, 'tagged', happened);
}

function depart(act: Act, asked: Asked<'depart'>): { done: true } {
  const seen = new Set<string>();
  for (const [i, { subject, heads }] of asked.subjects.entries()) {
    const field = `subjects.${i}`;
    const row = subjectOfName(act.tx, subject, field);
    if (seen.has(subject)) {
      throw new Refusal('named-twice', `${row.shown} is in the list twice.`, {
        field,
        next: 'Take one out.',
      });
    }
    seen.add(subject);
    if (subject.startsWith('lot:'))
      checkHeads({ name: row.shown, heads: row.heads }, heads, `${field}.heads`);
    else checkThere(act.tx, subject, row.shown, heads, field);
    const said = happenedBy(act, holdingOfSubject(act.tx, row), 'end', asked.happened);
    act.add(
      'departed',
      { subject, heads, how: asked.how, ...(asked.to ? { to: asked.to } : {}) },
      notBefore(said, cameAt(act.tx, subject)),
    );
  }
  return { done: true };
}

function checkThere(tx: Reader, subject: string, shown: string, heads: number, field: string): void {
  const animal = tx.get<{ present: number; left_on: string | null; left_how: string | null }>(
    'SELECT present, left_on, left_how FROM animal WHERE id = ?',
    subject.slice('animal:'.length),
  );
  if (animal?.present === 0) {
    throw new Refusal('already-gone', `${shown} ${sayLeft(animal)} already.`, {
      field,
      next: 'Take it out of the list, or correct the earlier departure under Book.',
    });
  }
  if (heads !== 1) {
    throw new Refusal('one-head', `${shown} is one animal.`, { field: `${field}.heads`, next: 'Give 1.' });
  }
}

export const lotAnswers: Answers<'set-lot' | 'move-heads' | 'depart'> = {
  'set-lot'(context, asked) {
    return write<'set-lot'>(context, asked, (act) => setLot(act, asked));
  },
  'move-heads'(context, asked) {
    return write<'move-heads'>(context, asked, (act) => moveHeads(context.store, act, asked));
  },
  depart(context, asked) {
    return write<'depart'>(context, asked, (act) => depart(act, asked));
  },
};
