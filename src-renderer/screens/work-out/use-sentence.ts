import { amount, plain, shortly, strength, sure } from './readers.ts';
import type { TopicSentence } from './sentence.ts';

/** What is worked out when a year is looked back on. */

export const useSentence: TopicSentence = {
  topic: 'use',
  head: 'Before and after',
  question: 'How much active substance for each kg?',
  text: 'I gave *given* to *animals*. That is <mg> mg of active substance, <each> mg for each kg of them.',
  blanks: {
    'given.*.amount': amount('amount'),
    'given.*.strength': strength(),
    'given.*.iuToMg': plain('mg', { size: 8 }),
    'given.*.saltFactor': plain('part', { size: 5 }),
    'animals.*.count': plain('how many'),
    'animals.*.kg': plain('weight'),
  },
  turns: {
    factor: [
      { id: '', word: 'as it is', text: 'as it is' },
      { id: 'iu', word: 'with IU', text: 'with {iuToMg} mg in one IU' },
      { id: 'salt', word: 'as a salt', text: 'of which {saltFactor} is the substance and not salt' },
    ],
  },
  rows: { given: '{amount} of {strength}, [factor]', animals: '{count} sheep of {kg} kg' },
  example: {
    'given.0.amount': '500 g',
    'given.0.strength': '1000 mg/g',
    'animals.0.count': '400',
    'animals.0.kg': '75',
    'animals.1.count': '600',
    'animals.1.kg': '20',
  },
  tell: (reply) => {
    const each = shortly(sure(reply, 'mgPerKg'), 2);
    return { gaps: { mg: sure(reply, 'totalMg'), each }, label: 'For each kg', big: `${each} mg/kg` };
  },
};
