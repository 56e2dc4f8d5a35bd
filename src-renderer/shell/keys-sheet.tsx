import { COMMAND_GROUPS, COMMANDS, type Command } from '../../src-shared/commands.ts';
import { keepHere, useKeptHere } from '../hooks/kept-here.ts';
import { Deed } from '../parts/deed.tsx';
import { Keys } from '../parts/keys.tsx';
import { Question } from '../parts/question.tsx';

const withKeys: readonly Command[] = COMMANDS.filter((command) => 'shortcut' in command);

/** Every key there is, from the one list of deeds; and the switch for keys that are pressed alone. */
export default function KeysSheet({ onClose }: { onClose: () => void }) {
  const isOff = useKeptHere('plain-keys') === 'off';
  return (
    <Question
      isSheet
      title="Keys"
      onNo={onClose}
      deeds={
        <>
          <Deed onDo={onClose}>Close</Deed> <Keys shortcut="Esc" />
        </>
      }
    >
      <p>Keys pressed alone are heard outside fields only. In a form Enter writes it and Esc leaves it.</p>
      <label className="option">
        <input
          type="checkbox"
          checked={!isOff}
          onChange={(event) => keepHere('plain-keys', event.target.checked ? 'on' : 'off')}
        />
        <span>
          Hear keys that are pressed alone
          <small>Turn this off when a reader or voice control types into the window by itself.</small>
        </span>
      </label>
      <div className="keys-sheet">
        {COMMAND_GROUPS.map((group) => {
          const commands = withKeys.filter((command) => command.group === group);
          if (commands.length === 0) return null;
          return (
            <section key={group}>
              <h3>{group}</h3>
              <dl>
                {commands.map((command) => (
                  <div key={command.id}>
                    <dt>{command.name}</dt>
                    <dd>{command.shortcut === undefined ? null : <Keys shortcut={command.shortcut} />}</dd>
                  </div>
                ))}
              </dl>
            </section>
          );
        })}
      </div>
    </Question>
  );
}
