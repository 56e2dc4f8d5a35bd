import {
  amount,
  amountIn,
  microlitresOf,
  percent,
  plain,
  said,
  several,
  shortly,
  strength,
  sure,
} from './readers.ts';
import type { TopicSentence } from './sentence.ts';

/** What is worked out about the things in the hand: syringe, gun, tape, a leak, a mixture. */

export const syringeSentence: TopicSentence = {
  topic: 'syringe',
  head: 'The tools',
  question: 'How far off is this syringe?',
  text: 'With {volume} in a syringe that holds {capacity}, the dose may be off by <error>, which is <percent> of it, and <dead> stays in the tip.',
  blanks: { volume: amount('dose'), capacity: amount('what it holds') },
  example: { volume: '0.5 mL', capacity: '10 mL' },
  tell: (reply, typed) => {
    const capacity = microlitresOf(typed.capacity);
    const draw = microlitresOf(typed.volume);
    const graduation = microlitresOf(amountIn(reply, 'scale'));
    const off = amountIn(reply, 'error');
    return {
      gaps: { error: off, percent: percent(sure(reply, 'errorPercent')), dead: amountIn(reply, 'deadSpace') },
      label: 'May be off by',
      big: off,
      ...(capacity === undefined || draw === undefined || graduation === undefined
        ? {}
        : { syringe: { capacity, draw, graduation } }),
    };
  },
};

export const gunSentence: TopicSentence = {
  topic: 'gun-check',
  head: 'The tools',
  question: 'Is the gun right?',
  text: 'A gun set to {setTo} gave [shots], so it gives <mean> a shot. [marks]',
  blanks: {
    setTo: amount('setting'),
    total: amount('volume'),
    shots: plain('how many'),
    each: { says: 'each shot, as in 4.9 5.1 5 mL', size: 28, isLong: true, ask: several },
    graduation: amount('step'),
  },
  turns: {
    shots: [
      { id: 'total', word: 'so much in all', text: '{total} in {shots} shots' },
      { id: 'each', word: 'shot by shot', text: '{each}, shot by shot' },
    ],
    marks: [
      { id: '', word: 'Its marks are as usual.' },
      { id: 'named', word: 'Its marks are others.', text: 'Its marks are {graduation} apart.' },
    ],
  },
  example: { setTo: '5 mL', total: '52.5 mL', shots: '10' },
  tell: (reply) => {
    const spread = said(reply, 'spreadPercent');
    return {
      gaps: { mean: amountIn(reply, 'mean') },
      label: 'The gun',
      big: GUN_WORDS[sure(reply, 'verdict')] ?? sure(reply, 'verdict'),
      lines: [
        sure(reply, 'says'),
        ...(spread === undefined ? [] : [`The shots spread by ${percent(spread)}.`]),
      ],
    };
  },
};

const GUN_WORDS: Readonly<Record<string, string>> = {
  right: 'It is right',
  off: 'It is off',
  uneven: 'It is uneven',
  'too-few': 'Too few shots',
};

export const tapeSentence: TopicSentence = {
  topic: 'weight-tape',
  head: 'The tools',
  question: 'How heavy, by the tape?',
  text: 'A sheep that measures {girth} round the chest and {length} along the body weighs about <kg>.',
  blanks: { girth: { says: 'girth', size: 7 }, length: { says: 'length', size: 7 } },
  example: { girth: '35 in', length: '30 in' },
  tell: (reply) => {
    const kg = `${sure(reply, 'kg')} kg`;
    return { gaps: { kg }, label: 'About, as an estimate', big: kg };
  },
};

export const leakSentence: TopicSentence = {
  topic: 'leak',
  head: 'The tools',
  question: 'How much was lost?',
  text: 'Of a dose of {dose}, [lost] ran out again, so the animal is <short> short.',
  blanks: {
    dose: amount('dose'),
    drops: plain('how many'),
    lost: amount('volume'),
  },
  turns: {
    lost: [
      { id: 'drops', word: 'so many drops', text: '{drops} drops' },
      { id: 'amount', word: 'so much', text: '{lost}' },
    ],
  },
  example: { dose: '1 mL', drops: '3' },
  tell: (reply) => {
    const least = said(reply, 'leastPercent');
    const most = said(reply, 'mostPercent');
    const short = percent(sure(reply, 'shortPercent'));
    const isRange = least !== undefined && most !== undefined;
    return {
      gaps: {
        short: isRange ? `${short} (${shortly(least, 1)} to ${percent(most)} as drops go)` : short,
      },
      label: 'Short by',
      big: isRange ? `${shortly(least, 1)} to ${percent(most)}` : short,
      lines: [`${amountIn(reply, 'lost')} was lost${isRange ? ', at 20 drops to the mL' : ''}.`],
    };
  },
};

export const madeUpSentence: TopicSentence = {
  topic: 'made-up',
  head: 'The tools',
  question: 'How strong is what I made up?',
  text: '{amount} of powder or concentrate, [with], [water], has <strength>.',
  blanks: {
    amount: amount('amount'),
    strength: strength(),
    water: amount('volume'),
    madeUpTo: amount('volume'),
  },
  turns: {
    with: [
      { id: 'known', word: 'with a known strength', text: 'that has {strength}' },
      { id: 'product', word: 'counted as it is' },
    ],
    water: [
      { id: 'water', word: 'stirred into water', text: 'stirred into {water} of water' },
      { id: 'to', word: 'filled up to a mark', text: 'filled up to {madeUpTo}' },
    ],
  },
  example: { amount: '52 g', strength: '900 mg/g', water: '943 mL' },
  tell: (reply) => {
    const perMl = `${shortly(sure(reply, 'perMl'), 2)} ${sure(reply, 'unit')} in each mL`;
    return {
      gaps: { strength: perMl },
      label: 'Its strength is',
      big: `${shortly(sure(reply, 'perMl'), 2)} ${sure(reply, 'unit')}/mL`,
      lines: [`Exact, for the label of the container: ${sure(reply, 'strength')}.`],
    };
  },
};
