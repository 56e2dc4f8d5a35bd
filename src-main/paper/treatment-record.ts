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
  type Run,
  runs,
  TYPE,
} from './parts.ts';

/** One version of one administration. A corrected one has several rows: the struck ones, and the one that stands. */
export const recordRowSchema = z.strictObject({
  date: z.string(),
  shown: z.string(),
  class: z.string(),
  heads: z.number().int(),
  product: z.string(),
  batch: z.string(),
  expiry: z.string(),
  dose: z.string(),
  /** "dosed to 38 kg, part 1 of 3", when it was dosed with its group. */
  dosedTo: z.string().optional(),
  quantity: z.string(),
  route: z.string(),
  /** Where on the animal, where that was written: "left neck". */
  site: z.string().optional(),
  reason: z.string(),
  givenBy: z.string(),
  /** Whose medicine it was, when it was not ours. */
  source: z.string(),
  period: z.string(),
  until: z.string(),
  milkPeriod: z.string(),
  milkUntil: z.string(),
  deviations: z.array(z.string()),
  state: z.enum(['stands', 'voided', 'replaced']),
  /** For a struck row: why, by whom, written when; one sentence. */
  correction: z.string().optional(),
  /** More that is said beneath the row: who prescribed it, how long it lasted, that it was written late. */
  beneath: z.array(z.string()).max(40).optional(),
});
export type RecordRow = z.infer<typeof recordRowSchema>;

/** Everything a treatment record prints. */
export const treatmentRecordSchema = z.strictObject({
  head: paperHeadSchema,
  from: z.string(),
  to: z.string(),
  /** What it was narrowed to, in words; none: everything. */
  only: z.array(z.string()).max(8).optional(),
  /** Which part of a record that is too long for one paper; the totals are of all of them. */
  volume: z.strictObject({ n: z.number().int(), of: z.number().int() }).optional(),
  rows: z.array(recordRowSchema),
  totals: z.strictObject({
    administrations: z.number().int(),
    heads: z.number().int(),
    struck: z.number().int(),
    products: z.array(
      z.strictObject({
        product: z.string(),
        administrations: z.number().int(),
        heads: z.number().int(),
        quantity: z.string(),
      }),
    ),
  }),
});
export type TreatmentRecord = z.infer<typeof treatmentRecordSchema>;

const COLUMNS = [
  'Date',
  'Animal or lot',
  'Product, batch, expiry (exp.)',
  'Dose',
  'Route, site',
  'Reason; given by',
  'Meat: held until',
  'Milk: held until',
];

/** The treatment record of one holding and keeper for a period. */
export function treatmentRecordDefinition(paper: TreatmentRecord): TDocumentDefinitions {
  const { head, rows, volume } = paper;
  const name = `Treatment record${volume === undefined ? '' : `, volume ${volume.n} of ${volume.of}`}`;
  return framed(head, {
    title: `${name} ${paper.from} to ${paper.to}`,
    orientation: 'landscape',
    content: [
      { text: name, bold: true, fontSize: TYPE.title, margin: [0, 0, 0, 8] },
      {
        columns: [
          labelled('Business', [head.business.name, head.business.address]),
          labelled('Holding', [`${head.holding.number}, ${head.holding.name}`, head.holding.address]),
          labelled('Keeper', [head.keeper]),
          labelled('Period', [`${paper.from} to ${paper.to}`, 'both days included', ...(paper.only ?? [])]),
        ],
        columnGap: 18,
        margin: [0, 0, 0, 10],
      },
      rows.length === 0 ? line('The book has no treatment in this period.') : givenTable(rows),
      ...(volume === undefined || volume.n === volume.of ? [totals(paper)] : []),
      cautions(head),
    ],
  });
}

/** What went into whom, with the date it is held until set large. */
export function givenTable(rows: readonly RecordRow[]): Content {
  const body: TableCell[][] = [COLUMNS.map((text) => headCell(text))];
  for (const row of rows) body.push(...bodyRows(row));
  return {
    table: {
      headerRows: 1,
      dontBreakRows: rows.every(fitsAPage),
      widths: [52, 92, 140, 58, 60, '*', 104, 72],
      body,
    },
    layout: RULED,
    fontSize: TYPE.cell,
  };
}

