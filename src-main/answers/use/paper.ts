import type { Reply } from '../../../src-shared/calls/all.ts';
import { type Quotients, useBars } from '../../../src-shared/record/use-bars.ts';
import { type Day, printDay } from '../../../src-shared/time/day.ts';
import type { UsePaper } from '../../paper/use.ts';
import type { Answer } from '../context.ts';
import { holdingOf, recordsOf } from '../reading/holding.ts';
import { farmHolding, farmPaperHead } from '../reading/paper-head.ts';
import { answerUse } from './use.ts';

type Year = Reply<'use'>['years'][number];

/** Answers `use-paper`. Refuses what `use` refuses. */
export const usePaper: Answer<'use-paper'> = async (context, { paper, ...asked }) => {
  const { rules, years } = answerUse(context, asked);
  const holding =
    asked.holding === undefined ? farmHolding(context) : holdingOf(context.store.read, asked.holding);
  const isAll = asked.holding === undefined && recordsOf(context.store.read, 'holding').length > 1;
  const { says, share } = useBars(years.map(({ total }) => total));
  const data: UsePaper = {
    head: farmPaperHead(context, holding, paper),
    rules: `${isAll ? 'All holdings of the business together. ' : ''}mg/PCU counts ${rules.livingKg} kg for each living and ${rules.slaughteredKg} kg for each slaughtered sheep (${rules.source}). That is a convention for sales of whole countries; the farm’s own weights come first here.`,
    bars: says,
    years: years.map((year) => yearPaper(year, share)),
  };
  const bytes = await context.render({ paper: 'use', data });
  return { paper: context.store.kept.attachments.put(bytes), checkCode: data.head.checkCode };
};

function yearPaper(year: Year, share: (one: Quotients) => number): UsePaper['years'][number] {
  const { weight, total } = year;
  const quotients = (one: Quotients) => ({
    share: share(one),
    perKg: one.mgPerKg ?? 'not known',
    perPcu: one.mgPerPcu ?? 'not known',
  });
  return {
    title: year.isRunning ? `${year.year}, to ${printDay(year.to as Day)}` : String(year.year),
    groups: year.antimicrobials.map((one) => ({ name: one.name, text: one.text, ...quotients(one) })),
    total: { text: total.text, ...quotients(total) },
    doses: year.doses,
    missing: year.missing,
    weight: [
      weight.ownKg === undefined
        ? 'The farm’s own weight is not known.'
        : `The farm’s own weight: ${whole(weight.ownKg)} kg.`,
      ...weight.ownText,
      `Standard weight: ${weight.living} living, ${weight.slaughtered} slaughtered, ${whole(weight.pcuKg)} kg.`,
      ...weight.standardText,
    ],
    parasites: year.parasites.map(({ name, doses, medicines }) => ({
      name,
      doses,
      medicines: medicines.join(', '),
    })),
    vaccines: year.vaccines.map(({ name, doses }) => ({ name, doses })),
  };
}

/** Kilograms for reading: whole ones, thousands apart. */
function whole(kg: string): string {
  return Number(kg).toLocaleString('en-GB', { maximumFractionDigits: 0 });
}
