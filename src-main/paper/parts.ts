import type { Content, ContentText, CustomTableLayout, TDocumentDefinitions } from 'pdfmake/interfaces.js';
import { z } from 'zod';
import { daySchema, instantSchema } from '../../src-shared/entries/parts.ts';
import { printable } from './glyphs.ts';

/** What every paper carries: whose it is, when it was made, and how it can be checked. All text is ready to print. */
export const paperHeadSchema = z.strictObject({
  size: z.enum(['a4', 'letter']),
  /** The instant the paper states, which is also its creation date: the same data gives the same bytes. */
  stated: instantSchema,
  /** That instant on the wall clock of the holding: "12 Apr 2026, 08:00". */
  statedText: z.string(),
  /** The day the computer believed it to be. */
  believedDay: daySchema,
  believedText: z.string(),
  demo: z.boolean(),
  business: z.strictObject({
    name: z.string(),
    address: z.string(),
    phone: z.string().optional(),
    email: z.string().optional(),
  }),
  holding: z.strictObject({ name: z.string(), number: z.string(), address: z.string(), zone: z.string() }),
  keeper: z.string(),
  /** How days are counted on this holding, in one sentence. */
  counting: z.string(),
  checkCode: z.string(),
});
export type PaperHead = z.infer<typeof paperHeadSchema>;

/** Most rows of one document: a longer one takes more memory than a farm's computer may have. */
export const MOST_ROWS = 20_000;

const INK = '#000000';
const SOFT = '#444444';
const RULE = '#888888';

/** Sizes in points. Nothing an inspector must read is under 9.5. */
export const TYPE = {
  title: 21,
  heading: 13,
  text: 10.5,
  cell: 9.5,
  until: 11,
  foot: 9.5,
  demo: 30,
} as const;

export type Run = { text: string; bold?: boolean; italics?: boolean; fontSize?: number; struck?: boolean };

/**
 * Runs of text in one paragraph; `\n` inside a run starts a new line. Neighbours that look alike become one, and what is
 * empty is left out: a book has a hundred thousand of them, and each costs the press time and memory.
 */
export function runs(...parts: readonly (Run | string)[]): ContentText {
  const joined: Run[] = [];
  for (const part of parts) {
    const run: Run = typeof part === 'string' ? { text: part } : part;
    if (run.text === '') continue;
    const last = joined.at(-1);
    if (last !== undefined && looksLike(last, run))
      joined[joined.length - 1] = { ...last, text: last.text + run.text };
    else joined.push(run);
  }
  return joined.length === 0 ? { text: '' } : { text: joined.map(printed) };
}

function looksLike(a: Run, b: Run): boolean {
  return (
    a.fontSize === b.fontSize &&
    (a.bold ?? false) === (b.bold ?? false) &&
    (a.italics ?? false) === (b.italics ?? false) &&
    (a.struck ?? false) === (b.struck ?? false)
  );
}

function printed({ struck, text, ...style }: Run): ContentText {
  const safe = text.includes('\n') ? text.split('\n').map(printable).join('\n') : printable(text);
  const whole = { ...AS_EVERYWHERE, ...style, text: safe };
  return struck ? { ...whole, decoration: 'lineThrough', color: SOFT } : whole;
}

/**
 * What is the same for every word of every paper. Said with the run, the press need not look for it word by word
 * through all that the run stands in, which is a good part of its time.
 */
const AS_EVERYWHERE = {
  font: 'Roboto',
  lineHeight: 1.12,
  opacity: 1,
  characterSpacing: 0,
  noWrap: false,
  sup: false,
  sub: false,
  preserveLeadingSpaces: false,
  preserveTrailingSpaces: false,
} as const;

/** One paragraph. */
export function line(text: string, style: Record<string, unknown> = {}): Content {
  return { text: printable(text), ...style };
}

/** A small heading over a block. */
export function heading(text: string): Content {
  return { text: printable(text), bold: true, fontSize: TYPE.heading, margin: [0, 12, 0, 4] };
}

