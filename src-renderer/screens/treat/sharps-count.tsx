import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';

/** More needles handed out, and all of them counted: whoever is treated after a full count is beyond suspicion. */
export function SharpsCount({ id, sharps }: { id: string; sharps: Reply<'session-kit'>['sharps'] }) {
  const form = useForm(`treat/sharps/${id}`, { more: '', there: '' });
  const [found, setFound] = useState<Reply<'count-sharps'> | undefined>(undefined);
  const write = useWrite('count-sharps', (reply) => {
    setFound(reply);
    void form.drop();
  });
  const { more, there } = form.values;
  const out = sharps?.out;
  const should = (out ?? 0) - (sharps?.missing ?? 0) + (/^\d{1,6}$/.test(more.trim()) ? Number(more) : 0);
  const send = () => {
    const whole = (text: string) => text.trim() === '' || /^\d{1,6}$/.test(text.trim());
    const problems = (['more', 'there'] as const)
      .filter((field) => !whole(form.values[field]))
      .map((field) => ({ field, message: 'Write how many, as a whole number.' }));
    if (more.trim() === '' && there.trim() === '') {
      problems.push({
        field: 'there',
        message: 'Write how many there are, or how many more were handed out.',
      });
    }
    if (problems.length > 0) return form.show(problems);
    write.next();
    void write.send({
      session: id,
      ...(more.trim() === '' ? {} : { more: Number(more) }),
      ...(there.trim() === '' ? {} : { there: Number(there) }),
    });
  };
  return (
    <>
      {found === undefined ? null : (
        <Notice
          kind={found.missing > 0 ? 'stop' : 'done'}
          word={found.missing > 0 ? 'Missing' : 'Counted'}
          deed={
            found.loss === undefined ? undefined : (
              <DeedLink to="treat/needle/:loss" params={{ loss: found.loss }}>
                Say what is known
              </DeedLink>
            )
          }
        >
          <p>{found.says}</p>
        </Notice>
      )}
      <p>
        {out === undefined
          ? 'Nobody has counted any needle out yet.'
          : `${out} were handed out. Last all there: ${sharps?.since ?? ''}.`}
      </p>
      <Form form={form} write={write} deed="Write it in the book" onSend={send}>
        <Field {...form.text('more')} label="Handed out besides" size={6} inputMode="numeric" optional />
        <Field
          {...form.text('there')}
          label="Counted now, used and unused together"
          hint={`There should be ${should}. Count often: when one is missing, whoever was treated since the last count is held.`}
          size={6}
          inputMode="numeric"
          optional
        />
      </Form>
    </>
  );
}
