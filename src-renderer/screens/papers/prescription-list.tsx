import { Screen } from '../../parts/screen.tsx';
import { Prescriptions } from './prescriptions.tsx';

/** Every prescription with what is left on it. */
export default function PrescriptionListScreen() {
  return (
    <Screen
      title="Prescriptions"
      lead="What the vet prescribed, what came in on it and what may still be got on it."
    >
      <Prescriptions title="On record" />
    </Screen>
  );
}
