import { go } from '../router.tsx';
import { useCommand } from '../shell/commands.ts';
import { CommandDeed, DeedLink } from './deed.tsx';
import { Keys } from './keys.tsx';

/** The same at the race: what is in work there comes first, and in work without needles nothing is said of one. */
export function EmergencyHere({ session, isInjected }: { session: string; isInjected: boolean }) {
  useCommand('emergency-sheet', () => go({ to: 'treat/emergency', query: { session } }));
  return (
    <span className="emergency">
      <span className="command-deed">
        <DeedLink to="treat/emergency" query={{ session }} weight="grave" shortcut="!">
          {isInjected ? 'A person was injected: what to do' : 'A person came into contact: what to do'}
        </DeedLink>
        <Keys shortcut="!" />
      </span>
    </span>
  );
}

/** The way to the sheet for a person who was injected. The last of the deeds of a screen, at its far end. */
export function Emergency() {
  return (
    <span className="emergency">
      <CommandDeed id="emergency-sheet" weight="grave" />
    </span>
  );
}
