import type { declareCalls } from '../../../src-shared/calls/declare.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { dayOf, type Instant, instantOf, isoWithOffset, localOf } from '../../../src-shared/time/zone.ts';
import { checkCodeOf } from '../../store/check-code.ts';
import { hashOfBytes } from '../../store/kept.ts';
import { clockState } from '../../store/store.ts';
import { type Answer, type Answers, type Context, write } from '../context.ts';
import { checkPerson, holdingOf, onlyHolding, personName } from '../reading/holding.ts';
import { noticesByDeclaration, noticesOf } from '../reading/notices.ts';
import { ANIMAL_SELECT, LOT_SELECT, membersOf, type SubjectRow, shownOf } from '../reading/subjects.ts';
import { barring, begunBy, clearSince, heldRow, holdsBySubject } from './lines.ts';
import { declarationPaper, paperHead } from './paper.ts';
import { checkTold, tellDeclaration } from './told.ts';

/** How often a declaration is worked out anew when the book changed while its paper was printed. */
const MOST_ATTEMPTS = 3;

/** Refuses (`clock-doubted`): nothing is called clear by a clock that is not believed. */
function checkClock(context: Context): void {
  if (clockState(context.store, context.now()).state === 'believed') return;
  throw new Refusal(
    'clock-doubted',
    'The date of this computer is in doubt, so nothing can be called clear.',
    {
      next: 'Confirm what day it is under Farm, then look again.',
    },
  );
}

const clearList: Answer<'clear-list'> = (context, asked) => {
  checkClock(context);
  const tx = context.store.read;
  const holding = asked.holding === undefined ? onlyHolding(tx) : holdingOf(tx, asked.holding);
  const zone = holding?.zone ?? 'UTC';
  const at = instantOf(asked.at, zone, 'start', 'at');
  const rows =
    asked.group === undefined
      ? [
          ...tx.all<SubjectRow>(`${ANIMAL_SELECT} WHERE present = 1 ORDER BY shown_key, id`),
          ...tx.all<SubjectRow>(`${LOT_SELECT} WHERE heads > 0 ORDER BY name_key, id`),
        ]
      : membersOf(tx, asked.group);
  const key = searchKey(asked.search);
  const wanted = rows.filter(
    (row) =>
      (asked.holding === undefined || row.holding === asked.holding) &&
      (key === '' ||
        [row.shown, row.tag, row.chip, row.management].some((text) => text && searchKey(text).includes(key))),
  );
  const narrow = asked.group !== undefined || key !== '';
  const holds = holdsBySubject(tx, narrow ? wanted.map((row) => row.subject) : 'present');
  const clear = [];
  const held = [];
  for (const row of wanted) {
    const own = holds.get(row.subject) ?? [];
    const bad = barring(own, asked.produce, at, begunBy(asked.at, zone));
    if (bad.length > 0) held.push(heldRow(row, bad, zone));
    else {
      const since = clearSince(own, asked.produce, at);
      clear.push({
        ...shownOf(row),
        ...(since === undefined ? {} : { since: isoWithOffset(since as Instant, zone) }),
      });
    }
  }
  return { produce: asked.produce, at: isoWithOffset(at, zone), clear, held };
};

const preview: Answer<'preview-declaration'> = (context, asked) => {
  checkClock(context);
  const { lines, refused, openSessions, question, sentences } = tellDeclaration(
    context.store.read,
    asked,
    context.now(),
  );
  return { lines, refused, openSessions, question, sentences };
};

const declare: Answer<'declare'> = async (context, asked) => {
  const { store } = context;
  // A repeated request is answered as it was the first time, before anything is worked out or printed.
  if (store.entryNamed(asked.request, 1)) {
    return write<'declare'>(context, asked, () => {
      throw new Error('a request that is in the book was worked out again');
    });
  }
  checkClock(context);
  if (asked.answer === 'no') {
    throw new Refusal('answered-no', 'The question was answered with no, so nothing was declared.', {
      field: 'answer',
      next: 'Record what is missing, or take off the list whoever is not clear.',
    });
  }
  for (let attempt = 1; attempt <= MOST_ATTEMPTS; attempt += 1) {
    const made = await attemptToDeclare(context, asked);
    if (made) return made;
  }
  throw new Refusal(
    'book-keeps-changing',
    'The book changed while the paper was made, so it was not signed.',
    {
      next: 'Sign it again when nobody else is writing.',
    },
  );
};

type DeclareAsked = Parameters<typeof declare>[1];

