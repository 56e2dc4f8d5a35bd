import {
  amount,
  amountIn,
  listIn,
  microlitresOf,
  percent,
  pieceIn,
  rate,
  said,
  shortly,
  strength,
  sure,
  weight,
} from './readers.ts';
import type { Blank, Reply, Told, TopicSentence, Typed, Way } from './sentence.ts';

/** How much one animal gets. The ways of giving a dose are shared with the drafting of a group. */

export const BY_WAYS: readonly [Way, Way] = [
  { id: 'rate', word: 'by a dose rate', text: 'at {rate} of a medicine with {strength}' },
  { id: 'bands', word: 'by bands of weight', text: 'by bands of weight, *bands*, [floor] and [further]' },
];

export const BAND_TURNS: Readonly<Record<string, readonly [Way, Way]>> = {
  floor: [
    { id: '', word: 'no least weight named' },
    { id: 'from', word: 'from a least weight', text: 'none under {from}' },
  ],
  further: [
    { id: '', word: 'none above the last' },
    {
      id: 'step',
      word: 'a further step',
      text: '{furtherStep.dose} more for each further {furtherStep.each} or part',
    },
  ],
};

export const BAND_ROW = 'up to {upTo} it is {dose}';

export const DOSE_BLANKS: Readonly<Record<string, Blank>> = {
  rate: rate(),
  // A rate that counts millilitres or pieces needs none; one that counts substance asks for it.
  strength: strength({ optional: true }),
  'bands.*.upTo': weight('weight'),
  'bands.*.dose': amount('dose'),
  from: weight('least weight'),
  'furtherStep.each': weight('weight'),
  'furtherStep.dose': amount('dose'),
};

/** What a piece is called, from whichever way the dose was typed. */
export function pieceTyped(typed: Typed): string {
  return pieceIn(typed['?by'] === 'bands' ? typed['bands.0.dose'] : typed.rate);
}

export const doseSentence: TopicSentence = {
  topic: 'dose',
  head: 'The dose',
  question: 'How much does this animal get?',
  text: 'A sheep of {weight}, dosed [by], gets <exact>, drawn as <draw> [syringe], [rounding], given [site], with [limits].',
  blanks: {
    ...DOSE_BLANKS,
    weight: weight(),
    'syringe.capacity': amount('what it holds'),
    'syringe.graduation': amount('mark'),
    maxPerSite: amount('most'),
    least: amount('least', { optional: true }),
    most: amount('most', { optional: true }),
  },
  turns: {
    by: BY_WAYS,
    ...BAND_TURNS,
    syringe: [
      { id: '', word: 'in any syringe' },
      {
        id: 'named',
        word: 'in a syringe of mine',
        text: 'in a syringe that holds {syringe.capacity} with a mark every {syringe.graduation}',
      },
    ],
    rounding: [
      { id: '', word: 'rounded to the nearest mark' },
      { id: 'up', word: 'rounded up to a mark', ask: { rounding: 'up' } },
      { id: 'down', word: 'rounded down to a mark', ask: { rounding: 'down' } },
    ],
    site: [
      { id: '', word: 'in one place' },
      { id: 'most', word: 'in several places', text: 'with at most {maxPerSite} in a place' },
    ],
    limits: [
      { id: '', word: 'no least or most dose named' },
      {
        id: 'named',
        word: 'a least or a most dose',
        text: 'at least {least} and at most {most} as the label says',
      },
    ],
  },
  rows: { bands: BAND_ROW },
  example: { weight: '50 kg', rate: '0.2 mg/kg', strength: '1 %' },
  tell: (reply, typed) => {
    const piece = pieceTyped(typed);
    const draw = amountIn(reply, 'draw', piece);
    const syringe = syringeFor(reply, typed);
    return {
      gaps: { exact: amountIn(reply, 'exact', piece), draw },
      label: said(reply, 'drawMl') === undefined ? 'Give' : 'Draw up',
      big: draw,
      lines: [
        ...sitesOf(reply, piece),
        ...deliveredOf(reply),
        ...(syringe === undefined && said(reply, 'drawMl') !== undefined
          ? ['Name the syringe to see it filled to its mark.']
          : []),
      ],
      ...(syringe === undefined ? {} : { syringe }),
    };
  },
};

function sitesOf(reply: Reply, piece: string): string[] {
  const sites = listIn(reply, 'sites').map((site) => amountIn(site, '', piece));
  return sites.length < 2 ? [] : [`In ${sites.length} places: ${sites.join(' + ')}.`];
}

function deliveredOf(reply: Reply): string[] {
  const deviation = sure(reply, 'deviationPercent');
  const perKg = said(reply, 'deliveredPerKg');
  if (perKg === undefined || deviation === '0') return [];
  const side = deviation.startsWith('-') ? 'less' : 'more';
  return [
    `That is ${shortly(perKg, 4)} ${sure(reply, 'deliveredUnit')} for each kg, ${percent(deviation)} ${side} than the exact dose.`,
  ];
}

/** Syringes that have the marks which a dose is rounded to when none is named: hundredths below 1 mL, else tenths. */
const USUAL = [
  { capacity: 1000, graduation: 10, fromTenths: false },
  { capacity: 2000, graduation: 100, fromTenths: true },
  { capacity: 3000, graduation: 100, fromTenths: true },
];

function syringeFor(reply: Reply, typed: Typed): Told['syringe'] {
  const drawn = said(reply, 'drawMl');
  const draw = drawn === undefined ? undefined : microlitresOf(`${drawn} mL`);
  if (draw === undefined) return undefined;
  if (typed['?syringe'] === 'named') {
    const capacity = microlitresOf(typed['syringe.capacity']);
    const graduation = microlitresOf(typed['syringe.graduation']);
    return capacity === undefined || graduation === undefined ? undefined : { capacity, graduation, draw };
  }
  const usual = USUAL.find(({ capacity, fromTenths }) => fromTenths === draw >= 1000 && draw <= capacity);
  return usual === undefined ? undefined : { capacity: usual.capacity, graduation: usual.graduation, draw };
}