/**
 * A row that is kept together and is taller than a page would vanish; one that could be is allowed to break. About
 * 18 characters go on a line of a narrow column, 150 on one across the page, and 35 lines on a page.
 */
function fitsAPage(row: RecordRow): boolean {
  const narrow = [
    row.shown,
    `${row.product} ${row.batch}`,
    `${row.reason} ${row.givenBy} ${row.source}`,
    row.until,
  ];
  const wide = [row.deviations.join(' '), row.correction ?? '', ...(row.beneath ?? [])];
  return narrow.every((text) => text.length < 360) && wide.every((text) => text.length < 2500);
}

function bodyRows(row: RecordRow): TableCell[][] {
  const struck = row.state !== 'stands';
  const run = (text: string, style: Omit<Run, 'text'> = {}): Run => ({ ...style, text, struck });
  const cells: TableCell[] = [
    runs(run(row.date)),
    runs(
      run(row.shown, { bold: true }),
      run(`\n${row.class}${row.heads === 1 ? '' : `, ${row.heads} head`}`),
    ),
    runs(
      run(row.product, { bold: true }),
      run(`\n${row.batch === '' ? 'batch not known' : `batch ${row.batch}`}`),
      run(row.expiry === '' ? '' : `, exp. ${row.expiry}`),
    ),
    runs(
      run(row.dose),
      run(row.dosedTo === undefined ? '' : `\n${row.dosedTo}`),
      run(row.heads === 1 ? '' : `\n${row.quantity} in all`),
    ),
    runs(run(row.route), run(row.site === undefined ? '' : `\n${row.site}`)),
    runs(
      run(row.reason),
      run(`\nGiven by ${row.givenBy}`),
      run(row.source === '' ? '' : `; medicine from ${row.source}`),
    ),
    runs(
      run(row.until, { bold: true, fontSize: TYPE.until }),
      run(row.period === '' ? '' : `\n${row.period}`),
    ),
    runs(run(row.milkUntil), run(row.milkPeriod === '' ? '' : `\n${row.milkPeriod}`)),
  ];
  const beneath: string[] = [];
  if (row.deviations.length > 0)
    beneath.push(`Not as planned or not as the label says: ${row.deviations.join('; ')}`);
  beneath.push(...(row.beneath ?? []));
  if (row.correction !== undefined) beneath.push(row.correction);
  return [cells, ...beneath.map((text) => across({ text, italics: true }))];
}

/** A run that is struck through when what it says does not stand. */
export function struckRun(text: string, struck: boolean, bold: boolean): Run {
  return { text, struck, ...(bold ? { bold } : {}) };
}

function across(run: Run): TableCell[] {
  const cell: TableCell = { ...runs(run), colSpan: COLUMNS.length };
  return [cell, ...COLUMNS.slice(1).map(() => ({}))];
}

function totals(paper: TreatmentRecord): Content {
  const { administrations, heads, struck, products } = paper.totals;
  const said =
    `${administrations} ${administrations === 1 ? 'treatment stands' : 'treatments stand'}, ${heads} head treated in all` +
    `${struck === 0 ? '' : `; ${struck} struck ${struck === 1 ? 'line is' : 'lines are'} shown and not counted`}.`;
  const body: TableCell[][] = [
    [headCell('Product'), headCell('Treatments'), headCell('Head'), headCell('Quantity given')],
    ...products.map((each) => [
      runs(each.product),
      runs(String(each.administrations)),
      runs(String(each.heads)),
      runs({ text: each.quantity, bold: true }),
    ]),
  ];
  return {
    stack: [
      heading('Totals'),
      line(said, { margin: [0, 0, 0, 4] }),
      ...(products.length === 0
        ? []
        : [
            {
              table: { headerRows: 1, dontBreakRows: true, widths: [260, 70, 60, 110], body },
              layout: RULED,
              fontSize: TYPE.cell,
            },
          ]),
    ],
  };
}
