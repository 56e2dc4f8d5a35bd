import type { Ask } from '../../../src-shared/calls/all.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { parseAmount } from '../../../src-shared/quantity/amount.ts';
import { attempt, type Outcome } from '../../../src-shared/refusal.ts';
import { type MadeUp, makeUp } from '../../../src-shared/stock/made-up.ts';
import type { Problem } from '../../hooks/use-form.ts';
import { withoutEmpty } from '../../hooks/use-form.ts';
import type { Container } from './words.ts';

/** What is taken out of one container. */
export type Taking = { container: string; amount: string };
export type MakeUpValues = {
  medicine: string;
  /** Each "container, TAB, amount": a form holds only texts and lists of texts. */
  from: readonly string[];
  /** "water" that is added, or the "mark" it is filled up to. */
  way: string;
  liquid: string;
  life: string;
  label: string;
  batch: string;
  store: string;
};

export const emptyTaking = '\t';

/** The takings that a form kept. */
export function takingsOf(kept: readonly string[]): Taking[] {
  return kept.map((text) => {
    const [container = '', amount = ''] = text.split('\t');
    return { container, amount };
  });
}

/** A taking as a form keeps it. */
export function keptTaking({ container, amount }: Taking): string {
  return `${container}\t${amount.replaceAll('\t', ' ')}`;
}

/** What is still missing, each with its field. */
export function makeUpProblems(values: MakeUpValues): Problem[] {
  const problems: Problem[] = [];
  if (values.medicine === '') problems.push({ field: 'medicine', message: 'Choose the medicine.' });
  takingsOf(values.from).forEach(({ container, amount }, i) => {
    if (container === '') problems.push({ field: `from.${i}.container`, message: 'Choose the container.' });
    if (amount.trim() === '')
      problems.push({
        field: `from.${i}.amount`,
        message: 'Write how much is taken, with its unit, as in 52 g.',
      });
  });
  if (values.liquid.trim() === '') {
    const message = values.way === 'mark' ? 'Write up to what mark it is filled.' : 'Write how much water.';
    problems.push({ field: values.way === 'mark' ? 'madeUpTo' : 'water', message });
  }
  return problems;
}

/** The call that writes it. To be asked only when `makeUpProblems` finds nothing. */
export function makeUpAsk(values: MakeUpValues): Omit<Ask<'make-up'>, 'request' | 'by' | 'confirmed'> {
  const { life, label, batch, store } = values;
  return {
    from: takingsOf(values.from),
    ...(values.way === 'mark' ? { madeUpTo: values.liquid } : { water: values.liquid }),
    ...withoutEmpty({ life: life.trim(), label: label.trim(), batch: batch.trim(), store: store.trim() }),
  };
}

/** What would come of what is typed so far, by the same rules as the desk; a refusal while something is missing. */
export function madeSoFar(
  values: MakeUpValues,
  terms: LabelTerms,
  containers: readonly Container[],
): Outcome<MadeUp> {
  return attempt(() => {
    const liquid = parseAmount(values.liquid, values.way === 'mark' ? 'madeUpTo' : 'water');
    return makeUp(terms, {
      from: takingsOf(values.from).map(({ container, amount }, i) => ({
        amount: parseAmount(amount, `from.${i}.amount`, { piece: terms.piece }),
        own: containers.find((one) => one.container === container)?.strength,
      })),
      ...(values.way === 'mark' ? { madeUpTo: liquid } : { water: liquid }),
    });
  });
}
