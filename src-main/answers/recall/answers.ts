import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { recallCalls } from '../../../src-shared/calls/recall.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { printExpiry, stateAt } from '../../../src-shared/stock/use-by.ts';
import { checkRows } from '../../paper/papers.ts';
import { type RecallPaper, recallRows } from '../../paper/recall.ts';
import { happenedTo } from '../cabinet/move.ts';
import { type Answer, type Answers, type Context, write } from '../context.ts';
import { nowLocal } from '../medicine/answers.ts';
import { optional } from '../optional.ts';
import { medicineName, printLocal } from '../reading/labels.ts';
import { farmHolding, farmPaperHead } from '../reading/paper-head.ts';
import { batchAsked, containersOf, deliveriesOf, givenFromElsewhere } from './batch.ts';
import { recall } from './recall.ts';

function findBatch(context: Context, asked: Asked<'find-batch'>): Reply<'find-batch'> {
  const tx = context.store.read;
  const key = searchKey(asked.search);
  const names = new Map<string, string>();
  const nameOf = (medicine: string): string => {
    const name = names.get(medicine) ?? medicineName(tx, medicine);
    names.set(medicine, name);
    return name;
  };
  const found = new Map<string, Reply<'find-batch'>['batches'][number]>();
  for (const { id, medicine, number, received, data } of deliveriesOf(tx)) {
    // Each delivery of a number is the same batch; the first one stands for it, and the newest comes first.
    found.set(JSON.stringify([medicine, searchKey(number)]), {
      batch: id,
      number,
      medicine,
      name: nameOf(medicine),
      expiry: printExpiry(data.expiry),
      received: printLocal(received),
      ...optional('supplier', data.supplier),
    });
  }
  for (const { medicine, number } of givenFromElsewhere(tx)) {
    const same = JSON.stringify([medicine, searchKey(number)]);
    if (!found.has(same)) found.set(same, { number, medicine, name: nameOf(medicine) });
  }
  return {
    batches: [...found.values()].filter((one) =>
      [one.number, one.name].some((text) => searchKey(text).includes(key)),
    ),
  };
}

/** Answers `recall-paper`. Refuses what `recall` refuses, and a paper that would be too long. */
const recallPaper: Answer<'recall-paper'> = async (context, { paper, ...asked }) => {
  const found = recall(context, asked);
  const data: RecallPaper = {
    head: farmPaperHead(context, farmHolding(context), paper),
    number: found.number,
    name: found.name,
    says: found.says,
    deliveries: found.deliveries.map((one) =>
      [
        `${one.received}: ${one.containers} ${one.containers === 1 ? 'container' : 'containers'}, expiry ${one.expiry}`,
        ...(one.supplier === undefined ? [] : [`from ${one.supplier}`]),
        ...(one.proof === undefined ? [] : [`proof ${one.proof}`]),
      ].join(', '),
    ),
    balance: found.balance,
    containers: found.containers.map((one) => ({
      label: one.isMadeUp ? `${one.label}, made up from it` : one.label,
      left: one.left.text,
      state: STATES[one.state],
      store: one.store ?? '',
    })),
    got: found.got.map((one) => ({
      shown: one.shown,
      class: one.class.replaceAll('-', ' '),
      heads: one.heads,
      given: one.given.map(({ local, amount, from }) =>
        [local, amount, from].filter((text) => text !== '').join(', '),
      ),
      now: one.now.map(({ subject, shown, says, holds }) => ({
        says: subject === one.subject ? says : `${shown}: ${says}`,
        holds: holds.join('. '),
      })),
    })),
  };
  checkRows(recallRows(data));
  const bytes = await context.render({ paper: 'recall', data });
  return { paper: context.store.kept.attachments.put(bytes), checkCode: data.head.checkCode };
};

const STATES: Readonly<Record<Reply<'recall'>['containers'][number]['state'], string>> = {
  sealed: 'sealed',
  open: 'open',
  'past-in-use': 'open too long',
  expired: 'expired',
  empty: 'empty',
  quarantined: 'set aside',
  disposed: 'disposed of',
  returned: 'returned',
};

/**
 * Answers `set-batch-aside`: one entry for each container that is still here and not set aside yet; an empty one has
 * nothing to set aside. Refuses (`no-such-batch`).
 */
function setBatchAside(context: Context, asked: Asked<'set-batch-aside'>): Reply<'set-batch-aside'> {
  return write<'set-batch-aside'>(context, asked, (act) => {
    const batch = batchAsked(act.tx, { batch: asked.batch });
    const now = nowLocal(context, act.tx);
    const held = containersOf(context.store, batch, act.tx)
      .map(({ row }) => row)
      .filter((row) => {
        const state = stateAt(row, now);
        // Below none the bottle may well be there: it is set aside too.
        return state === 'empty' ? row.left_units < 0 : !GONE.has(state);
      });
    for (const row of held) {
      act.add(
        'stock-moved',
        { container: row.id, cause: 'quarantined', why: asked.why },
        happenedTo(act, row, asked.happened),
      );
    }
    return { setAside: held.map(({ label }) => label) };
  });
}

const GONE: ReadonlySet<string> = new Set(['disposed', 'returned', 'quarantined']);

/** Where a batch went: found by its number, shown, printed, and what is left of it set aside. */
export const recallAnswers: Answers<keyof typeof recallCalls> = {
  'find-batch': findBatch,
  recall,
  'recall-paper': recallPaper,
  'set-batch-aside': setBatchAside,
};
