import '../book/book.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { PURPOSE_RULES } from '../../../src-shared/declare/purposes.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Attachments } from '../../parts/attachments.tsx';
import { Await } from '../../parts/await.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Paper } from '../../parts/paper.tsx';
import { Question } from '../../parts/question.tsx';
import { Result } from '../../parts/result.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { useParams } from '../../router.tsx';
import { instantInWords, localInWords } from '../book/when.ts';
import { Moving } from './moving.tsx';
import { Telling } from './telling.tsx';

type Declaration = Reply<'declarations'>['declarations'][number];

/** One declaration: its number, its paper as it was signed, what has touched it since, and how to cancel it. */
export default function DeclarationScreen() {
  const { declaration } = useParams('declare/paper/:declaration');
  const call = useCall('declarations', { declaration });
  const farm = useCall('farm', {});
  return (
    <Await call={farm} what="Reading the farm">
      {({ holdings }) => (
        <Await call={call} what="Reading the declaration">
          {({ declarations: [row] }) =>
            row === undefined ? (
              <Screen title="Declaration">
                <Empty deed={<DeedLink to="declare">See the declarations</DeedLink>}>
                  This declaration is not in the book.
                </Empty>
              </Screen>
            ) : (
              <Shown row={row} zone={holdings[0]?.zone ?? 'UTC'} />
            )
          }
        </Await>
      )}
    </Await>
  );
}

function Shown({ row, zone }: { row: Declaration; zone: string }) {
  const [isCancelling, setCancelling] = useState(false);
  return (
    <Screen
      title={`Declaration ${row.number}`}
      lead={`Signed by ${row.signer} on ${localInWords(row.signed)}.`}
      deeds={
        <>
          <DeedLink to="declare">All declarations</DeedLink>
          {row.state === 'cancelled' || isCancelling ? null : (
            <Deed weight="grave" onDo={() => setCancelling(true)}>
              Cancel this declaration
            </Deed>
          )}
        </>
      }
    >
      {row.cancelled === undefined ? null : (
        <Notice kind="mind" word="Cancelled">
          <p>
            By {row.cancelled.by} on {instantInWords(row.cancelled.recorded, zone)}: {row.cancelled.why}
          </p>
        </Notice>
      )}
      <Telling row={row} />
      <Result label="Check code" big={<span className="declared-code">{row.checkCode}</span>}>
        <p>
          {PURPOSE_RULES[row.purpose].title}: {count(row.heads, 'head', 'head')}, to {row.to},{' '}
          {localInWords(row.departs)}.
        </p>
        {row.notBefore === undefined ? null : (
          <p>
            Not to be slaughtered before <strong>{localInWords(row.notBefore)}</strong>.
          </p>
        )}
      </Result>
      {row.transfer === undefined ? null : <Moving row={row} transfer={row.transfer} />}
      {isCancelling && row.state === 'standing' ? (
        <Cancel row={row} onLeave={() => setCancelling(false)} />
      ) : null}
      <Paper hash={row.paper} title={`Declaration ${row.number}`} saveAs={`declaration-${row.number}.pdf`} />
      <Attachments of={[{ what: 'declaration', id: row.declaration }]} title="Kept with it" />
    </Screen>
  );
}

function Cancel({ row, onLeave }: { row: Declaration; onLeave: () => void }) {
  const [isAsking, setAsking] = useState(false);
  const form = useForm(`declare/cancel/${row.declaration}`, { why: '' });
  const write = useWrite('cancel-declaration', () => {
    void form.drop().then(onLeave);
  });
  const why = form.values.why.trim();
  return (
    <Section title="Cancel it">
      <Form
        form={form}
        write={write}
        deed="Cancel the declaration"
        onLeave={onLeave}
        onSend={() => {
          if (why === '') form.show([{ field: 'why', message: 'Say why it is cancelled.' }]);
          else setAsking(true);
        }}
      >
        <Field {...form.text('why')} label="Why" lines={2} />
      </Form>
      {isAsking ? (
        <Question
          title={`Cancel declaration ${row.number}?`}
          onNo={() => setAsking(false)}
          deeds={
            <>
              <Deed onDo={() => setAsking(false)}>No, leave it</Deed>
              <Deed
                weight="grave"
                onDo={() => {
                  setAsking(false);
                  void write.send({ declaration: row.declaration, why });
                }}
              >
                Yes, cancel it
              </Deed>
            </>
          }
        >
          <p>
            Its number and its paper stay in the book, marked as cancelled. It cannot be made to stand again.{' '}
            {row.to} does not hear of it from Foldbook: tell them.
          </p>
          {row.transfer?.moved === undefined ? null : (
            <p>
              The move of {count(row.transfer.moved.heads, 'head', 'head')} to {row.transfer.to} stays in the
              book. If they never went, take the move back as well.
            </p>
          )}
        </Question>
      ) : null}
    </Section>
  );
}
