import { listed } from '../../parts/words.ts';
import { readBackZone, zoneHere } from '../farm/holding-words.ts';
import { amount, amountIn, listIn, sure, when } from './readers.ts';
import type { Reply, TopicSentence } from './sentence.ts';

/** What is worked out before an order. */

export const packsSentence: TopicSentence = {
  topic: 'packs',
  head: 'Before and after',
  question: 'Which packs to buy?',
  text: 'I need *needs*. There are packs of *packs*, [inUse]. So buy <buy> for <cost>; <left> is left over.',
  blanks: {
    'needs.*.amount': amount('amount'),
    'needs.*.on': when('Day', 'day'),
    'packs.*.size': amount('size'),
    'packs.*.price': { says: 'price', size: 7 },
    inUse: { says: 'how long, as in 28 d', size: 8 },
    zone: { says: 'time zone', size: 16, start: zoneHere, reads: (text) => readBackZone(text) },
  },
  turns: {
    inUse: [
      { id: '', word: 'which keep once opened' },
      {
        id: 'named',
        word: 'which keep for a time',
        text: 'which keep for {inUse} once opened, by the clock of {zone}',
      },
    ],
  },
  rows: { needs: '{amount} on {on}', packs: '{size} at {price}' },
  example: {
    'needs.0.amount': '600 mL',
    'needs.0.on': '1 Mar 2026',
    'needs.1.amount': '260 mL',
    'needs.1.on': '8 Mar 2026',
    'packs.0.size': '250 mL',
    'packs.0.price': '110',
    'packs.1.size': '500 mL',
    'packs.1.price': '200',
    '?inUse': 'named',
    inUse: '10 h',
    zone: 'Europe/London',
  },
  tell: (reply) => {
    const buy = listed(listIn(reply, 'buy').map(packs)) || 'nothing';
    return {
      gaps: { buy, cost: sure(reply, 'cost'), left: amountIn(reply, 'leftOver') },
      label: 'Buy',
      big: buy,
    };
  },
};

function packs(bought: Reply): string {
  return `${sure(bought, 'count')} × ${sure(bought, 'size')}`;
}
