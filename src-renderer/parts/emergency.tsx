import { CommandDeed } from './deed.tsx';

/** The way to the sheet for a person who was injected. The last of the deeds of a screen, at its far end. */
export function Emergency() {
  return (
    <span className="emergency">
      <CommandDeed id="emergency-sheet" weight="grave" />
    </span>
  );
}
