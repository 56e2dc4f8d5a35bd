import type { Content, TDocumentDefinitions } from 'pdfmake/interfaces.js';
import { z } from 'zod';
import {
  cautions,
  framed,
  headCell,
  heading,
  line,
  paperHeadSchema,
  RULED,
  type Run,
  runs,
  TYPE,
} from './parts.ts';

/** `share`: how long its bar is, of the longest year's. */
const used = { text: z.string(), perKg: z.string(), perPcu: z.string(), share: z.number().min(0).max(1) };

/** What was used in some years, as text that is ready to print. */
export const usePaperSchema = z.strictObject({
  head: paperHeadSchema,
  rules: z.string(),
  /** What the bars show. */
  bars: z.string(),
  years: z.array(
    z.strictObject({
      title: z.string(),
      groups: z.array(z.strictObject({ name: z.string(), ...used })),
      total: z.strictObject(used),
      doses: z.number().int(),
      missing: z.array(z.string()),
      weight: z.array(z.string()),
      parasites: z.array(
        z.strictObject({ name: z.string(), doses: z.number().int(), medicines: z.string() }),
      ),
      vaccines: z.array(z.strictObject({ name: z.string(), doses: z.number().int() })),
    }),
  ),
});
export type UsePaper = z.infer<typeof usePaperSchema>;
type Year = UsePaper['years'][number];

/** How many lines the paper has: what the limit of one document counts. */
export function rowsOfUse({ years }: UsePaper): number {
  return years.reduce(
    (sum, one) =>
      sum + 1 + one.groups.length + one.missing.length + one.parasites.length + one.vaccines.length,
    0,
  );
}

/** Use by year and group, for the farm and its vet. */
export function definitionOfUse({ head, rules, bars, years }: UsePaper): TDocumentDefinitions {
  return framed(head, {
    title: 'Use of medicines by year',
    orientation: 'portrait',
    content: [
      runs({ text: 'Use of medicines by year', bold: true, fontSize: TYPE.title }),
      line(rules, { margin: [0, 4, 0, 0] }),
      ...(years.some(({ groups }) => groups.length > 0) ? [line(bars, { margin: [0, 4, 0, 0] })] : []),
      // A year stays on one page where it fits on one.
      ...years.map((year) => ({ stack: yearContent(year), unbreakable: true })),
      cautions(head),
    ],
  });
}

function yearContent(year: Year): Content[] {
  return [
    heading(year.title),
    antimicrobials(year),
    ...(year.missing.length === 0
      ? []
      : [
          line('Not counted in, so that more was used than stands above:', {
            bold: true,
            margin: [0, 4, 0, 0],
          }),
          ...year.missing.map((text) => line(text)),
        ]),
    { stack: year.weight.map((text) => line(text, { fontSize: TYPE.cell })), margin: [0, 4, 0, 0] },
    counts('Against parasites, by group of substance', year.parasites),
    counts('Vaccines', year.vaccines),
  ];
}

const FILL = '#777777';
const RIGHT = { alignment: 'right' };

/** Figures stand under figures. */
function figure(run: Run): Content {
  return { ...runs(run), alignment: 'right' };
}

/** How long the longest bar is, in points. */
const BAR = 120;

/** A bar as lines on the page, which stay sharp however large it is printed; nothing where there is nothing. */
function bar(share: number, isFilled: boolean): Content {
  if (share === 0) return '';
  const rect = {
    type: 'rect' as const,
    x: 0.5,
    y: 2,
    w: Math.max(1, share * (BAR - 1)),
    h: 8,
    lineWidth: 0.8,
  };
  return { canvas: [isFilled ? { ...rect, color: FILL } : rect] };
}

function antimicrobials({ groups, total, doses }: Year): Content {
  if (groups.length === 0) return line('No antimicrobial is in the record with a known amount.');
  const row = (name: string, { text, perKg, perPcu, share }: Year['total'], isAll: boolean) => [
    runs({ text: name, bold: isAll }),
    ...[text, perKg, perPcu].map((cell) => figure({ text: cell, bold: isAll })),
    bar(share, isAll),
  ];
  return {
    table: {
      headerRows: 1,
      dontBreakRows: true,
      widths: ['*', 'auto', 'auto', 'auto', BAR],
      body: [
        [
          headCell('Antimicrobials'),
          ...['Active substance', 'mg for each kg', 'mg/PCU'].map((text) =>
            headCell(text, { ...RIGHT, noWrap: true }),
          ),
          '',
        ],
        ...groups.map((one) => row(one.name, one, false)),
        row(`All, ${doses} head dosed`, total, true),
      ],
    },
    layout: RULED,
  };
}

function counts(
  title: string,
  rows: readonly { name: string; doses: number; medicines?: string | undefined }[],
): Content {
  if (rows.length === 0) return line(`${title}: none.`);
  return {
    margin: [0, 6, 0, 0],
    table: {
      headerRows: 1,
      dontBreakRows: true,
      widths: ['*', 'auto'],
      body: [
        [headCell(title), headCell('Doses', RIGHT)],
        ...rows.map(({ name, doses, medicines }) => [
          runs(medicines === undefined ? name : `${name} (${medicines})`),
          figure({ text: doses.toLocaleString('en-GB') }),
        ]),
      ],
    },
    layout: RULED,
  };
}
