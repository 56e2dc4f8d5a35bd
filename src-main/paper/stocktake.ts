import type { Content, TDocumentDefinitions } from 'pdfmake/interfaces.js';
import { z } from 'zod';
import { cautions, framed, headCell, heading, line, paperHeadSchema, RULED, runs, TYPE } from './parts.ts';

/** The sheet to take to the shelf, as text that is ready to print. */
export const stocktakePaperSchema = z.strictObject({
  head: paperHeadSchema,
  stores: z.array(
    z.strictObject({
      store: z.string(),
      rows: z.array(
        z.strictObject({
          label: z.string(),
          name: z.string(),
          batch: z.string(),
          useBy: z.string(),
          received: z.string(),
          /** What the book says is left; empty on a sheet that does not show it. */
          book: z.string(),
          unit: z.string(),
        }),
      ),
    }),
  ),
  showsBook: z.boolean(),
});
export type StocktakePaper = z.infer<typeof stocktakePaperSchema>;

/** How many lines the paper has: what the limit of one document counts. */
export function stocktakeRows({ stores }: StocktakePaper): number {
  return stores.reduce((sum, { rows }) => sum + rows.length, 0);
}

/** One table a store, with room to write what is there and why it differs. */
export function stocktakeDefinition(paper: StocktakePaper): TDocumentDefinitions {
  const { head, stores } = paper;
  return framed(head, {
    title: 'Stocktake',
    orientation: 'landscape',
    content: [
      { text: 'Stocktake', bold: true, fontSize: TYPE.title, margin: [0, 0, 0, 4] },
      line('Write what is in each container now, in its unit; 0 when it is empty or not there.'),
      line(
        'Counted by ........................................   On ...................... at ............',
        {
          margin: [0, 8, 0, 0],
        },
      ),
      ...(stores.length === 0 ? [line('Nothing is on the shelf.', { margin: [0, 8, 0, 0] })] : []),
      ...stores.flatMap((store) => [heading(store.store), table(store.rows, paper.showsBook)]),
      heading('Found and not on the sheet'),
      line('..........................................................................................'),
      cautions(head),
    ],
  });
}

function table(rows: StocktakePaper['stores'][number]['rows'], showsBook: boolean): Content {
  const heads = [
    'Container',
    'Medicine',
    'Batch',
    'Use by',
    'Came in',
    ...(showsBook ? ['The book says'] : []),
    'There is now',
    'Why it differs',
  ];
  return {
    table: {
      headerRows: 1,
      dontBreakRows: true,
      widths: ['auto', '*', 'auto', 'auto', 'auto', ...(showsBook ? ['auto'] : []), 90, 130],
      body: [
        heads.map((text) => headCell(text)),
        ...rows.map((one) => [
          runs({ text: one.label, bold: true }),
          runs(one.name),
          runs(one.batch),
          runs(one.useBy),
          runs(one.received),
          ...(showsBook ? [runs(one.book)] : []),
          runs(`.................. ${one.unit}`),
          runs(''),
        ]),
      ],
    },
    layout: RULED,
    fontSize: TYPE.cell,
  };
}
