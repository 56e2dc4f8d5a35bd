import { type KeyboardEvent, useState } from 'react';
import { useCall } from '../../hooks/use-call.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Deed } from '../../parts/deed.tsx';
import { Field, Select } from '../../parts/field.tsx';
import { WriteQuestions } from '../../parts/form.tsx';
import { FaultNotice } from '../../parts/notice.tsx';
import { Question } from '../../parts/question.tsx';
import type { LastOne } from './last-ones.ts';
import { LEAKED_HINT, LEAKED_MORE, leakedOf } from './leaked-values.ts';

/**
 * Some of a dose that is written already ran out again: how much, and how short the animal is by it. Whether to give
 * more is not for this program to say.
 */
export function Leaked({ one, onLeave }: { one: LastOne; onLeave: () => void }) {
  const [of, setOf] = useState(one.rows[0]?.administration ?? '');
  const [typed, setTyped] = useState('');
  const [isMissing, setMissing] = useState(false);
  const leaked = leakedOf(typed);
  const preview = useCall('preview-correction', leaked === undefined ? null : { administration: of, leaked });
  const write = useWrite('correct-treatment', onLeave);
  const said =
    leaked !== undefined && preview.state === 'ready'
      ? preview.value.deviations.find(({ code }) => code === 'leaked-back')?.text
      : undefined;
  const wrong = leaked !== undefined && preview.state === 'failed' ? preview.fault : undefined;
  const send = () => {
    if (leaked === undefined) return setMissing(true);
    void write.send({ administration: of, leaked, reason: 'Some of it leaked back' });
  };
  const enter = (event: KeyboardEvent) => {
    if (event.key !== 'Enter' || event.repeat || !(event.target instanceof HTMLInputElement)) return;
    event.preventDefault();
    send();
  };
  return (
    <Question
      title={`It leaked from ${one.shown}`}
      onNo={onLeave}
      deeds={
        <>
          <Deed onDo={onLeave}>Leave it as it is</Deed>
          <Deed weight="main" isBusy={write.isBusy} onDo={send}>
            Write that it leaked
          </Deed>
        </>
      }
    >
      {/* biome-ignore lint/a11y/noStaticElementInteractions: Enter in its field writes, as in every form */}
      <div onKeyDown={enter}>
        {one.rows.length < 2 ? (
          <p>
            {one.rows[0]?.quantity} {one.rows[0]?.product} was drawn up.
          </p>
        ) : (
          <Select
            name="leaked-of"
            value={of}
            onChange={setOf}
            label="Which of them"
            options={one.rows.map((row) => ({
              value: row.administration,
              label: `${row.quantity} ${row.product}`,
            }))}
          />
        )}
        <Field
          name="leaked"
          value={typed}
          onChange={(value) => {
            setTyped(value);
            setMissing(false);
          }}
          error={isMissing ? 'Write how much ran out: drops, or an amount with its unit.' : wrong?.message}
          label="What ran out"
          hint={LEAKED_HINT}
          size={10}
          {...(said === undefined ? {} : { readBack: `${said}.` })}
        />
        <p>{LEAKED_MORE}</p>
      </div>
      {write.now.state === 'failed' ? <FaultNotice fault={write.now.fault} /> : null}
      <WriteQuestions write={write} />
    </Question>
  );
}