/** A name above what it says, for the blocks at the head of a paper. */
export function labelled(label: string, values: readonly string[]): Content {
  return {
    stack: [
      { text: printable(label), color: SOFT, fontSize: TYPE.cell, margin: [0, 0, 0, 1] },
      ...values
        .filter((value) => value !== '')
        .map((value, i) => ({ text: printable(value), bold: i === 0, fontSize: TYPE.text })),
    ],
  };
}

/** Thin lines under each row and a heavier one under the headings; no boxes, no fill. */
export const RULED: CustomTableLayout = {
  hLineWidth: (i, { table }) => (i === 0 ? 0 : i === (table.headerRows ?? 0) ? 1 : 0.4),
  vLineWidth: () => 0,
  hLineColor: (i, { table }) => (i === (table.headerRows ?? 0) ? INK : RULE),
  paddingLeft: (i) => (i === 0 ? 0 : 4),
  paddingRight: () => 4,
  paddingTop: () => 3,
  paddingBottom: () => 3,
};

/** The cell of a running heading. */
export function headCell(text: string, more: Record<string, unknown> = {}): Content {
  return { text: printable(text), bold: true, fontSize: TYPE.cell, ...more };
}

/** What stands on every paper about what it is not. */
export function cautions(head: PaperHead): Content {
  return {
    stack: [
      line('The label and the vet come first. This paper repeats what was written in the farm’s book.'),
      line(
        'It is the farm’s own page, not an official form, and it does not claim that any law has been complied with.',
      ),
      line(`How the days are counted: ${head.counting}`),
      line(`The computer that made this paper believed the day to be ${head.believedText}.`),
      line(
        `Check code ${head.checkCode}: the number of the last entry and the beginning of its hash. The book can be checked against it at any later time.`,
      ),
    ],
    fontSize: TYPE.cell,
    color: SOFT,
    margin: [0, 12, 0, 0],
  };
}

/** The frame that all papers share: size, running head with business and holding, page numbers, DEMO. */
export function framed(
  head: PaperHead,
  more: { title: string; orientation: 'portrait' | 'landscape'; content: Content[] },
): TDocumentDefinitions {
  const side = 40;
  const made = new Date(head.stated);
  return {
    pageSize: head.size === 'a4' ? 'A4' : 'LETTER',
    pageOrientation: more.orientation,
    pageMargins: [side, head.demo ? 88 : 58, side, 52],
    defaultStyle: {
      font: AS_EVERYWHERE.font,
      fontSize: TYPE.text,
      lineHeight: AS_EVERYWHERE.lineHeight,
      color: INK,
    },
    language: 'en',
    info: {
      title: printable(more.title),
      author: printable(head.business.name),
      creator: 'Foldbook',
      producer: 'Foldbook',
      creationDate: made,
      modDate: made,
    },
    header: () => ({
      margin: [side, 24, side, 0],
      stack: [
        ...(head.demo
          ? [
              {
                text: 'DEMO',
                bold: true,
                fontSize: TYPE.demo,
                alignment: 'center' as const,
                margin: [0, -8, 0, 0] as [number, number, number, number],
              },
            ]
          : []),
        {
          columns: [
            runs(
              { text: head.business.name, bold: true },
              ` · ${head.holding.name} · ${head.holding.number}`,
            ),
            { text: printable(more.title), alignment: 'right' as const, width: 'auto' as const },
          ],
          columnGap: 16,
          fontSize: TYPE.foot,
        },
      ],
    }),
    footer: (page, pages) => ({
      margin: [side, 14, side, 0],
      fontSize: TYPE.foot,
      columns: [
        { text: printable(`Made ${head.statedText} · Check code ${head.checkCode}`) },
        {
          text: `${head.demo ? 'DEMO · ' : ''}Page ${page} of ${pages}`,
          alignment: 'right' as const,
          width: 'auto' as const,
        },
      ],
    }),
    ...(head.demo
      ? { watermark: { text: 'DEMO', bold: true, color: 'black', opacity: 0.07, fontSize: 150 } }
      : {}),
    content: more.content,
  };
}
