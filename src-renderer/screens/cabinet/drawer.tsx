import { useState } from 'react';
import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Deed } from '../../parts/deed.tsx';
import { Choice, Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { useCommand } from '../../shell/commands.ts';
import { NextField } from '../label/next-field.tsx';
import { DrawerAdd } from './drawer-add.tsx';
import { whatWords } from './drawer-words.ts';

type Row = Reply<'consumables'>['consumables'][number];
type Cause = Ask<'move-consumable'>['cause'];

const causes: readonly { value: Cause; label: string; hint?: string }[] = [
  { value: 'counted', label: 'There are', hint: 'what is there now, counted' },
  { value: 'received', label: 'Came in' },
  { value: 'used', label: 'Used' },
  { value: 'lost', label: 'Lost or broken' },
  { value: 'disposed', label: 'Thrown away' },
];

const columns: readonly Column<Row>[] = [
  { key: 'what', head: 'What', text: (row) => whatWords[row.what], share: 1.2 },
  {
    key: 'name',
    head: 'Size or name',
    isName: true,
    text: (row) => row.name,
    show: (row) => (
      <>
        <strong>{row.name}</strong>
        {row.hub === undefined ? '' : `, ${row.hub} hub where it has a colour`}
      </>
    ),
    share: 2,
  },
  {
    key: 'left',
    head: 'There are',
    text: (row) => (row.isShort ? `${row.leftText}, fewer than ${row.least}` : row.leftText),
    order: (row) => row.left ?? -1,
    show: (row) =>
      row.isShort ? (
        <strong>
          {row.leftText}, fewer than {row.least}
        </strong>
      ) : (
        row.leftText
      ),
  },
  { key: 'counted', head: 'Counted', text: (row) => row.counted ?? 'never' },
];

/** Needles, syringes and what goes with them, each with its count. "=" counts one after the other. */
export default function DrawerScreen() {
  const call = useCall('consumables', {});
  const [open, setOpen] = useState<{ at: string; cause: Cause; isRound: boolean } | undefined>(undefined);
  const [isAdding, setAdding] = useState(false);
  const [said, setSaid] = useState<string | undefined>(undefined);
  const rows = call.state === 'ready' ? call.value.consumables.filter(({ active }) => active) : [];
  const count = () => {
    const [first] = rows;
    if (first !== undefined) setOpen({ at: first.consumable, cause: 'counted', isRound: true });
  };
  useCommand('count-here', count);
  const done = (row: Row, text: string) => {
    setSaid(text);
    const next = rows[rows.findIndex(({ consumable }) => consumable === row.consumable) + 1];
    setOpen(open?.isRound && next ? { ...open, at: next.consumable } : undefined);
  };
  return (
    <Screen
      title="Needles, syringes and spares"
      lead="Counted by their size. The plan of a session says from here which needle there is, and what is short."
      deeds={
        <>
          <Deed weight="main" shortcut="=" onDo={count}>
            Count them, one after the other
          </Deed>
          <Deed onDo={() => setAdding(true)}>Add another size</Deed>
        </>
      }
    >
      {said === undefined ? null : (
        <Notice kind="done">
          <p>{said}</p>
        </Notice>
      )}
      {isAdding ? (
        <Section title="Another size">
          <DrawerAdd onDone={() => setAdding(false)} />
        </Section>
      ) : null}
      <Await call={call} what="Reading the drawer">
        {({ consumables }) => {
          const row = consumables.find(({ consumable }) => consumable === open?.at);
          return (
            <>
              {row === undefined || open === undefined ? null : (
                <Section title={`${whatWords[row.what]}, ${row.name}`}>
                  <Move
                    key={row.consumable}
                    row={row}
                    cause={open.cause}
                    onDone={(text) => done(row, text)}
                    onLeave={() => setOpen(undefined)}
                  />
                </Section>
              )}
              <List
                label="Needles, syringes and spares"
                rows={consumables.filter(({ active }) => active)}
                columns={columns}
                rowKey={({ consumable }) => consumable}
                fileName="needles and syringes"
                onOpen={({ consumable }) => setOpen({ at: consumable, cause: 'received', isRound: false })}
                empty={
                  <Empty
                    deed={
                      <Deed weight="main" onDo={() => setAdding(true)}>
                        Add the first size
                      </Deed>
                    }
                  >
                    Nothing is written down yet. Begin with the needles: gauge and length stand on the packet.
                  </Empty>
                }
              />
            </>
          );
        }}
      </Await>
    </Screen>
  );
}

/** Pieces of one thing that came, went, or were counted. */
function Move({
  row,
  cause,
  onDone,
  onLeave,
}: {
  row: Row;
  cause: Cause;
  onDone: (said: string) => void;
  onLeave: () => void;
}) {
  const form = useForm(`cabinet/drawer/${row.consumable}/${cause}`, {
    cause: cause as string,
    pieces: '',
    why: '',
  });
  const write = useWrite('move-consumable', ({ leftText }) => {
    void form.drop().then(() => onDone(`${row.name}: ${leftText}.`));
  });
  const { values } = form;
  const chosen = causes.find(({ value }) => value === values.cause)?.value ?? 'counted';
  const send = () => {
    if (!/^\d{1,6}$/.test(values.pieces.trim())) {
      return form.show([{ field: 'pieces', message: 'Write how many, as a whole number.' }]);
    }
    void write.send({
      consumable: row.consumable,
      cause: chosen,
      pieces: Number(values.pieces),
      ...(values.why.trim() === '' ? {} : { why: values.why }),
    });
  };
  return (
    <Form form={form} write={write} deed="Write it in the book" onSend={send} onLeave={onLeave}>
      {cause === 'counted' ? null : <Choice {...form.text('cause')} label="What happened" options={causes} />}
      <Field
        {...form.text('pieces')}
        label={chosen === 'counted' ? 'There are now' : 'How many'}
        hint={`By the book there are: ${row.leftText}.`}
        size={6}
        inputMode="numeric"
      />
      {chosen === 'lost' || chosen === 'disposed' ? (
        <Field {...form.text('why')} label="Why" size={32} optional />
      ) : null}
      <NextField name="pieces" />
    </Form>
  );
}
