import type { Reply } from '../../src-shared/calls/all.ts';
import { useCall } from '../hooks/use-call.ts';
import { Await } from './await.tsx';
import { Combobox } from './combobox.tsx';
import { CommandDeed } from './deed.tsx';
import { Empty } from './sentence.tsx';

export type MedicineRow = Reply<'medicines'>['medicines'][number];

/** Picks a medicine of the cabinet, with what may still be used of each beside its name. */
export function MedicinePicker({
  name = 'medicine',
  label = 'Medicine',
  hint,
  error,
  picked,
  onPick,
}: {
  name?: string;
  label?: string;
  hint?: string;
  error?: string | undefined;
  picked: string | undefined;
  onPick: (medicine: MedicineRow | undefined) => void;
}) {
  const call = useCall('medicines', {});
  return (
    <Await call={call} what="Reading the medicines">
      {({ medicines }) =>
        medicines.length === 0 ? (
          <Empty deed={<CommandDeed id="write-label" />}>
            No medicine is on record yet. Write down the label of one first.
          </Empty>
        ) : (
          <Combobox
            name={name}
            label={label}
            hint={hint}
            error={error}
            picked={picked}
            options={medicines.map((one) => ({
              key: one.medicine,
              text: one.name,
              more: one.state === 'draft' ? 'label not confirmed' : `${one.usable} usable`,
            }))}
            onPick={(key) => onPick(medicines.find((one) => one.medicine === key))}
            nothing="No medicine on record is called that."
          />
        )
      }
    </Await>
  );
}
