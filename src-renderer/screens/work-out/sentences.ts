import { barcodeSentence } from './barcode-sentence.ts';
import { doseSentence } from './dose-sentence.ts';
import { draftSentence, labelCheckSentence, sampleSentence } from './group-sentences.ts';
import { clearanceSentence, identitySentence } from './holding-sentences.ts';
import { flowSentence, needleSentence } from './needle-sentences.ts';
import { offLabelSentence } from './off-label-sentence.ts';
import { packsSentence } from './packs-sentence.ts';
import type { TopicSentence } from './sentence.ts';
import {
  gunSentence,
  leakSentence,
  madeUpSentence,
  syringeSentence,
  tapeSentence,
} from './tool-sentences.ts';
import { useSentence } from './use-sentence.ts';

/** Every sentence of the work-out place, in the order of the list. A new topic is a sentence of its own and a line here. */
export const SENTENCES: readonly TopicSentence[] = [
  doseSentence,
  labelCheckSentence,
  draftSentence,
  sampleSentence,
  tapeSentence,
  needleSentence,
  flowSentence,
  syringeSentence,
  gunSentence,
  madeUpSentence,
  leakSentence,
  clearanceSentence,
  offLabelSentence,
  packsSentence,
  useSentence,
  barcodeSentence,
  identitySentence,
];
