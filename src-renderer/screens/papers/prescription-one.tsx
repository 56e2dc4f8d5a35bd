import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Attachments } from '../../parts/attachments.tsx';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Result } from '../../parts/result.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { dayInWords } from '../../parts/words.ts';
import { go, useParams } from '../../router.tsx';
import { type Prescription, sayDrawn, sayLastDay } from './words.ts';

type Receipt = Prescription['receipts'][number];

const columns: readonly Column<Receipt>[] = [
  { key: 'on', head: 'Came in', text: (one) => dayInWords(one.on), order: (one) => one.on, share: 1.6 },
  { key: 'number', head: 'Batch', text: (one) => one.number },
  { key: 'amount', head: 'How much', text: (one) => one.amount, isNumber: true },
  { key: 'mind', head: 'Mind', text: (one) => one.mind ?? '', share: 1.6 },
];

/** One prescription: what is left on it, what stands on the paper, what came in on it, and its copy. */
export default function PrescriptionOneScreen() {
  const { prescription } = useParams('cabinet/prescription/:prescription');
  const call = useCall('prescriptions', { prescription });
  return (
    <Await call={call} what="Reading the prescription">
      {({ prescriptions: [one], today }) =>
        one === undefined ? (
          <Screen title="A prescription">
            <Empty deed={<DeedLink to="cabinet/prescriptions">See the prescriptions</DeedLink>}>
              This prescription is not in the book, or was struck out.
            </Empty>
          </Screen>
        ) : (
          <Page one={one} today={today} />
        )
      }
    </Await>
  );
}

function bigOf({ state, left }: Prescription): string {
  if (state === 'used-up') return 'Used up';
  if (state === 'expired') return 'Ended';
  return left ?? 'No quantity named';
}

function Page({ one, today }: { one: Reply<'prescriptions'>['prescriptions'][number]; today: string }) {
  const { prescription, medicine, entry } = one;
  return (
    <Screen
      title={`Prescription ${one.number}`}
      deeds={
        <>
          <DeedLink to="cabinet/delivery" query={{ medicine, prescription }} weight="main">
            Take in a delivery on it
          </DeedLink>
          <DeedLink to="cabinet/prescription/:prescription/correct" params={{ prescription }}>
            Correct what was typed
          </DeedLink>
          <DeedLink
            to="book/strike"
            query={{
              request: entry.request,
              n: String(entry.n),
              kind: 'prescription-received',
              what: `Prescription ${one.number} for ${one.medicineName}`,
            }}
          >
            Strike it out
          </DeedLink>
        </>
      }
    >
      <Result label={one.state === 'open' ? 'May still be got on it' : 'It stands as'} big={bigOf(one)}>
        <p>
          {sayDrawn(one)} {sayLastDay(one.validUntil, today)}
        </p>
      </Result>
      {one.state === 'open' ? null : (
        <Notice>
          <p>What came in on it all the same may still be named with it; you are asked first.</p>
        </Notice>
      )}
      <Section title="On the paper">
        <Sentences label="On the paper">
          {said(one).map(([head, text]) => (
            <Sentence key={head} margin={head}>
              {text}
            </Sentence>
          ))}
        </Sentences>
        {one.corrected ? (
          <p className="hint">It was corrected. What was written first stands in the journal.</p>
        ) : null}
      </Section>
      <Section title="What came in on it">
        <List
          rows={one.receipts}
          columns={columns}
          rowKey={(each) => each.batch}
          label="What came in on it"
          onOpen={({ batch }) => go({ to: 'cabinet/batch/:batch', params: { batch } })}
          fileName={`prescription ${one.number}`}
          empty={<p className="hint">Nothing yet. Name it when its medicine is taken in.</p>}
        />
      </Section>
      <Attachments of={[{ what: 'prescription', id: prescription }]} title="Copy of it" />
    </Screen>
  );
}

/** What stands on the paper, head by head, without what does not. */
function said(one: Prescription): (readonly [string, string])[] {
  const all: readonly (readonly [string, string | undefined])[] = [
    ['Medicine', one.medicineName],
    ['Quantity', one.quantity?.text],
    ['Vet', one.vetName],
    ['Written', dayInWords(one.written)],
    ['Valid until', one.validUntil === undefined ? undefined : dayInWords(one.validUntil)],
    ['Animals', one.animals],
    ['Dose', one.dose],
    ['Period', one.period],
    ['Diagnosis', one.diagnosis],
  ];
  return all.flatMap(([head, text]) => (text === undefined ? [] : [[head, text] as const]));
}
