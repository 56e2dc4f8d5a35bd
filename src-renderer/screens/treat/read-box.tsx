import type { KeyboardEvent } from 'react';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { FaultNotice } from '../../parts/notice.tsx';
import { doCommand } from '../../shell/commands.ts';
import type { Run } from './use-run.ts';

const takeCursor = (button: HTMLButtonElement | null) => button?.focus();

/** Who comes next: typed, or sent by a reader. One answer is taken at once; of several one is chosen. */
export function ReadBox({ run }: { run: Run }) {
  const { form, looking } = run;
  const props = form.text('read');
  const press = (event: KeyboardEvent) => {
    const isEmpty = props.value === '';
    // No number begins with these: in an empty box they are still the keys they are everywhere.
    if (isEmpty && event.key === '!' && doCommand('emergency-sheet')) event.preventDefault();
    if (isEmpty && event.key === '?' && doCommand('keys')) event.preventDefault();
    if (event.key === 'Escape' && !isEmpty) {
      event.preventDefault();
      run.back();
    }
  };
  return (
    <>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: it only hears two keys of the box within it */}
      <div className="race-read" onKeyDown={press}>
        <Field {...props} label="Tag, chip or lot" size={24} />
        <div role="status" className="race-looking">
          {looking.state === 'looking' ? 'Looking…' : null}
          {looking.state === 'none' ? (
            <p>
              Nothing on record is called “{looking.read}”. Read it again, or type the last digits of the tag.
              An animal that is not in the book yet is added first: <DeedLink to="flock/add">Add it</DeedLink>
            </p>
          ) : null}
          {looking.state === 'many' ? <p>More than one answers to that. Which?</p> : null}
        </div>
        {looking.state === 'failed' ? <FaultNotice fault={looking.fault} /> : null}
      </div>
      {looking.state === 'many' ? (
        <ul className="options">
          {looking.found.map((one, n) => (
            <li key={one.subject}>
              <button
                type="button"
                className="choice-row"
                // The cursor goes to the first: Enter takes it, Tab goes on.
                ref={n === 0 ? takeCursor : undefined}
                onClick={() => run.pick(one.subject)}
              >
                <span>{one.shown}</span>
                <span className="choice-more">
                  {one.heads > 1 ? `${one.heads} head, ` : ''}
                  {one.class.replace('-', ' ')}
                  {one.present ? '' : ', no longer here'}
                </span>
              </button>
            </li>
          ))}
        </ul>
      ) : null}
      <p className="deeds race-deeds">
        <Deed submits weight="main">
          Look it up
        </Deed>
      </p>
    </>
  );
}
