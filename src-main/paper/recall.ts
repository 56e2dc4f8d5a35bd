import type { Content, TDocumentDefinitions } from 'pdfmake/interfaces.js';
import { z } from 'zod';
import { cautions, framed, headCell, heading, line, paperHeadSchema, RULED, runs, TYPE } from './parts.ts';

/** Where one batch went, as text that is ready to print. */
export const recallPaperSchema = z.strictObject({
  head: paperHeadSchema,
  number: z.string(),
  name: z.string(),
  says: z.array(z.string()),
  deliveries: z.array(z.string()),
  balance: z.array(z.strictObject({ cause: z.string(), text: z.string() })),
  containers: z.array(
    z.strictObject({ label: z.string(), left: z.string(), state: z.string(), store: z.string() }),
  ),
  got: z.array(
    z.strictObject({
      shown: z.string(),
      class: z.string(),
      heads: z.number().int(),
      given: z.array(z.string()),
      now: z.array(z.strictObject({ says: z.string(), holds: z.string() })),
    }),
  ),
});
export type RecallPaper = z.infer<typeof recallPaperSchema>;

/** How many lines the paper has: what the limit of one document counts. */
export function recallRows({ got, containers }: RecallPaper): number {
  return containers.length + got.reduce((sum, one) => sum + Math.max(one.given.length, one.now.length), 0);
}

/** What came in, what is left, who got it and where they are: for the vet, the supplier or the inspector. */
export function recallDefinition(paper: RecallPaper): TDocumentDefinitions {
  const { head, number, name, says, deliveries, balance } = paper;
  return framed(head, {
    title: `Batch ${number}`,
    orientation: 'landscape',
    content: [
      runs({ text: `${name}, batch ${number}`, bold: true, fontSize: TYPE.title }),
      ...says.map((text) => line(text, { fontSize: TYPE.until })),
      heading('What came in'),
      ...(deliveries.length === 0
        ? [line('Nothing of it came into our cabinet.')]
        : deliveries.map((text) => line(text))),
      ...(balance.length === 0
        ? []
        : [line(balance.map(({ cause, text }) => `${cause}: ${text}`).join('. '), { margin: [0, 4, 0, 0] })]),
      heading('Containers'),
      containers(paper),
      heading('Who got it, and where they are'),
      got(paper),
      cautions(head),
    ],
  });
}

function containers({ containers: all }: RecallPaper): Content {
  if (all.length === 0) return line('None.');
  return {
    table: {
      headerRows: 1,
      widths: ['*', '*', 'auto', '*'],
      body: [
        ['Container', 'Left', 'State', 'Kept in'].map((text) => headCell(text)),
        ...all.map((one) => [one.label, one.left, one.state, one.store].map((text) => runs(text))),
      ],
    },
    layout: RULED,
  };
}

function got({ got: all }: RecallPaper): Content {
  if (all.length === 0) return line('No treatment with it is in the book.');
  return {
    table: {
      headerRows: 1,
      dontBreakRows: true,
      widths: [110, 60, 30, '*', '*'],
      body: [
        ['Animal or lot', 'Class', 'Head', 'When and how much', 'Where now'].map((text) => headCell(text)),
        ...all.map((one) => [
          runs({ text: one.shown, bold: true }),
          runs(one.class),
          runs(String(one.heads)),
          runs(one.given.join('\n')),
          runs(
            ...one.now.flatMap(({ says, holds }, i) => [
              `${i === 0 ? '' : '\n'}${says}`,
              ...(holds === '' ? [] : [{ text: `\n${holds}`, bold: true }]),
            ]),
          ),
        ]),
      ],
    },
    layout: RULED,
    fontSize: TYPE.cell,
  };
}
