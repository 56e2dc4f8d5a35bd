import { ScanField } from '../cabinet/scan-field.tsx';
import { packOnShelf } from '../cabinet/scanned.ts';

/** Chooses the bottle in the hand by the code of its pack. What the code does not say for certain is asked. */
export function ScanBottle({
  name,
  medicine,
  onPick,
}: {
  /** Of the box, where several stand in one form. */
  name: string;
  medicine: string;
  onPick: (container: string) => void;
}) {
  return (
    <ScanField
      name={name}
      label="Scan the bottle"
      hint="Its square code, or choose it beneath."
      onRead={(pack) => {
        const found = packOnShelf(pack, medicine);
        if ('wrong' in found) return found.wrong;
        onPick(found.container);
        return undefined;
      }}
    />
  );
}
