import { dayInWords, listed } from '../../parts/words.ts';
import { said, sure, when } from './readers.ts';
import type { Reply, TopicSentence } from './sentence.ts';

/** What the code on a pack says. */
export const barcodeSentence: TopicSentence = {
  topic: 'barcode',
  head: 'Before and after',
  question: 'What does this pack code say?',
  text: 'A scanner [sends] typed {scan} off a pack, seen [seen]. It is <what>.',
  blanks: { scan: { says: 'code as it was typed', size: 30 }, on: when('On', 'day') },
  turns: {
    sends: [
      { id: '', word: 'that may drop separators' },
      { id: 'yes', word: 'that sends separators', ask: { sendsSeparators: true } },
    ],
    seen: [
      { id: '', word: 'in this century' },
      { id: 'named', word: 'on a day', text: 'on {on},' },
    ],
  },
  example: { scan: '(01)05012345678900(17)271200(10)AB12', '?seen': 'named', on: '1 May 2026' },
  tell: (reply) => {
    const expiry = said(reply, 'expiry');
    return {
      gaps: { what: listed([`product ${sure(reply, 'gtin')}`, ...FIELDS.flatMap((field) => field(reply))]) },
      label: expiry === undefined ? 'Product' : 'Usable unopened to the end of',
      big: expiry === undefined ? sure(reply, 'gtin') : dayInWords(expiry),
      ...(said(reply, 'batch') === undefined || expiry === undefined
        ? { lines: ['Type what the code does not say from the pack: its batch, its expiry.'] }
        : {}),
    };
  },
};

type Field = (reply: Reply) => string[];

const field =
  (name: string, says: string, words: (text: string) => string = (text) => text): Field =>
  (reply) => {
    const value = said(reply, name);
    return value === undefined ? [] : [`${says} ${words(value)}`];
  };

const FIELDS: readonly Field[] = [
  field('batch', 'batch'),
  field('expiry', 'expiry', dayInWords),
  field('serial', 'serial number'),
  field('made', 'made on', dayInWords),
  field('bestBefore', 'best before', dayInWords),
];
