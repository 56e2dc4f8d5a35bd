import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { withoutEmpty } from '../../hooks/use-form.ts';
import { type DoseFor, givenLines } from './sends.ts';
import type { Run } from './use-run.ts';
import { VetMustSay } from './vet-must-say.tsx';
import { routeOf } from './words.ts';

/** For each medicine of the animal at hand: what is said before a dose outside the label is recorded. */
export function RunOutside({ run, dose, session }: { run: Run; dose: DoseFor; session: Reply<'session'> }) {
  const { form } = run;
  const { values } = form;
  const farm = useCall('farm', {});
  const milks = farm.state === 'ready' && farm.value.holdings.some((one) => one.milk);
  const { subject, heads } = dose.who;
  const counted = Number((values.heads ?? '').trim());
  return givenLines(dose, values).map(({ line }) => {
    const field = `instruction.${line}`;
    const route = routeOf(values[`route.${line}`] ?? '');
    const planned = session.lines.find((one) => one.line === line);
    const medicine = planned?.medicine ?? '';
    // What was chosen for this one, else what the whole session follows.
    const chosen = values[field] === '' ? planned?.instruction : values[field];
    return (
      <VetMustSay
        key={line}
        name={field}
        chosen={chosen ?? ''}
        onChoose={(instruction) => form.set({ [field]: instruction })}
        back={{ subject, medicine, session: session.session.session, back: 'session' }}
        milks={milks}
        ask={{
          session: session.session.session,
          line,
          subject,
          ...withoutEmpty({ weight: values.weight ?? '', given: values[`given.${line}`] ?? '' }),
          ...(route === undefined ? {} : { route }),
          ...(heads > 1 && Number.isInteger(counted) && counted > 0 ? { heads: counted } : {}),
        }}
      />
    );
  });
}
