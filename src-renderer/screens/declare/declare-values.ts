import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { CONTENTS, type Content, contentOf, FACTS, type Fact } from '../../../src-shared/declare/contents.ts';
import { PURPOSES, type Purpose } from '../../../src-shared/declare/purposes.ts';
import type { Called } from '../../hooks/use-call.ts';
import type { Problem } from '../../hooks/use-form.ts';
import { readBackDay } from '../../parts/day-field.tsx';
import { joinLocal } from '../book/when.ts';
import { readGoing } from './clear-rows.ts';
import { accompaniedOf } from './kept.ts';

type FactField = `fact-${Fact}`;

/** What the form of a declaration holds while it is filled in. */
export type DeclareValues = {
  readonly holding: string;
  readonly purpose: string;
  readonly content: string;
  readonly destination: string;
  readonly to: string;
  readonly toHolding: string;
  readonly day: string;
  readonly time: string;
  /** The time an abattoir agreed to, where it did. */
  readonly isAgreed: boolean;
  readonly notDay: string;
  readonly notTime: string;
  readonly agreedWith: string;
  readonly agreedOn: string;
  readonly relevantDays: string;
  readonly going: readonly string[];
  /** Who goes accompanied, because a needle may be in it. */
  readonly accompanied: readonly string[];
  readonly signer: string;
  readonly answer: string;
  readonly paper: string;
} & Readonly<Record<FactField, string>>;

/** What the desk says of the declaration as it stands in the form. */
export type Preview = Called<Reply<'preview-declaration'>>;
type Begin = Reply<'declaration-form'>;

export const factField = (fact: Fact): FactField => `fact-${fact}`;

/** The fields that a holding's last declaration of this sort fills; what is asked of the animals stays empty. */
export function begunWith({ content, relevantDays, facts }: Begin) {
  const filled = Object.fromEntries(FACTS.map((fact) => [factField(fact), facts[fact] ?? '']));
  return {
    content: content as string,
    relevantDays: relevantDays === undefined ? '' : String(relevantDays),
    // One for each of FACTS, which is what the type says.
    ...(filled as Record<FactField, string>),
  };
}

export function purposeOf(text: string | undefined): Purpose {
  return PURPOSES.find((one) => one === text) ?? 'slaughter';
}

export function contentIn(values: Pick<DeclareValues, 'content'>): Content {
  return CONTENTS.find((one) => one === values.content) ?? 'plain';
}

/** What is asked of the keeper by what was chosen. */
export function factsAsked(values: Pick<DeclareValues, 'purpose' | 'content'>): readonly Fact[] {
  return contentOf(purposeOf(values.purpose), contentIn(values)).facts;
}

/** The declaration as the desk is asked about it. */
export function declarationAsk(values: DeclareValues, to: string): Ask<'preview-declaration'> {
  const purpose = purposeOf(values.purpose);
  const facts = Object.fromEntries(
    factsAsked(values).flatMap((fact) => {
      const said = values[factField(fact)].trim();
      return said === '' ? [] : [[fact, said]];
    }),
  );
  const days = Number(values.relevantDays);
  return {
    holding: values.holding,
    purpose,
    content: contentIn(values),
    destination: destinationIn(values),
    to,
    ...(purpose === 'transfer' && values.toHolding !== '' ? { toHolding: values.toHolding } : {}),
    departs: joinLocal(values.day, values.time),
    ...(isAgreedWhole(values)
      ? {
          notBefore: {
            at: joinLocal(values.notDay, values.notTime),
            agreedWith: values.agreedWith.trim(),
            agreedOn: values.agreedOn,
          },
        }
      : {}),
    ...(Number.isInteger(days) && days > 0 ? { relevantDays: days } : {}),
    facts,
    subjects: values.going.map(readGoing),
    accompanied: accompaniedOf(values.accompanied),
  };
}

export function destinationIn({ purpose, destination }: Pick<DeclareValues, 'purpose' | 'destination'>) {
  const isAsked = purpose === 'slaughter' || purpose === 'milk';
  return isAsked && (destination === 'export' || destination === 'organic') ? destination : 'domestic';
}

function isAgreedWhole(values: DeclareValues): boolean {
  return (
    values.purpose === 'slaughter' &&
    values.isAgreed &&
    readBackDay(values.notDay) !== undefined &&
    values.agreedWith.trim() !== '' &&
    readBackDay(values.agreedOn) !== undefined
  );
}

/** What is missing before it can be signed, in the order of the form. */
export function problemsIn(values: DeclareValues): Problem[] {
  const isTransfer = values.purpose === 'transfer';
  const days = values.relevantDays.trim();
  const agreed = values.purpose === 'slaughter' && values.isAgreed;
  const empty = (isEmpty: boolean, field: string, message: string): Problem[] =>
    isEmpty ? [{ field, message }] : [];
  return [
    ...empty(isTransfer && values.toHolding === '', 'toHolding', 'Say to which holding they go.'),
    ...empty(!isTransfer && values.to.trim() === '', 'to', 'Say to whom it is made out.'),
    ...empty(readBackDay(values.day) === undefined, 'day', 'Say on which day.'),
    ...empty(
      agreed && readBackDay(values.notDay) === undefined,
      'notDay',
      'Say before which day they are not slaughtered.',
    ),
    ...empty(
      agreed && values.agreedWith.trim() === '',
      'agreedWith',
      'Say who agreed to it at the abattoir.',
    ),
    ...empty(agreed && readBackDay(values.agreedOn) === undefined, 'agreedOn', 'Say when it was agreed.'),
    ...empty(
      days !== '' && !/^[1-9]\d{0,3}$/.test(days),
      'relevantDays',
      'Write whole days, from 1 to 3650, or leave it empty.',
    ),
    ...empty(values.going.length === 0, 'subject', 'Nobody is on the list yet.'),
    ...factsAsked(values).flatMap((fact) =>
      empty(
        values[factField(fact)].trim() === '',
        factField(fact),
        'Write what is so, also where there is nothing to report.',
      ),
    ),
    ...empty(values.signer === '', 'signer', 'Say who signs.'),
    ...empty(values.answer === '' && values.going.length > 0, 'answer', 'Answer the question.'),
  ];
}
