import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { desk } from '../../desk.ts';
import { withoutEmpty } from '../../hooks/use-form.ts';
import { type DoseFor, givenLines, type RunValues } from './sends.ts';
import { routeOf } from './words.ts';

type Session = Reply<'session'>;

/** What the desk is asked about one medicine of the animal at hand, as it would be recorded. */
export function askOf(session: Session, dose: DoseFor, values: RunValues, line: string): Ask<'vet-must-say'> {
  const route = routeOf(values[`route.${line}`] ?? '');
  const { subject, heads } = dose.who;
  const counted = Number((values.heads ?? '').trim());
  return {
    session: session.session.session,
    line,
    subject,
    ...withoutEmpty({ weight: values.weight ?? '', given: values[`given.${line}`] ?? '' }),
    ...(route === undefined ? {} : { route }),
    ...(heads > 1 && Number.isInteger(counted) && counted > 0 ? { heads: counted } : {}),
  };
}

/** The instruction that counts for one medicine: the one chosen for this animal, else that of the whole session. */
export function chosenFor(session: Session, values: RunValues, line: string): string {
  const own = values[`instruction.${line}`] ?? '';
  return own === '' ? (session.lines.find((one) => one.line === line)?.instruction ?? '') : own;
}

/**
 * What must be looked at before it is recorded: what was different puts a medicine outside its label, and no word of
 * the vet stands beside it. The hand is quicker than the eye at the race.
 */
export async function outsideStops(
  session: Session,
  dose: DoseFor,
  values: RunValues,
): Promise<{ code: string; text: string }[]> {
  const lines = givenLines(dose, values).filter(
    ({ line }) =>
      `${values[`given.${line}`] ?? ''}${values[`route.${line}`] ?? ''}`.trim() !== '' &&
      chosenFor(session, values, line) === '',
  );
  const found = await Promise.all(
    lines.map(async ({ line, name }) => {
      const outcome = await desk.call('vet-must-say', askOf(session, dose, values, line));
      // What cannot be read is refused where it is written, beside its own field.
      if (!outcome.ok || outcome.value.outside === undefined) return [];
      const why = outcome.value.deviations.filter(({ outside }) => outside).map(({ text }) => text);
      return [
        {
          code: `outside.${line}`,
          text: `${name} is outside its label: ${why.join('; ')}. The vet must say how long it is held; until then no time clears it.`,
        },
      ];
    }),
  );
  return found.flat();
}
