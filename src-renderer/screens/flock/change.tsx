import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { Screen } from '../../parts/screen.tsx';
import { go, useParams } from '../../router.tsx';
import { AnimalForm } from './animal-form.tsx';
import { LotForm } from './lot-form.tsx';

/** Changes an animal (a new tag, another class) or a lot (its name, its count). */
export default function ChangeScreen() {
  const { subject } = useParams('flock/subject/:subject/change');
  const farm = useCall('farm', {});
  const call = useCall('subject', { subject });
  const toPage = () => go({ to: 'flock/subject/:subject', params: { subject } });
  const Shown = subject.startsWith('lot:') ? LotForm : AnimalForm;
  return (
    <Await call={farm} what="Reading the farm">
      {(value) => (
        <Await call={call} what="Opening the page">
          {(page) => (
            <Screen
              title={`Change ${page.who.shown}`}
              lead="What was treated and decided before stays as it is; the change counts from its day on."
            >
              <Shown farm={value} page={page} onDone={toPage} onLeave={toPage} />
            </Screen>
          )}
        </Await>
      )}
    </Await>
  );
}
