import type { Content, TDocumentDefinitions } from 'pdfmake/interfaces.js';
import { z } from 'zod';
import { cautions, framed, headCell, heading, line, paperHeadSchema, RULED, runs, TYPE } from './parts.ts';

/** What the vet wants to know since the last visit, as text that is ready to print. */
export const vetPageSchema = z.strictObject({
  head: paperHeadSchema,
  span: z.string(),
  sections: z.array(
    z.strictObject({
      title: z.string(),
      heads: z.array(z.string()).min(1),
      rows: z.array(z.array(z.string())),
      none: z.string(),
    }),
  ),
});
export type VetPagePaper = z.infer<typeof vetPageSchema>;

/** How many lines the paper has: what the limit of one document counts. */
export function vetPageRows({ sections }: VetPagePaper): number {
  return sections.reduce((sum, { rows }) => sum + rows.length, 0);
}

/** The farm's own page for the visit of its vet. */
export function vetPageDefinition({ head, span, sections }: VetPagePaper): TDocumentDefinitions {
  return framed(head, {
    title: 'For the vet',
    orientation: 'portrait',
    content: [
      runs({ text: 'For the vet', bold: true, fontSize: TYPE.title }),
      line(span, { fontSize: TYPE.until }),
      ...sections.flatMap(({ title, ...section }) => [heading(title), table(section)]),
      cautions(head),
    ],
  });
}

function table({ heads, rows, none }: Omit<VetPagePaper['sections'][number], 'title'>): Content {
  if (rows.length === 0) return line(none);
  return {
    table: {
      headerRows: 1,
      dontBreakRows: true,
      widths: heads.map((text) => (NARROW.has(text) ? 'auto' : '*')),
      body: [
        heads.map((text) => headCell(text)),
        ...rows.map((row) => row.map((text, i) => runs({ text, bold: i === 0 }))),
      ],
    },
    layout: RULED,
    fontSize: TYPE.cell,
  };
}

const NARROW: ReadonlySet<string> = new Set(['Head', 'On']);
