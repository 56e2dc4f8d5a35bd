import type { Content, TableCell, TDocumentDefinitions } from 'pdfmake/interfaces.js';
import { z } from 'zod';
import { kitBlock, kitSchema } from './kit-block.ts';
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

const medicineSchema = z.strictObject({
  name: z.string(),
  /** The dose line in full words. */
  rule: z.string(),
  reason: z.string(),
  /** For those on the sheet, by what is known now. */
  needs: z.string(),
  /** Missing in the cabinet. */
  short: z.string().optional(),
  /** What is lost besides, with its working, where anything is. */
  losses: z.string().optional(),
  /** What is missing for the losses alone. */
  shortOfLosses: z.string().optional(),
  bottles: z.array(
    z.strictObject({ label: z.string(), batch: z.string(), useBy: z.string(), take: z.string() }),
  ),
  /** Where it comes from, when it is not from our cabinet. */
  from: z.string(),
  isInjected: z.boolean(),
  /** Cautions, hazards and what bars an animal, as the label has them. */
  label: z.array(z.string()),
  periods: z.array(z.string()),
});

const doseSchema = z.strictObject({
  /** Which medicine, where there are several. */
  medicine: z.string(),
  /** Nothing when it is to be weighed first, or gets none. */
  dose: z.string(),
  /** "2.6 mL + 2.4 mL" when one place may not have it all. */
  places: z.string(),
  note: z.string(),
});
const rowSchema = z.strictObject({
  shown: z.string(),
  class: z.string(),
  heads: z.number().int(),
  weight: z.string(),
  /** How the weight is known, and when. */
  known: z.string(),
  doses: z.array(doseSchema),
  /** What stands above the rows of its part, where the group is dosed together. */
  part: z.string().optional(),
  checks: z.array(z.string()),
});
export type SheetRow = z.infer<typeof rowSchema>;

/** Everything the work sheet of an open session prints. */
export const workSheetSchema = z.strictObject({
  head: paperHeadSchema,
  session: z.strictObject({
    name: z.string(),
    opened: z.string(),
    /** Heads with a record already; they are not on the sheet any more. */
    recorded: z.number().int(),
    /** "red on the rump", when those who are done get a mark. */
    mark: z.string(),
    /** Needles handed out, where any are used and somebody counted. */
    sharpsOut: z.number().int().optional(),
  }),
  medicines: z.array(medicineSchema).min(1),
  kit: kitSchema.optional(),
  rows: z.array(rowSchema),
  leftOut: z.array(
    z.strictObject({ shown: z.string(), class: z.string(), heads: z.number().int(), why: z.string() }),
  ),
});
export type WorkSheet = z.infer<typeof workSheetSchema>;

/** Rows of a sheet that are counted against the most that one paper may have. */
export function workSheetRows(paper: WorkSheet): number {
  return paper.rows.length + paper.leftOut.length;
}

/** The work sheet of an open session: what to take, what each gets, what to look at, and room to write. */
export function workSheetDefinition(paper: WorkSheet): TDocumentDefinitions {
  const { head, session, rows, leftOut } = paper;
  const isInjected = paper.medicines.some((medicine) => medicine.isInjected);
  const heads = rows.reduce((sum, row) => sum + row.heads, 0);
  const done = session.recorded === 0 ? '' : `${session.recorded} recorded already, not on this sheet`;
  return framed(head, {
    title: `Work sheet: ${session.name}`,
    orientation: 'landscape',
    content: [
      { text: 'Work sheet', bold: true, fontSize: TYPE.title, margin: [0, 0, 0, 8] },
      {
        columns: [
          labelled('Work', [session.name, `planned ${session.opened}`]),
          labelled('Holding', [`${head.holding.number}, ${head.holding.name}`, head.holding.address]),
          labelled('To treat', [
            `${heads} head in ${rows.length} ${rows.length === 1 ? 'row' : 'rows'}`,
            done,
          ]),
          labelled('Left out', [`${leftOut.length}`, leftOut.length === 0 ? '' : 'named at the end']),
          ...(session.mark === '' ? [] : [labelled('Mark', [session.mark])]),
        ],
        columnGap: 18,
        margin: [0, 0, 0, 4],
      },
      ...paper.medicines.map(medicineBlock),
      ...(paper.kit === undefined ? [] : kitBlock(paper.kit)),
      rows.length === 0 ? line('Nobody is waiting in this session.') : whoTable(paper, isInjected),
      others(isInjected),
      leftOutBlock(leftOut),
      counted(session, isInjected),
      cautions(head),
    ],
  });
}

