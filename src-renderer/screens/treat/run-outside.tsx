import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { askOf, chosenFor } from './outside-stops.ts';
import { type DoseFor, givenLines } from './sends.ts';
import type { Run } from './use-run.ts';
import { VetMustSay } from './vet-must-say.tsx';

/** For each medicine of the animal at hand: what is said before a dose outside the label is recorded. */
export function RunOutside({ run, dose, session }: { run: Run; dose: DoseFor; session: Reply<'session'> }) {
  const { form } = run;
  const { values } = form;
  const farm = useCall('farm', {});
  const milks = farm.state === 'ready' && farm.value.holdings.some((one) => one.milk);
  const { subject } = dose.who;
  const back = { subject, session: session.session.session, back: 'session' };
  return givenLines(dose, values).map(({ line }) => {
    const field = `instruction.${line}`;
    return (
      <VetMustSay
        key={line}
        name={field}
        chosen={chosenFor(session, values, line)}
        onChoose={(instruction) => form.set({ [field]: instruction })}
        back={{ ...back, medicine: session.lines.find((one) => one.line === line)?.medicine ?? '' }}
        milks={milks}
        ask={askOf(session, dose, values, line)}
      />
    );
  });
}
