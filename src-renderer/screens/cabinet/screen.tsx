import './cabinet.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Also } from '../../parts/also.tsx';
import { Await } from '../../parts/await.tsx';
import { Combobox } from '../../parts/combobox.tsx';
import { CommandDeed, Deed } from '../../parts/deed.tsx';
import { FormScope } from '../../parts/field.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go } from '../../router.tsx';
import { useCommand } from '../../shell/commands.ts';
import { NextField } from '../label/next-field.tsx';
import { ScanField } from './scan-field.tsx';
import { packOnShelf } from './scanned.ts';
import { Shelf } from './shelf.tsx';
import { type Container, isGone, sayContainer } from './words.ts';

type Medicine = Reply<'medicines'>['medicines'][number];

/** Everything on the shelf, drawn by what is left, and the medicines it belongs to. */
export default function CabinetScreen() {
  const [isAll, setAll] = useState(false);
  const [isCounting, setCounting] = useState(false);
  const cabinet = useCall('cabinet', { show: isAll ? 'all' : 'in-hand' });
  const ahead = useCall('shelf-ahead', {});
  const medicines = useCall('medicines', {});
  // Nothing can be taken in or counted before there is a medicine: then only the first step is offered.
  const hasMedicine = medicines.state !== 'ready' || medicines.value.medicines.length > 0;
  useCommand('count-here', () => setCounting(true));
  useCommand('receive-here', () => go({ to: 'cabinet/delivery' }));
  return (
    <Screen
      title="Cabinet"
      deeds={
        hasMedicine ? (
          <>
            <CommandDeed id="receive-batch" weight="main" />
            <Deed onDo={() => setCounting(true)} shortcut="=">
              Count a container
            </Deed>
            <CommandDeed id="find-batch" />
          </>
        ) : (
          <CommandDeed id="write-label" weight="main" />
        )
      }
    >
      {hasMedicine ? (
        <Also label="Also in the cabinet">
          <CommandDeed id="make-up" />
          <CommandDeed id="stocktake" />
          <CommandDeed id="thermometers" />
          <CommandDeed id="disposals" />
          <CommandDeed id="drawer" />
          <CommandDeed id="write-label" />
        </Also>
      ) : null}
      <Await call={cabinet} what="Reading the cabinet">
        {({ containers }) => (
          <>
            {isCounting ? <Jump containers={containers} onLeave={() => setCounting(false)} /> : null}
            {hasMedicine ? (
              <Section
                title="On the shelf"
                deeds={
                  <Deed onDo={() => setAll(!isAll)}>
                    {isAll ? 'Show only what is on the shelf' : 'Show also what is empty or gone'}
                  </Deed>
                }
              >
                <Await call={ahead} what="Looking at the work ahead">
                  {({ ahead: days }) => <Shelf containers={containers} label="On the shelf" ahead={days} />}
                </Await>
              </Section>
            ) : null}
          </>
        )}
      </Await>
      <Section title="Medicines">
        <Await call={medicines} what="Reading the medicines">
          {({ medicines: all }) => <Medicines medicines={all} />}
        </Await>
      </Section>
    </Screen>
  );
}

const count = (container: string) =>
  go({ to: 'cabinet/container/:container', params: { container }, query: { do: 'count' } });

/** Finds the container that is to be counted, by what its sticker says. */
function Jump({ containers, onLeave }: { containers: readonly Container[]; onLeave: () => void }) {
  return (
    <FormScope value="count">
      <div className="cabinet-jump">
        <Combobox
          name="container"
          label="Count which"
          hint="Type what the sticker says, or the name. Enter takes it."
          picked={undefined}
          options={containers
            .filter((one) => !isGone(one.state))
            .map((one) => ({
              key: one.container,
              text: `${one.label} · ${one.name}`,
              more: sayContainer(one),
            }))}
          onPick={(container) => {
            if (container !== undefined) count(container);
          }}
          nothing="No container on the shelf is called that."
        />
        <ScanField
          hint="Its square code opens the container, ready to be counted."
          onRead={(pack) => {
            const found = packOnShelf(pack);
            if ('wrong' in found) return found.wrong;
            count(found.container);
            return undefined;
          }}
        />
        <NextField name="container" />
        <p className="deeds">
          <Deed onDo={onLeave}>Count none</Deed>
        </p>
      </div>
    </FormScope>
  );
}

const columns: readonly Column<Medicine>[] = [
  {
    key: 'name',
    isName: true,
    head: 'Medicine',
    text: (one) => one.name,
    show: (one) => <strong>{one.name}</strong>,
    share: 2,
  },
  {
    key: 'usable',
    head: 'May be used',
    text: (one) => (one.state === 'draft' ? `${one.usable}, label not confirmed` : one.usable),
    show: (one) =>
      one.state === 'draft' ? (
        <>
          {one.usable} <span className="shelf-word">label is a draft</span>
        </>
      ) : (
        one.usable
      ),
  },
  { key: 'meat', head: 'Meat', text: (one) => one.meat },
  { key: 'milk', head: 'Milk', text: (one) => one.milk },
];

function Medicines({ medicines }: { medicines: readonly Medicine[] }) {
  return (
    <List
      rows={medicines}
      columns={columns}
      rowKey={(one) => one.medicine}
      label="Medicines"
      onOpen={(one) => go({ to: 'cabinet/medicine/:medicine', params: { medicine: one.medicine } })}
      fileName="medicines"
      empty={
        <Empty>No medicine is on record. Take one box and its insert, and write down its label first.</Empty>
      }
    />
  );
}
