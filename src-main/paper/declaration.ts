import type { Content, TableCell, TDocumentDefinitions } from 'pdfmake/interfaces.js';
import { z } from 'zod';
import {
  cautions,
  framed,
  headCell,
  heading,
  labelled,
  line,
  paperHeadSchema,
  RULED,
  runs,
  TYPE,
} from './parts.ts';

/** Everything a declaration prints, of whatever sort, as text that is ready to print. */
export const declarationPaperSchema = z.strictObject({
  head: paperHeadSchema,
  /** "Declaration for slaughter no. 7". */
  title: z.string(),
  number: z.number().int().min(1),
  to: z.string(),
  /** The words of this sort of paper: who it is made out to, of what moment, the end of a hold, and for nothing. */
  words: z.strictObject({ to: z.string(), when: z.string(), until: z.string(), none: z.string() }),
  departs: z.string(),
  /** The time an abattoir agreed to, set large, and with whom. */
  notBefore: z.strictObject({ at: z.string(), says: z.string() }).optional(),
  /** What the keeper said himself. */
  facts: z.array(z.strictObject({ name: z.string(), says: z.string() })),
  /** Where the content comes from, and how far that is confirmed. */
  content: z.string(),
  lines: z
    .array(
      z.strictObject({
        shown: z.string(),
        class: z.string(),
        heads: z.number().int(),
        /** It may carry a needle, and goes accompanied: where it is, how it is marked, who was told. */
        accompanied: z.strictObject({ says: z.string(), mark: z.string(), told: z.string() }).optional(),
        /** What still runs, in words, on a paper that says so. */
        runs: z.array(z.string()).optional(),
        treatments: z.array(
          z.strictObject({
            product: z.string(),
            batch: z.string(),
            given: z.string(),
            quantity: z.string(),
            period: z.string(),
            until: z.string(),
          }),
        ),
      }),
    )
    .min(1),
  sentences: z.array(z.string()),
  question: z.string(),
  signer: z.string(),
});
export type DeclarationPaper = z.infer<typeof declarationPaperSchema>;

type Line = DeclarationPaper['lines'][number];

/** Rows before the treatments of one line: that it goes accompanied, and what still runs. */
const aheadOf = ({ accompanied, runs: still }: Line): number =>
  (accompanied === undefined ? 0 : 1) + ((still ?? []).length > 0 ? 1 : 0);

/** Rows this paper takes in its table. */
export function declarationRows(paper: DeclarationPaper): number {
  return paper.lines.reduce((sum, each) => sum + Math.max(1, each.treatments.length + aheadOf(each)), 0);
}

/** Our own page for what is declared to others; no official form is imitated. */
export function declarationDefinition(paper: DeclarationPaper): TDocumentDefinitions {
  const { head, title, words } = paper;
  return framed(head, {
    title,
    orientation: 'portrait',
    content: [
      { text: title, bold: true, fontSize: TYPE.title, margin: [0, 0, 0, 10] },
      {
        columns: [
          labelled('From', [
            head.business.name,
            head.business.address,
            head.business.phone ?? '',
            `Holding ${head.holding.number}, ${head.holding.name}`,
            head.holding.address,
            `Keeper: ${head.keeper}`,
          ]),
          {
            stack: [
              labelled(words.to, [paper.to]),
              { text: '', margin: [0, 4] },
              labelled(words.when, [paper.departs]),
            ],
          },
        ],
        columnGap: 24,
      },
      ...notBefore(paper),
      heading('What is declared'),
      ...paper.sentences.map((sentence) => line(sentence, { margin: [0, 0, 0, 2] })),
      ...paper.facts.map(
        ({ name, says }): Content => ({
          stack: [runs({ text: `${name}: `, bold: true }, says)],
          margin: [0, 2, 0, 2],
        }),
      ),
      heading('Animals'),
      animals(paper),
      signature(paper),
      { unbreakable: true, stack: [line(paper.content, { fontSize: TYPE.cell, margin: [0, 10, 0, 0] })] },
      cautions(head),
    ],
  });
}

/** Across the page and large: whoever hangs up the first one must not miss it. */
function notBefore({ notBefore: agreed }: DeclarationPaper): Content[] {
  if (agreed === undefined) return [];
  return [
    {
      margin: [0, 12, 0, 0],
      table: {
        widths: ['*'],
        body: [
          [
            {
              ...runs(
                { text: `Not to be slaughtered before ${agreed.at}`, bold: true, fontSize: TYPE.heading },
                `\n${agreed.says}`,
              ),
              margin: [4, 3, 4, 3],
            },
          ],
        ],
      },
    },
  ];
}

function animals(paper: DeclarationPaper): Content {
  const body: TableCell[][] = [
    [
      'Identification',
      'Class',
      'Heads',
      'Product, batch',
      'Given',
      'Quantity',
      'Period',
      paper.words.until,
    ].map((text) => headCell(text)),
  ];
  for (const each of paper.lines) body.push(...rowsOf(each, paper.words.none));
  return {
    table: {
      headerRows: 1,
      keepWithHeaderRows: 1,
      dontBreakRows: true,
      widths: [94, 38, 30, '*', 56, 44, 40, 64],
      body,
    },
    layout: RULED,
    fontSize: TYPE.cell,
  };
}

/** The rows of one animal or lot: who it is stands before the first of them alone. */
function rowsOf(each: Line, none: string): TableCell[][] {
  const across = (text: Content): TableCell[] => [
    { ...(text as object), colSpan: 5 } as TableCell,
    {},
    {},
    {},
    {},
  ];
  const rows: TableCell[][] = [];
  if (each.accompanied !== undefined) {
    // First, and across the whole row: this is what the people at the line must read.
    const { says, mark, told } = each.accompanied;
    rows.push(
      across(
        runs(
          { text: 'Accompanied: may carry a broken needle. ', bold: true },
          `Where: ${says}. `,
          { text: `Marked: ${mark}. `, bold: true },
          `Abattoir told: ${told}.`,
        ),
      ),
    );
  }
  const still = each.runs ?? [];
  if (still.length > 0) {
    rows.push(across(runs({ text: 'Still runs: ', bold: true }, `${still.join('; ')}.`)));
  }
  for (const given of each.treatments) {
    rows.push([
      runs(given.product, given.batch === '' ? '' : `\nbatch ${given.batch}`),
      runs(given.given),
      runs(given.quantity),
      runs(given.period),
      runs({ text: given.until, bold: true }),
    ]);
  }
  if (rows.length === 0) rows.push(across(runs(none)));
  const who: TableCell[] = [
    runs({ text: each.shown, bold: true }),
    runs(each.class),
    runs(String(each.heads)),
  ];
  return rows.map((row, i) => [...(i === 0 ? who : ['', '', '']), ...row]);
}

function signature(paper: DeclarationPaper): Content {
  return {
    unbreakable: true,
    stack: [
      heading('Signed'),
      line(paper.question, { margin: [0, 0, 0, 3] }),
      runs('Answer: ', { text: 'Yes', bold: true }),
      {
        columns: [
          labelled('Name', [paper.signer]),
          labelled('Date', [paper.head.statedText]),
          {
            stack: [
              { text: 'Signature', fontSize: TYPE.cell },
              { canvas: [{ type: 'line', x1: 0, y1: 26, x2: 170, y2: 26, lineWidth: 0.8 }] },
            ],
            width: 180,
          },
        ],
        columnGap: 16,
        margin: [0, 10, 0, 0],
      },
    ],
  };
}
