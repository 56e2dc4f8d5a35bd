import { dayInWords } from '../../parts/words.ts';
import { readBackZone, zoneHere } from '../farm/holding-words.ts';
import { period, plain, said, sure, when } from './readers.ts';
import type { TopicSentence } from './sentence.ts';

/** What is worked out after a treatment, and about a number. */

export const clearanceSentence: TopicSentence = {
  topic: 'clearance',
  head: 'Before and after',
  question: 'Until when is it held?',
  text: 'Given last on {lastDose} in {zone}, with a period of {period} counted [counting], it is held until <until>. [milking]',
  blanks: {
    lastDose: when('Last dose', 'day, or day and time'),
    zone: { says: 'time zone', size: 16, start: zoneHere, reads: (text) => readBackZone(text) },
    period,
    milkingHours: plain('hours'),
  },
  turns: {
    counting: [
      { id: 'later', word: 'whichever way ends later' },
      { id: '24-hour', word: 'in days of 24 hours', ask: { counting: '24-hour' } },
      { id: 'whole-days', word: 'in whole days after it', ask: { counting: 'whole-days' } },
    ],
    milking: [
      { id: '', word: 'It is not milked.' },
      {
        id: 'milked',
        word: 'It is milked.',
        text: 'Milked every {milkingHours} hours, its milk may be kept from milking <milking> on.',
      },
    ],
  },
  example: {
    lastDose: '1 Jun 2026',
    zone: 'Europe/Helsinki',
    period: '6 d',
    '?counting': 'whole-days',
  },
  tell: (reply) => {
    const until = sure(reply, 'clearAt');
    const milking = said(reply, 'firstMilkingKept');
    const day = dayInWords(until.slice(0, 10));
    const time = until.slice(11, 16);
    return {
      gaps: {
        until: `${day} at ${time}`,
        ...(milking === undefined ? {} : { milking: `number ${milking} after the dose` }),
      },
      label: `Held until ${time} on`,
      big: day,
    };
  },
};

export const identitySentence: TopicSentence = {
  topic: 'identity',
  head: 'Before and after',
  question: 'What does this number say?',
  text: 'An ear or a reader says {read}, which is <what>.',
  blanks: { read: { says: 'number as it was read', size: 24 } },
  example: { read: 'UK 0 123456 00001' },
  tell: (reply) => {
    const kind = sure(reply, 'kind');
    const country = said(reply, 'country');
    const maker = said(reply, 'maker');
    const owner =
      country !== undefined
        ? ` of country ${country}`
        : maker !== undefined
          ? ` with the code of maker ${maker}`
          : '';
    return {
      gaps: { what: `${KIND_WORDS[kind] ?? kind}${owner}` },
      label: 'Written',
      big: sure(reply, 'written'),
    };
  },
};

const KIND_WORDS: Readonly<Record<string, string>> = {
  chip: 'an electronic number',
  tag: 'an official tag number',
  management: 'a number of the farm’s own',
};
