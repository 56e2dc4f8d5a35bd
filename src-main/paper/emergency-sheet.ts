import type { Content, TDocumentDefinitions } from 'pdfmake/interfaces.js';
import { z } from 'zod';
import { cautions, framed, heading, line, paperHeadSchema, RULED, runs, TYPE } from './parts.ts';

/** Everything the emergency sheet prints, as text that is ready to print. */
export const emergencySheetSchema = z.strictObject({
  head: paperHeadSchema,
  title: z.string(),
  /** The session it is for; empty when it is for none. */
  work: z.string(),
  isInjected: z.boolean(),
  /** An empty number is left to be written by hand. */
  numbers: z.array(z.strictObject({ what: z.string(), number: z.string() })),
  place: z.string(),
  steps: z.array(z.strictObject({ word: z.string(), says: z.string() })),
  source: z.string(),
  takeAlong: z.string(),
  medicines: z
    .array(
      z.strictObject({
        name: z.string(),
        inside: z.string(),
        /** "Contains oil, Vaccine": what the doctor hears first. */
        mark: z.string(),
        batches: z.string(),
        people: z.string(),
        pregnantWomen: z.string(),
      }),
    )
    .min(1)
    .max(10),
});
export type EmergencySheet = z.infer<typeof emergencySheetSchema>;

const NUMBER_SIZE = 14;

/** The sheet for a person who came into contact with a medicine: numbers, first steps, what it was, room to write. */
export function emergencySheetDefinition(paper: EmergencySheet): TDocumentDefinitions {
  const { head, title, work } = paper;
  return framed(head, {
    title: work === '' ? 'Emergency sheet' : `Emergency sheet: ${work}`,
    orientation: 'portrait',
    content: [
      { text: title, bold: true, fontSize: TYPE.title, margin: [0, 0, 0, 4] },
      numbers(paper),
      ...paper.steps.map(({ word, says }) => ({
        ...runs({ text: `${word}: `, bold: true }, says),
        margin: [0, 0, 0, 3] as [number, number, number, number],
      })),
      runs({ text: paper.takeAlong, bold: true, fontSize: TYPE.until }),
      heading('What it may have been'),
      ...paper.medicines.map(medicine),
      written(paper),
      line(paper.source, { fontSize: TYPE.cell, margin: [0, 6, 0, 0] }),
      cautions(head),
    ],
  });
}

/** The numbers large, two beside each other; one that is missing has a line to be written on. */
function numbers({ numbers: all, place }: EmergencySheet): Content {
  const cell = ({ what, number }: EmergencySheet['numbers'][number]) =>
    runs(
      { text: `${what}\n`, fontSize: TYPE.cell },
      {
        text: number === '' ? '..............................................' : number,
        bold: number !== '',
        fontSize: NUMBER_SIZE,
      },
    );
  const rows = Array.from({ length: Math.ceil(all.length / 2) }, (_, i) =>
    [all[2 * i], all[2 * i + 1]].map((one) => (one === undefined ? '' : cell(one))),
  );
  return {
    stack: [
      { table: { widths: ['*', '*'], body: rows }, layout: RULED },
      runs({ text: 'Where we are: ', bold: true }, place.replaceAll('\n', ', ')),
    ],
    margin: [0, 0, 0, 6],
  };
}

function medicine(one: EmergencySheet['medicines'][number]): Content {
  const { name, inside, mark, batches, people, pregnantWomen } = one;
  const label =
    people === '' && pregnantWomen === ''
      ? 'Nothing about people was typed from its label: read the leaflet.'
      : [people, pregnantWomen === '' ? '' : `Pregnant women: ${pregnantWomen}`]
          .filter((text) => text !== '')
          .join(' ');
  return {
    unbreakable: true,
    margin: [0, 0, 0, 3],
    stack: [
      runs(
        { text: name, bold: true, fontSize: TYPE.until },
        mark === '' ? '' : { text: `  ${mark.toUpperCase()}`, bold: true },
        inside === '' ? '' : `  ${inside}`,
        batches === '' ? '' : `, batch ${batches}`,
      ),
      runs(label),
    ],
  };
}

function written({ isInjected }: EmergencySheet): Content {
  const blank = (label: string, width: number | string = '*') => ({
    stack: [
      line(label, { fontSize: TYPE.cell }),
      { canvas: [{ type: 'line' as const, x1: 0, y1: 16, x2: 150, y2: 16, lineWidth: 0.8 }] },
    ],
    width,
  });
  return {
    unbreakable: true,
    stack: [
      heading('Write down, for the doctor'),
      { columns: [blank('Who'), blank('When'), blank('Which of them, batch')], columnGap: 14 },
      {
        columns: [
          blank('How much, as far as known'),
          blank(isInjected ? 'Where on the body' : 'How'),
          blank('What was done, who was told'),
        ],
        columnGap: 14,
        margin: [0, 6, 0, 0],
      },
    ],
  };
}
