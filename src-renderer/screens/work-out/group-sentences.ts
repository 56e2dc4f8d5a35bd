import { PICKED } from '../../../src-shared/dose/sample.ts';
import { count } from '../../parts/words.ts';
import { BAND_ROW, BAND_TURNS, BY_WAYS, DOSE_BLANKS, pieceTyped } from './dose-sentence.ts';
import {
  amount,
  amountIn,
  listIn,
  percent,
  plain,
  rate,
  said,
  several,
  shortly,
  strength,
  sure,
  weight,
} from './readers.ts';
import type { Reply, TopicSentence } from './sentence.ts';

/** What is worked out before a group goes through: its parts, its sample, and what its insert says. */

export const draftSentence: TopicSentence = {
  topic: 'draft',
  head: 'The dose',
  question: 'Which parts to draft the group into?',
  text: 'Sheep of {weights} get [kind], dosed [by], in {groups} parts: <parts>, <total> in all, and nobody more than <worst> over its own dose. Doses go [step], [cap], with [gate] and [most].',
  blanks: {
    ...DOSE_BLANKS,
    weights: { says: 'every weight, as in 38 41 45 kg', size: 34, isLong: true, ask: several },
    groups: plain('1 to 4', { size: 6 }),
    step: amount('step'),
    capPercent: plain('percent'),
    gate: weight('step of the gate'),
    most: amount('most'),
  },
  turns: {
    kind: [
      { id: '', word: 'a drench or the like' },
      { id: 'antibiotic', word: 'an antibiotic', ask: { purpose: 'antibiotic' } },
      {
        id: 'anti-inflammatory',
        word: 'something against pain or inflammation',
        ask: { purpose: 'anti-inflammatory' },
      },
      { id: 'narrow', word: 'something with little room for too much', ask: { narrowMargin: true } },
    ],
    by: BY_WAYS,
    ...BAND_TURNS,
    step: [
      { id: '', word: 'up to the usual mark' },
      { id: 'named', word: 'up to a mark of mine', text: 'up in steps of {step}' },
    ],
    cap: [
      { id: '', word: 'at most double for anybody' },
      { id: 'named', word: 'at most so much more', text: 'at most {capPercent} % over for anybody' },
    ],
    gate: [
      { id: '', word: 'the usual gate' },
      { id: 'named', word: 'a gate of mine', text: 'a gate set in steps of {gate}' },
    ],
    most: [
      { id: '', word: 'no most on the label' },
      { id: 'named', word: 'a most on the label', text: 'at most {most} for one animal' },
    ],
  },
  rows: { bands: BAND_ROW },
  example: {
    weights: '20 38 39 40 41 42 43 44 45 46 47 48 49 50 62 kg',
    rate: '1 mL per 5 kg',
    groups: '3',
  },
  tell: (reply, typed) => {
    const piece = pieceTyped(typed);
    const parts = listIn(reply, 'parts');
    const total = amountIn(reply, 'total', piece);
    return {
      gaps: {
        parts: parts
          .map((part) => `${rangeOf(part)} get${one(part) ? 's' : ''} ${amountIn(part, 'dose', piece)}`)
          .join('; '),
        total,
        worst: percent(sure(reply, 'worstOverPercent')),
      },
      label: 'Draft into',
      big: count(parts.length, 'part', 'parts'),
      lines: [
        ...parts.map((part) => partLine(part, amountIn(part, 'dose', piece))),
        ends('Least product', listIn({ all: [reply.leastProduct] }, 'all')[0], piece),
        ends('Least overdose', listIn({ all: [reply.leastWorst] }, 'all')[0], piece),
      ],
    };
  },
};

const one = (part: Reply) => part.count === 1;

function rangeOf(part: Reply): string {
  return part.from === part.to ? sure(part, 'from') : `${sure(part, 'from')} to ${sure(part, 'to')}`;
}

function partLine(part: Reply, dose: string): string {
  const gate = said(part, 'gate');
  const heads = one(part) ? '1 animal' : `${sure(part, 'count')} animals`;
  return `${rangeOf(part)}: ${heads}, ${dose}${one(part) ? '' : ' each'}${
    gate === undefined ? '' : `; the gate at ${gate}`
  }.`;
}

function ends(name: string, split: Reply | undefined, piece: string): string {
  if (split === undefined) throw new Error(`the reply has no ${name}`);
  return `${name} in as many parts would be ${amountIn(split, 'total', piece)}, with ${percent(sure(split, 'worstOverPercent'))} over for the worst.`;
}

const PICKED_WORDS: Readonly<Record<(typeof PICKED)[number], string>> = {
  random: 'at random',
  biggest: 'as the biggest by eye',
  'as-they-came': 'as they came',
};

export const sampleSentence: TopicSentence = {
  topic: 'sample',
  head: 'The dose',
  question: 'Could a heavier one be among those not weighed?',
  text: 'Of {heads} sheep {weighed} were weighed, picked {picked}: <says>',
  blanks: {
    heads: plain('heads'),
    weighed: plain('how many'),
    picked: {
      says: 'how',
      size: 14,
      options: PICKED.map((value) => ({ value, label: PICKED_WORDS[value] })),
    },
  },
  example: { heads: '200', weighed: '10', picked: 'random' },
  tell: (reply) => {
    const chance = said(reply, 'chancePercent');
    return {
      gaps: { says: sure(reply, 'says') },
      label: 'Chance of a heavier one',
      big: chance === undefined ? 'No chance can be given' : percent(chance),
    };
  },
};

export const labelCheckSentence: TopicSentence = {
  topic: 'label-check',
  head: 'The dose',
  question: 'Do the two printed doses agree?',
  text: 'An insert that prints {rate} and also {perVolume}, of a medicine with {strength}, <agree>.',
  blanks: {
    rate: rate({ says: 'one dose' }),
    perVolume: rate({ says: 'the other dose', size: 13 }),
    strength: strength({ optional: true }),
  },
  example: { rate: '20 mg/kg', perVolume: '1 mL per 10 kg', strength: '200 mg/mL' },
  tell: (reply) => {
    const agrees = reply.agree === true;
    const difference = percent(sure(reply, 'differencePercent'));
    return {
      gaps: { agree: agrees ? 'says the same dose twice' : `says two doses, ${difference} apart` },
      label: 'The two doses',
      big: agrees ? 'They agree' : 'They do not agree',
      lines: [
        agrees && reply.differencePercent !== '0'
          ? `They are ${shortly(sure(reply, 'differencePercent'), 2)} % apart, and 1 % is allowed.`
          : '',
        ...listIn(reply, 'examples').map(
          (example) => `A sheep of ${sure(example, 'weight')} gets ${amountIn(example, '')}.`,
        ),
      ].filter((line) => line !== ''),
    };
  },
};
