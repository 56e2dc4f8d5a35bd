import type { ReactNode } from 'react';
import { type CommandId, commandOf } from '../../src-shared/commands.ts';
import { Link, type Target, targetOf } from '../router.tsx';
import { Keys, keyHints } from './keys.tsx';

/** How a deed stands out: `main` at most once on a screen, `grave` for what cannot be taken back. */
export type Weight = 'plain' | 'main' | 'grave';

/** A deed done here. */
export function Deed({
  children,
  onDo,
  weight = 'plain',
  isBusy = false,
  submits = false,
  shortcut,
  label,
}: {
  children: ReactNode;
  onDo?: () => void;
  weight?: Weight;
  isBusy?: boolean;
  /** Sends the form it stands in. */
  submits?: boolean;
  /** The keys that do it too; its tooltip says them. */
  shortcut?: string | undefined;
  /** What a screen reader says where the words alone do not say of whom: begin with the words. */
  label?: string;
}) {
  return (
    <button
      type={submits ? 'submit' : 'button'}
      className={`deed deed-${weight}`}
      // Not `disabled`: that would take the cursor away in the middle of typing.
      aria-disabled={isBusy ? true : undefined}
      aria-label={label}
      {...keyHints(shortcut)}
      onClick={isBusy ? (event) => event.preventDefault() : onDo}
    >
      {children}
    </button>
  );
}

/** A deed done on another screen. */
export function DeedLink({
  weight = 'plain',
  shortcut,
  ...target
}: Target & { children: ReactNode; weight?: Weight; shortcut?: string | undefined }) {
  return <Link {...target} className={`deed deed-${weight}`} hints={keyHints(shortcut)} />;
}

/**
 * A deed of the one list of deeds that has a screen: its name and its keys come from there. The keys are printed
 * beside the main deed of a screen and beside a grave one; for the others they are the tooltip.
 */
export function CommandDeed({ id, weight = 'plain' }: { id: CommandId; weight?: Weight }) {
  const command = commandOf(id);
  const target = targetOf(command);
  if (target === undefined) throw new Error(`${id} is done on no screen`);
  return (
    <span className="command-deed">
      <DeedLink {...target} weight={weight} shortcut={command.shortcut}>
        {command.name}
      </DeedLink>
      {command.shortcut === undefined || weight === 'plain' ? null : <Keys shortcut={command.shortcut} />}
    </span>
  );
}
