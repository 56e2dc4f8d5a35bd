import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { useParams } from '../../router.tsx';
import { PrescriptionForm } from './prescription-form.tsx';
import { WithVets } from './vets.tsx';

/** Puts right what was typed of a prescription. */
export default function PrescriptionCorrectScreen() {
  const { prescription } = useParams('cabinet/prescription/:prescription/correct');
  const call = useCall('prescriptions', { prescription });
  return (
    <Screen
      title="Correct a prescription"
      lead="As it is written on the paper. What was typed first stays in the journal, with your reason."
    >
      <Await call={call} what="Reading the prescription">
        {({ prescriptions: [one] }) =>
          one === undefined ? (
            <Empty deed={<DeedLink to="cabinet/prescriptions">See the prescriptions</DeedLink>}>
              This prescription is not in the book, or was struck out.
            </Empty>
          ) : (
            <WithVets>{(vets) => <PrescriptionForm vets={vets} corrects={one} />}</WithVets>
          )
        }
      </Await>
    </Screen>
  );
}
