import { amountOf, type Microlitres } from '../quantity/amount.ts';
import type { Gauge, Mark } from './tubing.ts';

/**
 * The hub: its colour, and what stays in it. The colours are those of ISO 6009:2016, an open standard, written from
 * memory; the standard names the colours, the shades drawn here are our own.
 */

export type HubColour = {
  /** The colour in a word, which always stands beside the swatch. */
  readonly word: string;
  /** The shade of the swatch, to be drawn with an edge of ink: some are as light as the paper. */
  readonly swatch: string;
  /** What can be read on the swatch: black or white. */
  readonly letters: '#000000' | '#ffffff';
};

const onLight = (word: string, swatch: string): HubColour => ({ word, swatch, letters: '#000000' });
const onDark = (word: string, swatch: string): HubColour => ({ word, swatch, letters: '#ffffff' });

export const HUB_COLOURS: Readonly<Record<Gauge, HubColour>> = {
  '14': onLight('pale green', '#a9d8a1'),
  '15': onLight('blue-grey', '#93a9bd'),
  '16': onLight('white', '#ffffff'),
  '17': onDark('red-violet', '#97276f'),
  '18': onLight('pink', '#f29bb2'),
  '19': onLight('cream', '#f6e7bd'),
  '20': onLight('yellow', '#f5d22b'),
  '21': onDark('deep green', '#0e6b3b'),
  '22': onDark('black', '#161616'),
  '23': onDark('deep blue', '#1c3f94'),
  '24': onDark('medium purple', '#77489c'),
  '25': onLight('orange', '#f0882e'),
};

export const HUB_COLOURS_MARK: Mark = 'memory';

/** What has to be said wherever a hub's colour is shown. */
export const HUB_NOTE =
  'The colour tells how thick the needle is outside, not how wide its bore is, and metal hubs have none: read the size on the packet.';

/**
 * What stays behind in needle and hub when the plunger is down, in microlitres (read, measured): by gauge for a
 * needle alone, least and most for a syringe with its hub.
 */
export const DEAD_SPACE = {
  needleAlone: { '18': 70, '21': 50, '23': 50 },
  syringeAndHub: { least: 66, most: 68 },
} as const;

/**
 * What leaves the bottle and reaches no animal: each filling of an empty syringe and hub leaves some behind. `fills`
 * counts draws with a needle of their own; a repeat-dose gun is filled once a priming, not once an animal.
 * Throws RangeError when `fills` is not a whole number from 0 up.
 */
export function leftBehind(fills: number): { least: Microlitres; most: Microlitres } {
  if (!Number.isSafeInteger(fills) || fills < 0) {
    throw new RangeError(`Fillings must be a whole number from 0 up: ${fills}.`);
  }
  const { least, most } = DEAD_SPACE.syringeAndHub;
  return { least: microlitres(fills * least), most: microlitres(fills * most) };
}

function microlitres(count: number): Microlitres {
  const amount = amountOf('volume', count);
  if (amount.kind !== 'volume') throw new RangeError('A volume is counted in microlitres.');
  return amount.microlitres;
}
