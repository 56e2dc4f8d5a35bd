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

const row = z.strictObject({
  name: z.string(),
  /** Heads dosed, each time anew; of animals and lots, heads. */
  count: z.number().int(),
  cost: z.string(),
  each: z.string(),
  lost: z.string().optional(),
});
type Row = z.infer<typeof row>;

/** What medicines cost in a period, as text that is ready to print. */
export const costPaperSchema = z.strictObject({
  head: paperHeadSchema,
  from: z.string(),
  to: z.string(),
  total: z.string(),
  lost: z.string(),
  /** What is in no sum, a sentence each. */
  unknown: z.array(z.string()),
  medicines: z.array(row),
  groups: z.array(row),
  /** The dearest first. */
  subjects: z.array(row),
  /** Animals and lots that cost less than those and are not printed. */
  notPrinted: z.number().int(),
});
export type CostPaper = z.infer<typeof costPaperSchema>;

/** How many lines the paper has: what the limit of one document counts. */
export function costRows({ medicines, groups, subjects, unknown }: CostPaper): number {
  return medicines.length + groups.length + subjects.length + unknown.length;
}

/** What medicines cost, for the farm office. */
export function costDefinition(paper: CostPaper): TDocumentDefinitions {
  const { head, from, to } = paper;
  return framed(head, {
    title: `What medicines cost ${from} to ${to}`,
    orientation: 'portrait',
    content: [
      runs({ text: 'What medicines cost', bold: true, fontSize: TYPE.title }),
      line(`${from} to ${to}, both days included. By the price of each batch and what was drawn from it.`, {
        margin: [0, 4, 0, 6],
      }),
      runs({ text: 'Given: ' }, { text: paper.total, bold: true }),
      runs({ text: 'Lost: ' }, { text: paper.lost, bold: true }),
      ...(paper.unknown.length === 0
        ? []
        : [
            heading('In no sum, so that more was spent than stands above'),
            ...paper.unknown.map((text) => line(text)),
          ]),
      ...part('By medicine', ['Medicine', 'Doses', 'Cost', 'A dose', 'Lost'], paper.medicines),
      ...part('By group at the time of the treatment', ['Group', 'Head', 'Cost', 'A head'], paper.groups),
      ...part(
        'By animal or lot, the dearest first',
        ['Animal or lot', 'Head', 'Cost', 'A head'],
        paper.subjects,
      ),
      ...(paper.notPrinted === 0
        ? []
        : [
            line(
              `${paper.notPrinted} more cost less and are in the sums above; the table of it has them all.`,
            ),
          ]),
      cautions(head),
    ],
  });
}

/** Figures stand under figures. */
function figure(run: Run): Content {
  return { ...runs(run), alignment: 'right' };
}

function part(title: string, [name = '', ...heads]: readonly string[], rows: readonly Row[]): Content[] {
  if (rows.length === 0) return [];
  const hasLost = heads.length === 4;
  return [
    heading(title),
    {
      table: {
        headerRows: 1,
        dontBreakRows: true,
        widths: ['*', 'auto', 'auto', 'auto', ...(hasLost ? ['auto'] : [])],
        body: [
          [headCell(name), ...heads.map((text) => headCell(text, { alignment: 'right' }))],
          ...rows.map((one) => [
            runs({ text: one.name, bold: true }),
            figure({ text: one.count.toLocaleString('en-GB') }),
            figure({ text: one.cost }),
            figure({ text: one.each }),
            ...(hasLost ? [figure({ text: one.lost ?? '' })] : []),
          ]),
        ],
      },
      layout: RULED,
      fontSize: TYPE.cell,
    },
  ];
}
