import type { ReactNode } from 'react';
import { type CommandId, commandOf } from '../../src-shared/commands.ts';
import { Link, type Target, targetOf } from '../router.tsx';
import { Keys } from './keys.tsx';

/** How a deed stands out: `main` at most once on a screen, `grave` for what cannot be taken back. */
export type Weight = 'plain' | 'main' | 'grave';

/** A deed done here. */
export function Deed({
  children,
  onDo,
  weight = 'plain',
  isBusy = false,
  submits = false,
}: {
  children: ReactNode;
  onDo?: () => void;
  weight?: Weight;
  isBusy?: boolean;
  /** Sends the form it stands in. */
  submits?: boolean;
}) {
  return (
    <button
      type={submits ? 'submit' : 'button'}
      className={`deed deed-${weight}`}
      // Not `disabled`: that would take the cursor away in the middle of typing.
      aria-disabled={isBusy ? true : undefined}
      onClick={isBusy ? (event) => event.preventDefault() : onDo}
    >
      {children}
    </button>
  );
}

/** A deed done on another screen. */
export function DeedLink({ weight = 'plain', ...target }: Target & { children: ReactNode; weight?: Weight }) {
  return <Link {...target} className={`deed deed-${weight}`} />;
}

/** A deed of the one list of deeds that has a screen: its name and its keys come from there. */
export function CommandDeed({ id, weight = 'plain' }: { id: CommandId; weight?: Weight }) {
  const command = commandOf(id);
  const target = targetOf(command);
  if (target === undefined) throw new Error(`${id} is done on no screen`);
  return (
    <span className="command-deed">
      <DeedLink {...target} weight={weight}>
        {command.name}
      </DeedLink>
      {command.shortcut === undefined ? null : <Keys shortcut={command.shortcut} />}
    </span>
  );
}
