import { useState } from 'react';
import { commandOf } from '../../../src-shared/commands.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Deed } from '../../parts/deed.tsx';
import { WriteQuestions } from '../../parts/form.tsx';
import { Keys } from '../../parts/keys.tsx';
import { FaultNotice } from '../../parts/notice.tsx';
import { Question } from '../../parts/question.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { useCommand } from '../../shell/commands.ts';
import { type LastOne, lastOnes, type Treated, untilOf } from './last-ones.ts';
import { Leaked } from './leaked.tsx';
import type { DoseFor } from './sends.ts';

/** The last three stay in sight, with until when they are held; the newest can be taken back. */
export function LastThree({ rows, pending }: { rows: readonly Treated[]; pending: DoseFor | undefined }) {
  const [asked, setAsked] = useState<LastOne | undefined>(undefined);
  const [leaked, setLeaked] = useState<LastOne | undefined>(undefined);
  const ones = lastOnes(rows);
  const newest = ones[0];
  useCommand('take-back-last', () => {
    // While one is being written it is not yet known which is the last.
    if (newest !== undefined && pending === undefined) setAsked(newest);
  });
  const command = commandOf('take-back-last');
  return (
    <>
      <div className={ones.length === 0 && pending === undefined ? undefined : 'race-last'}>
        <Sentences label="The last three">
          {pending === undefined || pending.who.subject === newest?.subject ? null : (
            <Sentence margin="Writing">
              <strong>{pending.who.shown}</strong>
            </Sentence>
          )}
          {ones.map((one, n) => (
            <Sentence
              key={one.rows[0]?.administration}
              margin={one.time === '' ? 'Written' : `Given ${one.time}`}
              deed={
                pending === undefined ? (
                  <>
                    <Deed onDo={() => setLeaked(one)}>It leaked</Deed>
                    {n === 0 ? (
                      <span className="command-deed">
                        <Deed weight="grave" onDo={() => setAsked(one)}>
                          {command.name}
                        </Deed>
                        <Keys shortcut={command.shortcut ?? ''} />
                      </span>
                    ) : null}
                  </>
                ) : undefined
              }
            >
              <strong>{one.shown}</strong>{' '}
              {one.rows.map((row) => `${row.quantity} ${row.product}`).join(' and ')}
              <span className="race-until">{untilOf(one)}</span>
            </Sentence>
          ))}
        </Sentences>
      </div>
      {leaked === undefined ? null : <Leaked one={leaked} onLeave={() => setLeaked(undefined)} />}
      {asked === undefined ? null : (
        <TakeBack
          one={asked}
          onDone={() => {
            setAsked(undefined);
          }}
          onNo={() => setAsked(undefined)}
        />
      )}
    </>
  );
}

/** Strikes the record of one animal out, with a reason; says what follows first. */
function TakeBack({ one, onDone, onNo }: { one: LastOne; onDone: () => void; onNo: () => void }) {
  const [reason, setReason] = useState('');
  const [isMissing, setMissing] = useState(false);
  const [n, setN] = useState(0);
  const write = useWrite('void', () => {
    const next = one.rows[n + 1];
    setN(n + 1);
    if (next === undefined) onDone();
    else void write.send({ entry: next.entry, reason: reason.trim() });
  });
  const row = one.rows[n];
  const send = () => {
    if (row === undefined) return;
    if (reason.trim() === '') return setMissing(true);
    void write.send({ entry: row.entry, reason: reason.trim() });
  };
  return (
    <Question
      title={`Take back ${one.shown}?`}
      onNo={onNo}
      deeds={
        <>
          <Deed onDo={onNo}>Leave it as it is</Deed>
          <Deed weight="grave" isBusy={write.isBusy} onDo={send}>
            Strike it out
          </Deed>
        </>
      }
    >
      <p>
        {one.rows.map((each) => `${each.quantity} ${each.product}`).join(' and ')} is struck out. It stays
        readable in the journal, the stock goes back, its hold ends, and {one.shown} waits again.
      </p>
      <div className={isMissing ? 'field field-wrong' : 'field'}>
        <label className="field-label" htmlFor="take-back-reason">
          Why
        </label>
        <input
          id="take-back-reason"
          type="text"
          size={32}
          autoComplete="off"
          list="take-back-reasons"
          value={reason}
          aria-invalid={isMissing ? true : undefined}
          onChange={(event) => {
            setReason(event.target.value);
            setMissing(false);
          }}
          onKeyDown={(event) => {
            if (event.key !== 'Enter' || event.repeat) return;
            event.preventDefault();
            send();
          }}
        />
        <datalist id="take-back-reasons">
          <option value="Wrong animal" />
          <option value="Not given" />
          <option value="Wrong amount" />
        </datalist>
        {isMissing ? (
          <p className="field-error" role="alert">
            <strong>Not yet:</strong> Write why, in a word or two.
          </p>
        ) : null}
      </div>
      {write.now.state === 'failed' ? <FaultNotice fault={write.now.fault} /> : null}
      <WriteQuestions write={write} />
    </Question>
  );
}
