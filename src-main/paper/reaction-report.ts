import type { Content, TDocumentDefinitions } from 'pdfmake/interfaces.js';
import { z } from 'zod';
import { cautions, framed, heading, line, paperHeadSchema, RULED, runs, TYPE } from './parts.ts';

const facts = z.array(z.strictObject({ what: z.string(), says: z.string() }));

/** Everything the report of one reaction prints, as text that is ready to print. */
export const reactionReportSchema = z.strictObject({
  head: paperHeadSchema,
  /** "Reaction", "Suspected reaction", "No effect". */
  title: z.string(),
  /** The vets of the farm; empty when the book has none. */
  vets: z.string(),
  animal: facts,
  treatment: facts,
  seen: z.string(),
  when: z.string(),
  outcome: z.string(),
  by: z.string(),
  done: z.string().optional(),
  told: z.string().optional(),
});
export type ReactionReport = z.infer<typeof reactionReportSchema>;

/** The farm's own report to the vet; no official form is imitated. */
export function reactionReportDefinition(paper: ReactionReport): TDocumentDefinitions {
  const { head, title, vets } = paper;
  return framed(head, {
    title: `${title}, for the vet`,
    orientation: 'portrait',
    content: [
      { text: title, bold: true, fontSize: TYPE.title, margin: [0, 0, 0, 4] },
      line(vets === '' ? 'For the vet.' : `For the vet: ${vets}.`),
      line(
        `From ${head.business.name}, ${head.business.address.replaceAll('\n', ', ')}${head.business.phone === undefined ? '' : `, ${head.business.phone}`}.`,
      ),
      heading('What was seen'),
      runs({ text: paper.seen, fontSize: TYPE.until }),
      table([
        { what: 'Seen', says: paper.when },
        { what: 'Written by', says: paper.by },
        { what: 'What was done', says: paper.done ?? 'nothing written' },
        { what: 'How it went on', says: paper.outcome },
        { what: 'Told already', says: paper.told ?? 'nobody written' },
      ]),
      heading('Which animal'),
      table(paper.animal),
      heading('The treatment'),
      table(paper.treatment),
      line(
        'Ask the vet whether the maker and the authority have to be told. This page tells nobody by itself.',
        { margin: [0, 10, 0, 0] },
      ),
      cautions(head),
    ],
  });
}

function table(rows: ReactionReport['animal']): Content {
  return {
    table: {
      widths: [120, '*'],
      body: rows.map(({ what, says }) => [runs(what), runs({ text: says, bold: true })]),
    },
    layout: RULED,
    margin: [0, 2, 0, 0],
  };
}
