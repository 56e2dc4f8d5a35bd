/** A day of an outlook as the drawing needs it, in base units. */
export type OutlookPoint = {
  readonly day: string;
  readonly start: number;
  readonly end: number;
  readonly plannedText: string;
  readonly shortText: string;
  readonly gone: readonly { readonly label: string; readonly text: string; readonly why: string }[];
};

/** Something that stands on a day of the drawing with its own sign; `n` is its number beneath it and in the list. */
export type OutlookMark = {
  readonly n: number;
  readonly day: string;
  readonly kind: 'work' | 'short' | 'gone';
  readonly text: string;
};

/** A corner of the stock line: so many days after the first, and how high, from 0 to 1. */
export type Corner = { readonly days: number; readonly share: number };

export type Drawn = {
  readonly corners: readonly Corner[];
  readonly marks: readonly OutlookMark[];
  /** The most that is ever there, in base units. */
  readonly top: number;
  /** Days in all. */
  readonly width: number;
};

const WHY: Readonly<Record<string, string>> = {
  expired: 'expires unused',
  'past-in-use': 'has been open too long',
};

/**
 * The line of the stock and what stands on it. A day begins with what may be used and ends with what may be used on
 * the next, so that a pack that dies leaves a step at the end of its last day. On a day that is short the work is named
 * as what is missing.
 */
export function outlookDrawn(days: readonly OutlookPoint[]): Drawn {
  const top = days.reduce((most, { start, end }) => Math.max(most, start, end), 0);
  const share = (units: number) => (top === 0 ? 0 : units / top);
  const corners: Corner[] = [];
  for (const [n, { start, end }] of days.entries()) {
    const last = corners.at(-1);
    if (last === undefined || last.share !== share(start)) corners.push({ days: n, share: share(start) });
    if (end !== start) corners.push({ days: n + 1, share: share(start) }, { days: n + 1, share: share(end) });
  }
  const last = days.at(-1);
  if (last !== undefined) corners.push({ days: days.length, share: share(last.end) });
  const marks = days.flatMap((one): Omit<OutlookMark, 'n'>[] => [
    ...(one.shortText !== ''
      ? [{ day: one.day, kind: 'short' as const, text: `${one.shortText} missing` }]
      : one.plannedText === ''
        ? []
        : [{ day: one.day, kind: 'work' as const, text: `${one.plannedText} for planned work` }]),
    // All that end on one day stand under one sign.
    ...(one.gone.length === 0
      ? []
      : [
          {
            day: one.day,
            kind: 'gone' as const,
            text: one.gone.map(({ label, text, why }) => `${text} in ${label} ${WHY[why] ?? why}`).join('; '),
          },
        ]),
  ]);
  return { corners, marks: numbered(marks), top, width: days.length };
}

/** Other use that runs short every day from then on is one mark and not a hundred. */
function numbered(marks: readonly Omit<OutlookMark, 'n'>[]): OutlookMark[] {
  let isShort = false;
  return marks
    .filter(({ kind }) => {
      if (kind !== 'short') return true;
      const isFirst = !isShort;
      isShort = true;
      return isFirst;
    })
    .map((mark, i) => ({ ...mark, n: i + 1 }));
}

/** The corners as points of an SVG line, `width` and `height` its size. */
export function pointsOf({ corners, width: days }: Drawn, width: number, height: number): string {
  return corners
    .map(({ days: at, share }) => `${round((at / Math.max(1, days)) * width)},${round((1 - share) * height)}`)
    .join(' ');
}

const round = (value: number) => Math.round(value * 10) / 10;
