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
import { givenTable, recordRowSchema, struckRun } from './treatment-record.ts';

/** A row of what came in, went out or is left. Struck rows carry why beneath them. */
const stockRow = z.strictObject({
  date: z.string(),
  medicine: z.string(),
  /** Batch, expiry, form, strength: what tells it from others. */
  detail: z.string(),
  container: z.string(),
  quantity: z.string(),
  /** Received: supplier and address, proof. Gone: what, how, where, why. */
  cells: z.array(z.string()).max(3),
  struck: z.boolean(),
  beneath: z.array(z.string()).max(16),
});
export type StockRow = z.infer<typeof stockRow>;

const balanceRow = z.strictObject({
  date: z.string(),
  what: z.string(),
  who: z.string(),
  in: z.string(),
  out: z.string(),
  balance: z.string(),
});

const bookPart = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('received'), rows: z.array(stockRow) }),
  z.strictObject({
    kind: z.literal('given'),
    title: z.string(),
    /** Lines under the heading: who the animal is, for a page of its own. */
    lead: z.array(z.string()).max(6),
    /** Begins a page of its own. */
    ownPage: z.boolean(),
    rows: z.array(recordRowSchema),
  }),
  z.strictObject({ kind: z.literal('gone'), rows: z.array(stockRow) }),
  z.strictObject({ kind: z.literal('left'), on: z.string(), rows: z.array(stockRow) }),
  z.strictObject({
    kind: z.literal('balance'),
    title: z.string(),
    lead: z.array(z.string()).max(6),
    ownPage: z.boolean(),
    rows: z.array(balanceRow),
  }),
  z.strictObject({
    kind: z.literal('totals'),
    says: z.string(),
    rows: z.array(
      z.strictObject({
        medicine: z.string(),
        treatments: z.string(),
        heads: z.string(),
        given: z.string(),
        received: z.string(),
      }),
    ),
  }),
  z.strictObject({ kind: z.literal('about'), title: z.string(), lines: z.array(z.string()).max(60) }),
]);
export type BookPart = z.infer<typeof bookPart>;

/** The medicine book of one holding and keeper, or one volume of it. */
export const medicineBookSchema = z.strictObject({
  head: paperHeadSchema,
  title: z.string(),
  from: z.string(),
  to: z.string(),
  /** What it was narrowed to, in words; none: everything. */
  only: z.array(z.string()).max(8),
  volume: z.strictObject({ n: z.number().int(), of: z.number().int() }),
  parts: z.array(bookPart),
});
export type MedicineBook = z.infer<typeof medicineBookSchema>;

/** How many rows a part has. */
export function rowsOfPart(part: BookPart): number {
  return part.kind === 'about' ? 0 : part.rows.length;
}

export function medicineBookRows(paper: MedicineBook): number {
  return paper.parts.reduce((sum, part) => sum + rowsOfPart(part), 0);
}

/** The document. Landscape: the end of the withdrawal is set large and still has room beside it. */
export function medicineBookDefinition(paper: MedicineBook): TDocumentDefinitions {
  const { head, volume } = paper;
  const name = volume.of === 1 ? paper.title : `${paper.title}, volume ${volume.n} of ${volume.of}`;
  return framed(head, {
    title: `${name} ${paper.from} to ${paper.to}`,
    orientation: 'landscape',
    content: [
      line(name, { bold: true, fontSize: TYPE.title, margin: [0, 0, 0, 8] }),
      {
        columns: [
          labelled('Business', [head.business.name, head.business.address]),
          labelled('Holding', [`${head.holding.number}, ${head.holding.name}`, head.holding.address]),
          labelled('Keeper', [head.keeper, 'Species: sheep']),
          labelled('Period', [`${paper.from} to ${paper.to}`, 'both days included', ...paper.only]),
        ],
        columnGap: 18,
        margin: [0, 0, 0, 6],
      },
      ...paper.parts.flatMap((part, i) => contentOf(part, i === 0)),
      ...(volume.n === volume.of ? [cautions(head)] : []),
    ],
  });
}