/** One attempt: works it out from the book as it stands, prints it, and signs if the book is still the same. */
async function attemptToDeclare(context: Context, asked: DeclareAsked) {
  const { store } = context;
  const now = context.now();
  const head = store.head();
  const told = tellDeclaration(store.read, asked, now);
  checkTold(told);
  const { holding } = told;
  const signer = checkPerson(store.read, asked.signer, 'signer');
  const number = nextNumber(context, holding.holding);
  const data = declarationPaper(told, {
    head: paperHead(store.read, holding, {
      now,
      checkCode: head.checkCode,
      size: asked.paper ?? holding.paper,
    }),
    number,
    to: asked.to,
    departs: asked.departs,
    signer: signer.name,
  });
  const bytes = await context.render({ paper: 'declaration', data });
  // Read outside the transaction and once more inside it: only what was printed may be signed.
  if (store.head().hash !== head.hash) return undefined;
  return write<'declare'>(context, asked, (act) => {
    if (store.head().hash !== head.hash) throw new Error('the book changed inside a writing call');
    const declaration = act.id();
    const paper = hashOfBytes(bytes);
    act.add(
      'declared',
      {
        declaration,
        number,
        holding: holding.holding,
        purpose: 'slaughter',
        to: asked.to,
        departs: asked.departs,
        departsAt: told.departsAt,
        lines: told.lines,
        signer: asked.signer,
        question: told.question,
        answer: 'yes',
        counting: data.head.counting,
        basedOn: { seq: head.seq, hash: head.hash },
        believed: dayOf(now as Instant, holding.zone),
        paper,
        facts: {},
      },
      { local: localOf(now as Instant, holding.zone), zone: holding.zone, at: now },
    );
    act.keep((kept) => void kept.attachments.put(bytes));
    return { declaration, number, paper, checkCode: head.checkCode };
  });
}

function nextNumber(context: Context, holding: string): number {
  const row = context.store.read.get<{ last: number | null }>(
    'SELECT max(number) AS last FROM declaration WHERE holding = ?',
    holding,
  );
  return (row?.last ?? 0) + 1;
}

type Row = {
  id: string;
  number: number;
  to_whom: string;
  departs: string;
  heads: number;
  state: 'standing' | 'cancelled';
  paper: string;
  data: string;
};

const declarations: Answer<'declarations'> = (context, asked) => {
  const tx = context.store.read;
  const where = [
    ...(asked.holding === undefined ? [] : ['holding = ?']),
    ...(asked.declaration === undefined ? [] : ['id = ?']),
  ];
  const rows = tx.all<Row>(
    `SELECT id, number, to_whom, departs, heads, state, paper, data FROM declaration
     ${where.length === 0 ? '' : `WHERE ${where.join(' AND ')}`} ORDER BY seq DESC LIMIT ?`,
    ...[asked.holding, asked.declaration].filter((each) => each !== undefined),
    asked.limit,
  );
  const notices = noticesByDeclaration(tx);
  return {
    declarations: rows.map((row) => {
      const { basedOn, believed, signer } = JSON.parse(row.data) as DataOf<'declared'>;
      const cancelled = row.state === 'cancelled' ? cancelledBy(context, row.id) : undefined;
      return {
        declaration: row.id,
        number: row.number,
        to: row.to_whom,
        departs: row.departs,
        heads: row.heads,
        state: row.state,
        paper: row.paper,
        checkCode: checkCodeOf(basedOn.seq, basedOn.hash),
        signed: believed,
        signer: personName(tx, signer),
        ...(cancelled === undefined ? {} : { cancelled }),
        notices: notices.get(row.id) ?? [],
      };
    }),
  };
};

/** Why, by whom and when a declaration was cancelled. */
function cancelledBy({ store }: Context, declaration: string) {
  const entry = store
    .entriesOf(`declaration:${declaration}`)
    .findLast((each) => each.kind === 'declaration-cancelled' && each.state !== 'voided');
  if (!entry) return undefined;
  const { why } = entry.data as DataOf<'declaration-cancelled'>;
  return { why, by: personName(store.read, entry.by), recorded: entry.recorded };
}

const cancel: Answer<'cancel-declaration'> = (context, asked) =>
  write<'cancel-declaration'>(context, asked, (act) => {
    const row = act.tx.get<{ state: string }>(
      'SELECT state FROM declaration WHERE id = ?',
      asked.declaration,
    );
    if (!row) {
      throw new Refusal('no-such-declaration', 'This declaration is not in the book.', {
        field: 'declaration',
      });
    }
    if (row.state === 'cancelled') {
      throw new Refusal('already-cancelled', 'This declaration is cancelled already.', {
        field: 'declaration',
      });
    }
    act.add('declaration-cancelled', { declaration: asked.declaration, why: asked.why });
    return { done: true };
  });

/** Who is clear, declarations and what has touched them since. */
export const declareAnswers: Answers<keyof typeof declareCalls> = {
  'clear-list': clearList,
  'preview-declaration': preview,
  declare,
  declarations,
  'cancel-declaration': cancel,
  notices: (context) => ({ notices: noticesOf(context.store.read) }),
};
