import type { Reply } from '../../../src-shared/calls/all.ts';
import { type Day, printDay } from '../../../src-shared/time/day.ts';
import { checkRows } from '../../paper/papers.ts';
import { type VetPagePaper, vetPageRows } from '../../paper/vet-page.ts';
import type { Answer } from '../context.ts';
import { holdingOf, recordsOf } from '../reading/holding.ts';
import { farmHolding, farmPaperHead } from '../reading/paper-head.ts';
import { vetPage } from './page.ts';

type Page = Reply<'vet-page'>;
const day = (text: string) => printDay(text as Day);

/** Answers `vet-page-paper`. Refuses what `vet-page` refuses, and a paper that would be too long. */
export const vetPagePaper: Answer<'vet-page-paper'> = async (context, { paper, ...asked }) => {
  const page = await vetPage(context, asked);
  const holding =
    asked.holding === undefined ? farmHolding(context) : holdingOf(context.store.read, asked.holding);
  const isAll = asked.holding === undefined && recordsOf(context.store.read, 'holding').length > 1;
  const data: VetPagePaper = {
    head: farmPaperHead(context, holding, paper),
    span: `${day(page.since)} to ${day(page.to)}; ${page.because}.${isAll ? ' All holdings of the business together.' : ''}`,
    sections: sections(page),
  };
  checkRows(vetPageRows(data));
  const bytes = await context.render({ paper: 'vet-page', data });
  return { paper: context.store.kept.attachments.put(bytes), checkCode: data.head.checkCode };
};

function sections(page: Page): VetPagePaper['sections'] {
  return [
    {
      title: `The same reason again within ${page.repeatDays} days`,
      heads: ['Animal or lot', 'For', 'Given'],
      rows: page.again.map((one) => [
        one.shown,
        one.reason,
        one.times.map((each) => `${day(each.day)} ${each.product}`).join('; '),
      ]),
      none: 'None.',
    },
    { title: 'No effect', ...seen(page.noEffect) },
    { title: 'Reactions', ...seen(page.reactions) },
    {
      title: 'Outside the label',
      heads: ['Medicine', 'What', 'Head', 'Who'],
      rows: otherwise(page, true),
      none: 'Nothing on record.',
    },
    {
      title: 'Otherwise than the label or the plan says',
      heads: ['Medicine', 'What', 'Head', 'Who'],
      rows: otherwise(page, false),
      none: 'Nothing on record.',
    },
    {
      title: 'Antimicrobials by group',
      heads: ['Group', 'Active substance'],
      rows: [
        ...page.antimicrobials.map((one) => [one.name, one.text]),
        ...page.missing.map((text) => ['Not counted in', text]),
      ],
      none: 'None.',
    },
    {
      title: 'Vaccines late or lapsed today',
      heads: ['Who, and which'],
      rows: page.vaccines.map(({ text }) => [text]),
      none: 'None that the book knows of.',
    },
    {
      title: 'Instructions not yet in writing',
      heads: ['Said by', 'On', 'What'],
      rows: page.notInWriting.map((one) => [one.vetName, day(one.day), one.what]),
      none: 'None.',
    },
    {
      title: 'What was given, and why',
      heads: ['Medicine', 'For', 'Head', 'When'],
      rows: page.given.map((one) => [
        one.isAntimicrobial ? `${one.name} (antimicrobial)` : one.name,
        one.reason,
        String(one.heads),
        one.first === one.last ? day(one.first) : `${day(one.first)} to ${day(one.last)}`,
      ]),
      none: 'Nothing.',
    },
  ];
}

function otherwise(page: Page, isOffLabel: boolean): string[][] {
  return page.otherwise
    .filter((one) => one.isOffLabel === isOffLabel)
    .map((one) => [one.name, one.text, String(one.heads), one.who]);
}

function seen(rows: Page['reactions']): Pick<VetPagePaper['sections'][number], 'heads' | 'rows' | 'none'> {
  return {
    heads: ['Animal or lot', 'Medicine', 'Seen', 'How it went on'],
    rows: rows.map((one) => [
      one.heads === undefined ? one.shown : `${one.shown}, ${one.heads} head`,
      one.product,
      `${one.local}: ${one.seen}`,
      one.outcome,
    ]),
    none: 'None reported.',
  };
}