function contentOf(part: BookPart, isFirst: boolean): Content[] {
  switch (part.kind) {
    case 'received':
      return [
        heading('What came in'),
        stockTable(
          part.rows,
          ['Date', 'Medicine, batch', 'Containers', 'Quantity', 'Supplier and address', 'Proof of purchase'],
          [60, 176, 84, 108, '*', 120],
          'Nothing came in.',
        ),
      ];
    case 'gone':
      return [
        heading('What was lost, disposed of, returned or counted otherwise'),
        stockTable(
          part.rows,
          ['Date', 'Medicine, batch', 'Container', 'Quantity', 'What and how', 'Where', 'Why'],
          [60, 180, 70, 80, 120, 90, '*'],
          'Nothing was lost, disposed of or returned.',
        ),
      ];
    case 'left':
      return [
        heading(`What is left at the end of ${part.on}`),
        stockTable(
          part.rows,
          ['Medicine, batch', 'Container', 'Quantity'],
          ['*', 160, 160],
          'Nothing is left.',
        ),
      ];
    case 'given':
      return [
        titled(part.title, part.lead, part.ownPage && !isFirst),
        part.rows.length === 0 ? line('The book has no treatment in this period.') : givenTable(part.rows),
      ];
    case 'balance':
      return [titled(part.title, part.lead, part.ownPage && !isFirst), balanceTable(part.rows)];
    case 'totals':
      return [
        {
          stack: [
            heading('Totals'),
            line(part.says, { margin: [0, 0, 0, 4] }),
            ...(part.rows.length === 0 ? [] : [totalsTable(part.rows)]),
          ],
          // A heading and the names of columns do not stand at the foot of a page by themselves.
          unbreakable: part.rows.length < 20,
        },
      ];
    case 'about':
      return [heading(part.title), { stack: part.lines.map((text) => line(text)), fontSize: TYPE.cell }];
  }
}

function titled(title: string, lead: readonly string[], ownPage: boolean): Content {
  return {
    stack: [heading(title), ...lead.map((text) => line(text))],
    margin: [0, 0, 0, 4],
    ...(ownPage ? { pageBreak: 'before' as const } : {}),
  };
}

function plainTable(
  heads: readonly string[],
  rows: readonly (readonly string[])[],
  widths: (number | '*')[],
  /** The columns from this one on are figures, which stand under figures. */
  figuresFrom: number,
): Content {
  const side = (i: number) => (i < figuresFrom ? {} : { alignment: 'right' as const });
  return {
    table: {
      headerRows: 1,
      dontBreakRows: true,
      widths,
      body: [
        heads.map((text, i) => headCell(text, side(i))),
        ...rows.map((cells) => cells.map((text, i) => ({ ...runs(text), ...side(i) }))),
      ],
    },
    layout: RULED,
    fontSize: TYPE.cell,
  };
}

function totalsTable(rows: Extract<BookPart, { kind: 'totals' }>['rows']): Content {
  return plainTable(
    ['Medicine', 'Received', 'Treatments', 'Head', 'Given'],
    rows.map((row) => [row.medicine, row.received, row.treatments, row.heads, row.given]),
    ['*', 130, 70, 60, 130],
    1,
  );
}

function balanceTable(rows: Extract<BookPart, { kind: 'balance' }>['rows']): Content {
  return plainTable(
    ['Date', 'What', 'Whom or which container', 'In', 'Out', 'Balance'],
    rows.map((row) => [row.date, row.what, row.who, row.in, row.out, row.balance]),
    [84, 160, '*', 80, 80, 90],
    3,
  );
}

/** A row taller than a page would vanish if it were kept together; about 90 characters go on a line beneath. */
const fitsAPage = (row: StockRow) =>
  [row.medicine, row.detail, row.container, ...row.cells].every((text) => text.length < 600) &&
  row.beneath.every((text) => text.length < 2500);

function stockTable(
  rows: readonly StockRow[],
  heads: readonly string[],
  widths: (number | '*')[],
  none: string,
): Content {
  if (rows.length === 0) return line(none);
  const hasDate = heads[0] === 'Date';
  const body: TableCell[][] = [heads.map((text) => headCell(text))];
  for (const row of rows) {
    const run = (text: string, bold = false) => struckRun(text, row.struck, bold);
    body.push([
      ...(hasDate ? [runs(run(row.date))] : []),
      runs(run(row.medicine, true), run(row.detail === '' ? '' : `\n${row.detail}`)),
      runs(run(row.container)),
      runs(run(row.quantity)),
      ...row.cells.map((text) => runs(run(text))),
    ]);
    for (const text of row.beneath) {
      const cell: TableCell = { ...runs({ text, italics: true }), colSpan: heads.length };
      body.push([cell, ...heads.slice(1).map(() => ({}))]);
    }
  }
  return {
    table: { headerRows: 1, dontBreakRows: rows.every(fitsAPage), widths, body },
    layout: RULED,
    fontSize: TYPE.cell,
  };
}
