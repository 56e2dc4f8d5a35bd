import type { TDocumentDefinitions } from 'pdfmake/interfaces.js';
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

/** An order list, as text that is ready to print. */
export const orderPaperSchema = z.strictObject({
  head: paperHeadSchema,
  number: z.number().int(),
  supplier: z.string(),
  made: z.string(),
  by: z.string(),
  rows: z.array(
    z.strictObject({
      product: z.string(),
      count: z.string(),
      size: z.string(),
      price: z.string(),
      /** What came of it so far; empty on a list that nothing came of yet. */
      state: z.string(),
    }),
  ),
  /** The sum of what has a price; empty where nothing has. */
  cost: z.string(),
  unpriced: z.number().int(),
});
export type OrderPaper = z.infer<typeof orderPaperSchema>;

/** One table: how many of which pack; what came of it stands beside it once something did. */
export function orderDefinition(paper: OrderPaper): TDocumentDefinitions {
  const { head, rows, cost, unpriced } = paper;
  const hasState = rows.some(({ state }) => state !== '');
  const heads = ['Packs', 'Of', 'Medicine', 'Price of one', ...(hasState ? ['What came of it'] : [])];
  return framed(head, {
    title: `Order ${paper.number} to ${paper.supplier}`,
    orientation: 'portrait',
    content: [
      { text: runs(`Order ${paper.number}`).text, bold: true, fontSize: TYPE.title, margin: [0, 0, 0, 6] },
      {
        columns: [
          labelled('To', [paper.supplier]),
          labelled('From', [head.business.name, head.business.address, head.business.phone ?? '']),
          labelled('Written', [paper.made, paper.by]),
        ],
        columnGap: 16,
        margin: [0, 0, 0, 10],
      },
      {
        table: {
          headerRows: 1,
          dontBreakRows: true,
          widths: ['auto', 'auto', '*', 'auto', ...(hasState ? [150] : [])],
          body: [
            heads.map((text) => headCell(text)),
            ...rows.map((row) => [
              runs({ text: row.count, bold: true }),
              runs(row.size),
              runs({ text: row.product, bold: true }),
              runs(row.price),
              ...(hasState ? [runs(row.state)] : []),
            ]),
          ],
        },
        layout: RULED,
        fontSize: TYPE.text,
      },
      ...(cost === ''
        ? []
        : [
            line(
              unpriced === 0
                ? `By the prices in the book: ${cost}.`
                : `By the prices in the book: ${cost}, and ${unpriced === 1 ? '1 line' : `${unpriced} lines`} without a price.`,
              { bold: true, margin: [0, 8, 0, 0] },
            ),
          ]),
      heading('Deliver to'),
      line([head.holding.name, head.holding.address].filter((part) => part !== '').join(', ')),
      cautions(head),
    ],
  });
}
