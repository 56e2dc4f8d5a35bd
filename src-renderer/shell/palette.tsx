import { type KeyboardEvent, useEffect, useId, useRef, useState } from 'react';
import type { Command, CommandId } from '../../src-shared/commands.ts';
import { searchKey } from '../../src-shared/search-key.ts';
import { Keys } from '../parts/keys.tsx';
import { doCommand, possibleCommands } from './commands.ts';

/** The deeds that answer to what was typed: every word must be in the name or its other words; names first. */
export function findCommands(commands: readonly Command[], typed: string): Command[] {
  const words = searchKey(typed)
    .split(' ')
    .filter((word) => word !== '');
  const named = (command: Command) => searchKey(command.name);
  const all = (command: Command) => searchKey(`${command.name} ${command.group} ${command.also ?? ''}`);
  return commands
    .filter((command) => words.every((word) => all(command).includes(word)))
    .toSorted(
      (a, b) =>
        Number(words.every((word) => named(b).includes(word))) -
        Number(words.every((word) => named(a).includes(word))),
    );
}

/** Find or do anything: a box and a list; arrows choose, Enter does, Esc closes. */
export default function Palette({ onClose }: { onClose: () => void }) {
  const [typed, setTyped] = useState('');
  const [at, setAt] = useState(0);
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  // "Find or do anything" itself is no answer in its own list.
  const found = findCommands(
    possibleCommands().filter((command) => command.id !== 'find'),
    typed,
  );
  const chosen = found[Math.min(at, found.length - 1)];

  useEffect(() => {
    const shown = dialog.current;
    const before = document.activeElement;
    shown?.showModal();
    return () => {
      shown?.close();
      // A dialog that React takes out of the page does not give the cursor back by itself.
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  useEffect(() => {
    if (chosen !== undefined)
      document.getElementById(`${id}-${chosen.id}`)?.scrollIntoView({ block: 'nearest' });
  }, [chosen, id]);

  const run = (command: Command | undefined) => {
    if (command === undefined) return;
    onClose();
    // The list is made of deeds with an id of the type.
    doCommand(command.id as CommandId);
  };
  const move = (event: KeyboardEvent) => {
    const steps: Record<string, number> = {
      ArrowDown: at + 1,
      ArrowUp: at - 1,
      PageDown: at + 8,
      PageUp: at - 8,
    };
    const step = steps[event.key];
    if (step !== undefined) {
      event.preventDefault();
      setAt(Math.max(0, Math.min(found.length - 1, step)));
    }
    if (event.key === 'Enter') {
      event.preventDefault();
      run(chosen);
    }
  };

  return (
    <dialog
      ref={dialog}
      className="question palette"
      aria-label="Find or do anything"
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <input
        type="text"
        role="combobox"
        aria-label="What do you want to do?"
        aria-expanded="true"
        aria-controls={`${id}-list`}
        aria-activedescendant={chosen === undefined ? undefined : `${id}-${chosen.id}`}
        placeholder="What do you want to do?"
        autoComplete="off"
        spellCheck={false}
        value={typed}
        onChange={(event) => {
          setTyped(event.target.value);
          setAt(0);
        }}
        onKeyDown={move}
      />
      <div id={`${id}-list`} role="listbox" aria-label="Deeds" className="options" tabIndex={-1}>
        {found.map((command) => (
          // biome-ignore lint/a11y/useKeyWithClickEvents: the box above hears the keys for the whole list
          <div
            key={command.id}
            id={`${id}-${command.id}`}
            role="option"
            tabIndex={-1}
            aria-selected={command === chosen}
            className="choice-row"
            onClick={() => run(command)}
          >
            <span>{command.name}</span>
            <span className="choice-more">
              <small>{command.group}</small>
              {command.shortcut === undefined ? null : <Keys shortcut={command.shortcut} />}
            </span>
          </div>
        ))}
      </div>
      {found.length === 0 ? <p role="status">Nothing is called that. Try one word of it.</p> : null}
    </dialog>
  );
}
