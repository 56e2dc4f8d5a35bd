import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed } from '../../parts/deed.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { useLocation } from '../../router.tsx';
import { PrescriptionForm } from './prescription-form.tsx';
import { WithVets } from './vets.tsx';

/** Writes down a prescription. */
export default function PrescriptionScreen() {
  const medicines = useCall('medicines', {});
  const { query } = useLocation();
  return (
    <Screen title="A prescription" lead="With the paper in your hand: as it is written there.">
      <WithVets>
        {(vets) => (
          <Await call={medicines} what="Reading the medicines">
            {(value) =>
              value.medicines.length === 0 ? (
                <Empty deed={<CommandDeed id="write-label" />}>
                  A prescription is for a medicine on record, and there is none yet. Write down its label
                  first.
                </Empty>
              ) : (
                <PrescriptionForm vets={vets} medicine={query.medicine} />
              )
            }
          </Await>
        )}
      </WithVets>
    </Screen>
  );
}
