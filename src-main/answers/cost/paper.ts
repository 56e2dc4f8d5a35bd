import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { type Day, printDay } from '../../../src-shared/time/day.ts';
import { costCsv } from '../../exchange/cost.ts';
import type { CostPaper } from '../../paper/cost.ts';
import type { Answer, Context } from '../context.ts';
import { farmHolding, farmPaperHead } from '../reading/paper-head.ts';
import { cost } from './cost.ts';

type Money = Reply<'cost'>['total'];

/** So many animals and lots are printed, the dearest; the table has all of them. */
const MOST_PRINTED = 200;

const all = (context: Context, { from, to }: Pick<Asked<'cost'>, 'from' | 'to'>, most: number) =>
  cost(context, { from, to, search: '', most });

/** Answers `cost-paper`. Refuses what `cost` refuses. */
export const costPaper: Answer<'cost-paper'> = async (context, { paper, ...asked }) => {
  const found = all(context, asked, MOST_PRINTED);
  const left = found.subjectsInAll - found.subjects.length;
  const data: CostPaper = {
    head: farmPaperHead(context, farmHolding(context), paper),
    from: printDay(found.from as Day),
    to: printDay(found.to as Day),
    total: found.total.length === 0 ? 'No price is known.' : said(found.total),
    lost: found.lost.length === 0 ? 'Nothing, as far as prices are known.' : said(found.lost),
    unknown: found.unknown.map(({ text }) => text),
    medicines: found.medicines.map((one) => ({
      name: one.name,
      count: one.doses,
      ...sums(one, one.perDose),
      lost: said(one.lost),
    })),
    groups: found.groups.map((one) => ({ name: one.name, count: one.heads, ...sums(one, one.perHead) })),
    subjects: found.subjects.map((one) => ({
      name: one.shown,
      count: one.heads,
      ...sums(one, one.perHead),
    })),
    notPrinted: left,
  };
  const bytes = await context.render({ paper: 'cost', data });
  return { paper: context.store.kept.attachments.put(bytes), checkCode: data.head.checkCode };
};

/** Answers `cost-table`. Refuses what `cost` refuses. */
export const costTable: Answer<'cost-table'> = (context, asked) => {
  const found = all(context, asked, Number.POSITIVE_INFINITY);
  return { name: `cost-${found.from}-${found.to}.csv`, ...costCsv(found) };
};

const said = (money: Money) => money.map(({ text }) => text).join(' + ');

/** A sum and what one is of it, or what it is at least where some of it has no price. */
function sums({ cost: money, isPart }: { cost: Money; isPart: boolean }, each: Money) {
  const text = said(money);
  if (!isPart) return { cost: text, each: said(each) };
  return { cost: text === '' ? 'not known' : `at least ${text}`, each: 'not known' };
}
