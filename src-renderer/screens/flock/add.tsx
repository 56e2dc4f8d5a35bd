import { useState } from 'react';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Choice } from '../../parts/field.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen } from '../../parts/screen.tsx';
import { go } from '../../router.tsx';
import { type Added, AnimalForm } from './animal-form.tsx';
import { LotForm } from './lot-form.tsx';

const toFlock = () => go({ to: 'flock' });

/** Adds named animals one after another, or lots. */
export default function AddScreen() {
  const farm = useCall('farm', {});
  const [what, setWhat] = useState('animal');
  const [added, setAdded] = useState<readonly Added[]>([]);
  const last = added.at(-1);
  const done = (one: Added) => setAdded((before) => [...before, one]);
  return (
    <Screen
      title="Add an animal or a lot"
      lead="A named animal has a tag or number of its own. A lot is a count of heads of one class without numbers."
      deeds={<CommandDeed id="import-animals" />}
    >
      <div className="form">
        <Choice
          name="what"
          label="What comes in"
          value={what}
          onChange={setWhat}
          options={[
            { value: 'animal', label: 'A named animal' },
            { value: 'lot', label: 'A lot of heads without numbers' },
          ]}
        />
      </div>
      {last === undefined ? null : (
        <Notice
          kind="done"
          deed={
            <DeedLink to="flock/subject/:subject" params={{ subject: last.subject }}>
              Open {last.shown}
            </DeedLink>
          }
        >
          <p>{last.shown} is in the book. The form is ready for the next.</p>
        </Notice>
      )}
      <Await call={farm} what="Reading the farm">
        {(value) =>
          what === 'lot' ? (
            // A new key for each: the form starts afresh and keeps nothing of the one before but its class.
            <LotForm key={added.length} farm={value} onDone={done} onLeave={toFlock} />
          ) : (
            <AnimalForm
              key={added.length}
              farm={value}
              startClass={last?.class ?? ''}
              takesCursor={last !== undefined}
              onDone={done}
              onLeave={toFlock}
            />
          )
        }
      </Await>
    </Screen>
  );
}
