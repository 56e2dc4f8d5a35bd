import type { declareCalls } from '../../../src-shared/calls/declare.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { dayOf, type Instant, localOf } from '../../../src-shared/time/zone.ts';
import { hashOfBytes } from '../../store/kept.ts';
import { type Answer, type Answers, type Context, checkClock, write } from '../context.ts';
import { optional } from '../optional.ts';
import { checkPerson } from '../reading/holding.ts';
import { noticesOf } from '../reading/notices.ts';
import { clearsBeforeAway } from './before-away.ts';
import { clearList } from './clear.ts';
import { declarationForm } from './form.ts';
import { cancelDeclaration, declarations } from './list.ts';
import { declarationPaper, paperHead } from './paper.ts';
import { tellChange } from './tell-change.ts';
import { checkTold, tellDeclaration } from './told.ts';
import { moveDeclared } from './transfer-move.ts';

/** How often a declaration is worked out anew when the book changed while its paper was printed. */
const MOST_ATTEMPTS = 3;

const preview: Answer<'preview-declaration'> = (context, asked) => {
  checkClock(context);
  const told = tellDeclaration(context.store.read, asked, context.now());
  const { lines, refused, openSessions, missing, question, sentences } = told;
  return { lines, refused, openSessions, missing, question, sentences };
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
    departs: asked.departs,
    relevantDays: asked.relevantDays,
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
        purpose: told.purpose,
        content: told.content,
        destination: told.destination,
        to: told.to,
        ...optional('toHolding', asked.toHolding),
        ...optional('notBefore', told.notBefore),
        ...optional('relevantDays', asked.relevantDays),
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
        facts: told.facts,
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

/** Who is clear, declarations and what has touched them since. */
export const declareAnswers: Answers<keyof typeof declareCalls> = {
  'clear-list': clearList,
  'clears-before-away': clearsBeforeAway,
  'declaration-form': declarationForm,
  'preview-declaration': preview,
  declare,
  declarations,
  'cancel-declaration': cancelDeclaration,
  'move-declared': moveDeclared,
  'tell-declaration': tellChange,
  notices: (context) => ({ notices: noticesOf(context.store.read, { untold: true }) }),
};
