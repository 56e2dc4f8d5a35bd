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

/** Everything a slaughter declaration prints, as text that is ready to print. */
export const declarationPaperSchema = z.strictObject({
  head: paperHeadSchema,
  number: z.number().int().min(1),
  to: z.string(),
  departs: z.string(),
  lines: z
    .array(
      z.strictObject({
        shown: z.string(),
        class: z.string(),
        heads: z.number().int(),
        /** It may carry a needle, and goes accompanied: where it is, how it is marked, who was told. */
        accompanied: z.strictObject({ says: z.string(), mark: z.string(), told: z.string() }).optional(),
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

const NOTHING = 'no treatment with a withdrawal period in the book';

/** Rows this paper takes in its table. */
export function declarationRows(paper: DeclarationPaper): number {
  return paper.lines.reduce(
    (sum, each) => sum + Math.max(1, each.treatments.length + (each.accompanied === undefined ? 0 : 1)),
    0,
  );
}

/** Our own page for a declaration for slaughter; no official form is imitated. */
export function declarationDefinition(paper: DeclarationPaper): TDocumentDefinitions {
  const { head } = paper;
  const title = `Declaration for slaughter no. ${paper.number}`;
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
              labelled('To', [paper.to]),
              { text: '', margin: [0, 4] },
              labelled('Leaves the holding', [paper.departs]),
            ],
          },
        ],
        columnGap: 24,
      },
      heading('What is declared'),
      ...paper.sentences.map((sentence) => line(sentence, { margin: [0, 0, 0, 2] })),
      heading('Animals'),
      animals(paper),
      signature(paper),
      cautions(head),
    ],
  });
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
      'Meat held until',
    ].map((text) => headCell(text)),
  ];
  for (const each of paper.lines) {
    const who: TableCell[] = [
      runs({ text: each.shown, bold: true }),
      runs(each.class),
      runs(String(each.heads)),
    ];
    if (each.treatments.length === 0 && each.accompanied === undefined) {
      body.push([...who, { ...runs(NOTHING), colSpan: 5 }, {}, {}, {}, {}]);
    }
    if (each.accompanied !== undefined) {
      // First, and across the whole row: this is what the people at the line must read.
      const { says, mark, told } = each.accompanied;
      const text = runs(
        { text: 'Accompanied: may carry a broken needle. ', bold: true },
        `Where: ${says}. `,
        { text: `Marked: ${mark}. `, bold: true },
        `Abattoir told: ${told}.`,
      );
      body.push([...who, { ...text, colSpan: 5 }, {}, {}, {}, {}]);
    }
    each.treatments.forEach((given, i) => {
      body.push([
        ...(i === 0 && each.accompanied === undefined ? who : ['', '', '']),
        runs(given.product, given.batch === '' ? '' : `\nbatch ${given.batch}`),
        runs(given.given),
        runs(given.quantity),
        runs(given.period),
        runs({ text: given.until, bold: true }),
      ]);
    });
  }
  return {
    table: {
      headerRows: 1,
      keepWithHeaderRows: 1,
      dontBreakRows: true,
      widths: [100, 40, 30, '*', 58, 44, 32, 62],
      body,
    },
    layout: RULED,
    fontSize: TYPE.cell,
  };
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
