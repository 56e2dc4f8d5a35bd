import type { Content } from 'pdfmake/interfaces.js';
import { z } from 'zod';
import { heading, line, runs } from './parts.ts';

/** What goes to the race besides the medicine, and what is looked at first, as the work sheet prints it. */
export const kitSchema = z.strictObject({
  /** "18G 1/2 in (pink hub), 12 ewes: …", and how it goes in. */
  needles: z.array(z.strictObject({ big: z.string(), small: z.string() })),
  /** When a needle is changed, each a sentence. */
  change: z.array(z.string()),
  /** "15 needles 18G 1/2 in"; and what is short of it. */
  items: z.array(z.strictObject({ text: z.string(), short: z.string().optional() })),
  checks: z.array(z.strictObject({ says: z.string(), ticked: z.boolean() })),
  /** Who ticked them, and when. */
  checked: z.string().optional(),
});
export type KitPaper = z.infer<typeof kitSchema>;

/** A box to tick, ticked already or not, and what it is ticked for. */
function boxed(text: string, ticked: boolean, short?: string): Content {
  const square = { type: 'rect' as const, x: 0, y: 1.5, w: 8.5, h: 8.5, lineWidth: 0.8 };
  const tick = {
    type: 'polyline' as const,
    points: [
      { x: 1.5, y: 6 },
      { x: 3.5, y: 8.5 },
      { x: 7.5, y: 2.5 },
    ],
    lineWidth: 1.2,
  };
  return {
    columns: [
      { canvas: ticked ? [square, tick] : [square], width: 14 },
      { ...runs(text, short === undefined ? '' : { text: ` ${short}`, bold: true }), width: '*' },
    ],
    margin: [0, 1, 0, 0],
  };
}

/** The kit and the checks, side by side. Nothing of needles where none is used: then the lists are empty. */
export function kitBlock(kit: KitPaper): Content[] {
  const { needles, change, items, checks, checked } = kit;
  return [
    ...(needles.length === 0
      ? []
      : [
          {
            unbreakable: true,
            stack: [
              heading('Needle'),
              ...needles.map(({ big, small }) => runs({ text: `${big} `, bold: true }, small)),
              ...change.map((text) => line(text, { margin: [0, 1, 0, 0] })),
            ],
          },
        ]),
    {
      unbreakable: true,
      columns: [
        ...(items.length === 0
          ? []
          : [
              {
                stack: [heading('Take along'), ...items.map(({ text, short }) => boxed(text, false, short))],
                width: '*' as const,
              },
            ]),
        {
          stack: [
            heading('Look before starting'),
            ...checks.map(({ says, ticked }) => boxed(says, ticked)),
            ...(checked === undefined ? [] : [line(checked, { margin: [0, 2, 0, 0] })]),
          ],
          width: '*' as const,
        },
      ],
      columnGap: 24,
    },
  ];
}
