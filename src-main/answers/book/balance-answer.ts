import type { Reply } from '../../../src-shared/calls/all.ts';
import { type balanceCalls, MOST_MOVES } from '../../../src-shared/calls/balance.ts';
import { instantOf } from '../../../src-shared/time/zone.ts';
import type { Answer, Answers } from '../context.ts';
import { optional } from '../optional.ts';
import { daysOf } from '../reading/days.ts';
import { holdingOf } from '../reading/holding.ts';
import { type Balance, type BalanceSums, balances, balanceWords } from './balances.ts';
import { checkFilter } from './check-filter.ts';

type Shown = Reply<'balance'>['medicines'][number];

/** Answers `balance`. Refuses (`no-such-medicine`, `no-such-holding`, `bad-day`, `dates-crossed`). */
const balance: Answer<'balance'> = ({ store }, asked) => {
  const tx = store.read;
  const { zone } = holdingOf(tx, asked.holding);
  const days = daysOf(asked);
  const { medicine, batch } = asked;
  checkFilter(tx, { medicine });
  const range = {
    from: instantOf(days.from, zone, 'start', 'from'),
    to: instantOf(days.to, zone, 'end', 'to'),
  };
  const found = balances(tx, range, { medicine, batch });
  return { medicines: found.map((one) => shown(one, medicine !== undefined)) };
};

function shown(one: Balance, isNamed: boolean): Shown {
  const { medicine, name, kind, text } = one;
  const rows = isNamed ? one.rows.slice(-MOST_MOVES) : [];
  return {
    ...{ medicine, name, kind },
    ...sumsText(one.sums, text),
    batches: one.batches.map(({ batch, sums }) => ({ batch, ...sumsText(sums, text) })),
    rows: rows.map((row) => ({
      local: row.local,
      what: balanceWords(row, text),
      treated: row.treated,
      container: row.container,
      label: row.label,
      batch: row.batch,
      ...optional('administration', row.administration),
      in: row.units > 0 ? text(row.units) : '',
      out: row.units < 0 ? text(-row.units) : '',
      balance: text(row.balance),
    })),
    leftOut: isNamed ? one.rows.length - rows.length : 0,
  };
}

function sumsText(sums: BalanceSums, text: Balance['text']) {
  const some = (units: number) => (units === 0 ? '' : text(units));
  return {
    opening: text(sums.opening),
    received: some(sums.received),
    used: some(sums.used),
    lost: some(sums.lost),
    disposed: some(sums.disposed),
    corrected: sums.corrected > 0 ? `+${text(sums.corrected)}` : some(sums.corrected),
    closing: text(sums.closing),
  };
}

/** What is had of each medicine, and how that came about. */
export const balanceAnswers: Answers<keyof typeof balanceCalls> = { balance };