function medicineBlock(medicine: WorkSheet['medicines'][number]): Content {
  const { name, rule, reason, needs, short, losses, shortOfLosses, bottles, from, label, periods } = medicine;
  return {
    stack: [
      heading(name),
      line(rule, { bold: true, margin: [0, 0, 0, 2] }),
      line(`For: ${reason}. In all ${needs}, as far as the weights are known.`),
      ...(losses === undefined ? [] : [line(`To take: ${losses}.`)]),
      ...(shortOfLosses === undefined
        ? []
        : [line(`Enough for the animals alone, but ${shortOfLosses} short of what is lost as well.`)]),
      ...(from === '' ? [] : [line(from)]),
      ...(short === undefined
        ? []
        : [
            line(`${short} of it is missing in the cabinet: take in the delivery first, or treat fewer.`, {
              bold: true,
            }),
          ]),
      ...bottles.map(({ label: bottle, batch, useBy, take }) =>
        boxed([
          { text: `${bottle}, `, bold: true },
          `batch ${batch === '' ? 'not known' : batch}, use by `,
          { text: useBy, bold: true },
          `: ${take}`,
        ]),
      ),
      ...label.map((text) => line(text, { margin: [0, 1, 0, 0] })),
      ...periods.map((text) => line(text, { margin: [0, 1, 0, 0] })),
    ],
    margin: [0, 0, 0, 2],
  };
}

/** A box to tick, and what it is ticked for. */
function boxed(text: readonly (Run | string)[]): Content {
  return {
    columns: [
      { ...box(), width: 14 },
      { ...runs(...text), width: '*' },
    ],
    margin: [0, 1, 0, 0],
  };
}

function box() {
  return { canvas: [{ type: 'rect' as const, x: 0, y: 1.5, w: 8.5, h: 8.5, lineWidth: 0.8 }] };
}

/** Checks that more than one row has are written out once, above the table, and numbered: most are the same for all. */
function numbered(rows: readonly SheetRow[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const text of rows.flatMap((row) => [...new Set(row.checks)])) {
    counts.set(text, (counts.get(text) ?? 0) + 1);
  }
  const shared = [...counts].filter(([, count]) => count > 1);
  return new Map(shared.map(([text], i) => [text, i + 1]));
}

/** Longer than this it may break over pages: what is kept together and is taller than a page would vanish. */
const MOST_TOGETHER = 12;

function legend(numbers: ReadonlyMap<string, number>): Content[] {
  if (numbers.size === 0) return [];
  const stack = [
    heading('Look first'),
    line(
      'The label bars it, and the book cannot say. Look, and tick the number beside each animal; when it is so, leave it out.',
    ),
    ...[...numbers].map(([text, n]) => runs({ text: `${n}  `, bold: true }, text)),
  ];
  return [{ unbreakable: numbers.size <= MOST_TOGETHER, stack }];
}

function checksCell(checks: readonly string[], numbers: ReadonlyMap<string, number>): TableCell {
  if (checks.length === 0) return '';
  const shared = checks.flatMap((text) => numbers.get(text) ?? []);
  const own = checks.filter((text) => !numbers.has(text));
  const columns = shared.flatMap((n) => [
    { ...box(), width: 12 },
    { text: String(n), width: 18 },
  ]);
  return { stack: [...(columns.length === 0 ? [] : [{ columns }]), ...own.map((text) => boxed([text]))] };
}

function whoTable({ rows, medicines }: WorkSheet, isInjected: boolean): Content {
  const numbers = numbered(rows);
  const written = ['Weight now', 'Given', ...(isInjected ? ['Place, side'] : []), 'When, who, what else'];
  const heads = ['', 'Animal or lot', 'Weight', 'Dose', 'Look first', ...written];
  const title: TableCell = {
    ...runs({ text: 'Who, and how much', bold: true }),
    fontSize: TYPE.heading,
    colSpan: heads.length,
  };
  const body: TableCell[][] = [
    // In the table, so that it never stands alone at the foot of a page.
    [title, ...heads.slice(1).map(() => ({}))],
    heads.map((text) => headCell(text)),
    ...rows.flatMap((row, n) => [
      ...(row.part === undefined || row.part === rows[n - 1]?.part ? [] : [partRow(row.part, heads.length)]),
      [
        box(),
        runs(
          { text: row.shown, bold: true },
          `\n${row.class}${row.heads === 1 ? '' : `, ${row.heads} head`}`,
        ),
        runs({ text: row.weight, bold: true }, row.known === '' ? '' : `\n${row.known}`),
        { stack: row.doses.map((dose) => doseCell(dose, row.heads)) },
        checksCell(row.checks, numbers),
        ...written.map(() => ''),
      ],
    ]),
  ];
  const blanks = isInjected ? [52, 52, 60, 120] : [60, 64, 140];
  const layout = {
    ...RULED,
    // Lines between the columns, so that what is written by hand stays with its heading.
    vLineWidth: (i: number) => (i > 4 && i < heads.length ? 0.4 : 0),
    vLineColor: () => '#888888',
    paddingBottom: () => 6,
  };
  return {
    stack: [
      ...legend(numbers),
      {
        table: {
          headerRows: 2,
          keepWithHeaderRows: 1,
          dontBreakRows: rows.every(fitsAPage),
          widths: [10, 108, 82, medicines.length > 1 ? 150 : 112, '*', ...blanks],
          body,
        },
        layout,
        fontSize: TYPE.cell,
        margin: [0, 10, 0, 0],
      },
    ],
  };
}

