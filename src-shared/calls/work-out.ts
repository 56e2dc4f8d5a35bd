import { Refusal } from '../refusal.ts';
import { barcodeTopic } from './work-out-barcode.ts';
import { clearanceTopic } from './work-out-clearance.ts';
import { doseTopic } from './work-out-dose.ts';
import { draftTopic } from './work-out-draft.ts';
import { flowTopic } from './work-out-flow.ts';
import { gunCheckTopic } from './work-out-gun-check.ts';
import { identityTopic } from './work-out-identity.ts';
import { labelCheckTopic } from './work-out-label-check.ts';
import { leakTopic } from './work-out-leak.ts';
import { madeUpTopic } from './work-out-made-up.ts';
import { needleTopic } from './work-out-needle.ts';
import { offLabelTopic } from './work-out-off-label.ts';
import { packsTopic } from './work-out-packs.ts';
import { sampleTopic } from './work-out-sample.ts';
import { syringeTopic } from './work-out-syringe.ts';
import type { Topic } from './work-out-topic.ts';
import { useTopic } from './work-out-use.ts';
import { weightTapeTopic } from './work-out-weight-tape.ts';

/** Every topic there is, by its name. A new topic is a file of its own and a line here. */
export const TOPICS: ReadonlyMap<string, Topic> = new Map([
  ['barcode', barcodeTopic],
  ['clearance', clearanceTopic],
  ['dose', doseTopic],
  ['draft', draftTopic],
  ['flow', flowTopic],
  ['gun-check', gunCheckTopic],
  ['identity', identityTopic],
  ['label-check', labelCheckTopic],
  ['leak', leakTopic],
  ['made-up', madeUpTopic],
  ['needle', needleTopic],
  ['off-label', offLabelTopic],
  ['packs', packsTopic],
  ['sample', sampleTopic],
  ['syringe', syringeTopic],
  ['use', useTopic],
  ['weight-tape', weightTapeTopic],
]);

/**
 * Answers a work-out question, without a book. Quantities in the ask are the text a person types; numbers in the
 * reply are plain decimal strings, counts are whole numbers. Every reply has `working` and `warnings`. Refuses
 * `unknown-topic`, `bad-input`, and whatever the topic refuses.
 */
export function workOut(name: string, ask: unknown): Record<string, unknown> {
  const found = TOPICS.get(name);
  if (found === undefined) {
    const names = [...TOPICS.keys()].join(', ');
    throw new Refusal(
      'unknown-topic',
      `Topic: there is none called “${name.slice(0, 40)}”; there are ${names}.`,
      {
        field: 'topic',
      },
    );
  }
  return found.answer(ask);
}
