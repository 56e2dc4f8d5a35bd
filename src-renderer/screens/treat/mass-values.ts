import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import type { Problem } from '../../hooks/use-form.ts';
import { sideOf } from './words.ts';

/** What was typed for a mass run. A type and no interface: only so may it be a form's values. */
export type MassValues = {
  /** Each "subject, TAB, as shown, TAB, why". */
  except: readonly string[];
  /** Each "subject, space, heads done". */
  heads: readonly string[];
  /** Subjects whose treated heads carry the mark. */
  marked: readonly string[];
  /** Each "line, space, instruction of the vet"; nothing behind the space where it follows none after all. */
  instructions: readonly string[];
  given: string;
  lost: string;
  lostWhy: string;
  /** Place, side and needle when they are the same for all; empty where nobody said so. */
  site: string;
  side: string;
  needle: string;
};
export type Exception = { readonly subject: string; readonly shown: string; readonly why: string };
type Waiting = Reply<'session'>['waiting'];

/** An exception as a form keeps it. */
export function printException(one: Exception): string {
  return [one.subject, one.shown, one.why].join('\t');
}

/** The exceptions that a form kept. */
export function exceptionsOf(kept: readonly string[]): Exception[] {
  return kept.flatMap((text) => {
    const [subject, shown, why] = text.split('\t');
    return subject === undefined || shown === undefined || why === undefined ? [] : [{ subject, shown, why }];
  });
}

/** The vet's instruction of one line: the one chosen here, else the one it was planned with; empty for none. */
export function instructionFor(
  values: Pick<MassValues, 'instructions'>,
  line: { readonly line: string; readonly instruction?: string | undefined },
): string {
  const own = values.instructions.find((item) => item.startsWith(`${line.line} `));
  return own === undefined ? (line.instruction ?? '') : own.slice(line.line.length + 1);
}

/** The form's choices with another one for a line. */
export function withInstruction(
  { instructions }: Pick<MassValues, 'instructions'>,
  line: string,
  instruction: string,
): Pick<MassValues, 'instructions'> {
  const others = instructions.filter((item) => !item.startsWith(`${line} `));
  return { instructions: [...others, `${line} ${instruction}`] };
}

/** What was chosen here, as a call takes it. */
export function chosenIn({
  instructions,
}: Pick<MassValues, 'instructions'>): NonNullable<Ask<'treat-many'>['instructions']> {
  return instructions.flatMap((item) => {
    const [line = '', instruction = ''] = item.split(' ');
    return line === '' ? [] : [{ line, instruction: instruction === '' ? null : instruction }];
  });
}

function talliesOf(values: MassValues, waiting: Waiting): { subject: string; typed: string; of: number }[] {
  const except = new Set(exceptionsOf(values.except).map((one) => one.subject));
  return values.heads.flatMap((item) => {
    const at = item.indexOf(' ');
    const lot = waiting.find((one) => one.subject === item.slice(0, at));
    return lot === undefined || except.has(lot.subject)
      ? []
      : [{ subject: lot.subject, typed: item.slice(at + 1), of: lot.heads }];
  });
}

/** What is wrong with the tallies; a lot of which none was done is an exception and no tally. */
export function massProblems(values: MassValues, waiting: Waiting): Problem[] {
  return talliesOf(values, waiting).flatMap(({ subject, typed, of }) =>
    /^\d{1,7}$/.test(typed) && Number(typed) >= 1 && Number(typed) <= of
      ? []
      : [
          {
            field: subject,
            message: `Write a whole number from 1 to ${of}.`,
            next: 'If none of the lot was done, leave it out by its name above.',
          },
        ],
  );
}

/** Place, side and needle as they are said for all. */
export function whereForAll(
  values: Pick<MassValues, 'site' | 'side' | 'needle'>,
): Pick<Ask<'treat-many'>, 'site' | 'side' | 'needle'> {
  const side = sideOf(values.side);
  return {
    ...(values.site === '' ? {} : { site: values.site }),
    ...(side === undefined ? {} : { side }),
    ...(values.needle === '' ? {} : { needle: values.needle }),
  };
}

/** The one writing call of a mass run. Lots done whole need no tally. */
export function massSend(
  session: string,
  values: MassValues,
  waiting: Waiting,
): Omit<Ask<'treat-many'>, 'request' | 'by' | 'confirmed'> {
  const { given, lost, lostWhy, marked } = values;
  return {
    session,
    except: exceptionsOf(values.except).map(({ subject, why }) => ({ subject, why })),
    tally: talliesOf(values, waiting)
      .filter(({ typed, of }) => Number(typed) !== of)
      .map(({ subject, typed }) => ({ subject, heads: Number(typed), marked: marked.includes(subject) })),
    instructions: chosenIn(values),
    ...whereForAll(values),
    ...(given.trim() === '' ? {} : { given }),
    ...(lost.trim() === '' ? {} : { lost: { amount: lost, why: lostWhy.trim() || 'Lost' } }),
  };
}