/** The head of a part: which it is, who, how much each, where the gate is set. */
function partRow(text: string, columns: number): TableCell[] {
  const cell: TableCell = {
    ...runs({ text: upperFirst(text), bold: true }),
    fontSize: TYPE.until,
    colSpan: columns,
  };
  return [cell, ...Array.from({ length: columns - 1 }, () => ({}))];
}

const upperFirst = (text: string) => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;

/** A row that is kept together and is taller than a page would vanish: about 20 characters go on a line, 30 lines on a page. */
function fitsAPage(row: SheetRow): boolean {
  const doses = row.doses.map(({ medicine, note }) => `${medicine} ${note}`.length + 60);
  const checks = row.checks.map((text) => text.length + 20);
  return Math.max(sum(doses), sum(checks), row.shown.length) < 500;
}

const sum = (numbers: readonly number[]) => numbers.reduce((total, each) => total + each, 0);

function doseCell({ medicine, dose, places, note }: SheetRow['doses'][number], heads: number): Content {
  return runs(
    medicine === '' ? '' : `${medicine}: `,
    { text: dose, bold: true, fontSize: TYPE.until },
    dose !== '' && heads > 1 ? ` for each of ${heads}` : '',
    places === '' ? '' : `\nin places: ${places}`,
    note === '' ? '' : { text: `${dose === '' ? '' : '\n'}${note}`, italics: true },
  );
}

function emptyTable(heads: readonly string[], widths: readonly (number | string)[], rows: number): Content {
  return {
    table: {
      headerRows: 1,
      widths: [...widths],
      heights: (row) => (row === 0 ? 'auto' : 18),
      body: [heads.map((text) => headCell(text)), ...Array.from({ length: rows }, () => heads.map(() => ''))],
    },
    layout: { ...RULED, vLineWidth: (i, { table }) => (i === 0 || i === table.body[0]?.length ? 0 : 0.4) },
    fontSize: TYPE.cell,
  };
}

function others(isInjected: boolean): Content {
  const place = isInjected ? ['Place, side'] : [];
  return {
    unbreakable: true,
    stack: [
      heading('Treated and not on this sheet'),
      emptyTable(
        ['Animal or lot', 'Weight', 'Medicine and batch', 'Given', ...place, 'When, who, what else'],
        [150, 60, 170, 70, ...(isInjected ? [80] : []), '*'],
        4,
      ),
    ],
  };
}

function leftOutBlock(leftOut: WorkSheet['leftOut']): Content {
  if (leftOut.length === 0) return line('Nobody was left out.', { margin: [0, 8, 0, 0] });
  const body: TableCell[][] = [
    ['Animal or lot', 'Why it is not to be treated'].map((text) => headCell(text)),
    ...leftOut.map(({ shown, class: cls, heads, why }) => [
      runs({ text: shown, bold: true }, `, ${cls}${heads === 1 ? '' : `, ${heads} head`}`),
      runs(why),
    ]),
  ];
  return {
    stack: [
      heading('Left out: do not treat'),
      {
        table: {
          headerRows: 1,
          dontBreakRows: leftOut.every(({ why }) => why.length < 2500),
          widths: [190, '*'],
          body,
        },
        layout: RULED,
        fontSize: TYPE.cell,
      },
    ],
  };
}

function counted({ sharpsOut }: WorkSheet['session'], isInjected: boolean): Content {
  const out = sharpsOut === undefined ? 'Needles out' : `Needles out: ${sharpsOut} by the plan; counted`;
  return {
    unbreakable: true,
    stack: [
      heading('When it is done'),
      {
        columns: [
          blank('Heads through'),
          ...(isInjected ? [blank(out), blank('Needles back')] : []),
          blank('Done by'),
          blank('Date and time'),
        ],
        columnGap: 16,
      },
      line('Write all of it into the book, and close the session there by the heads counted here.', {
        fontSize: TYPE.cell,
        margin: [0, 6, 0, 0],
      }),
    ],
  };
}

function blank(label: string): Content {
  return {
    stack: [
      line(label, { fontSize: TYPE.cell }),
      { canvas: [{ type: 'line', x1: 0, y1: 22, x2: 130, y2: 22, lineWidth: 0.8 }] },
    ],
  };
}
