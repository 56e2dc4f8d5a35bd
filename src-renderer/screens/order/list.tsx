import { useState } from 'react';
import type { OrderList } from '../../../src-shared/calls/order-list.ts';
import type { Fault } from '../../../src-shared/refusal.ts';
import { desk } from '../../desk.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { downloadText } from '../../parts/download.ts';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { MadePaper } from '../../parts/made-paper.tsx';
import { FaultNotice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { useParams } from '../../router.tsx';

type Line = OrderList['lines'][number];

/** One order list: its lines with what came of each, its paper, its file. */
export default function OrderListScreen() {
  const { order } = useParams('order/list/:order');
  const call = useCall('orders', { show: 'all', order });
  return (
    <Await call={call} what="Reading the order list">
      {({ orders }) => {
        const [one] = orders;
        return one === undefined ? null : <Shown list={one} />;
      }}
    </Await>
  );
}

function Shown({ list }: { list: OrderList }) {
  const { order, number, supplier, madeText, by, lines, cost, unpriced } = list;
  const [closing, setClosing] = useState<string | undefined>(undefined);
  const title = `Order ${number} to ${supplier}`;
  return (
    <Screen title={title} lead={`Written ${madeText} by ${by}. Nothing was sent to anybody from here.`}>
      <Section title="What was ordered">
        <Sentences label="What was ordered">
          {lines.map((line) => (
            <Sentence
              key={line.line}
              margin={words[line.state]}
              mind={line.state === 'short'}
              small={<Small line={line} />}
              deed={
                line.state === 'open' ? (
                  <>
                    <DeedLink to="cabinet/delivery" query={deliveryOf(list, line)}>
                      Take in its delivery
                    </DeedLink>{' '}
                    <Deed label={`Does not come: ${line.product}`} onDo={() => setClosing(line.line)}>
                      Does not come
                    </Deed>
                  </>
                ) : undefined
              }
            >
              {line.ordered} of {line.product}
            </Sentence>
          ))}
        </Sentences>
        {cost === undefined ? null : (
          <p>
            By the prices in the book: {cost}
            {unpriced === 0
              ? '.'
              : `, and ${unpriced === 1 ? '1 line' : `${unpriced} lines`} without a price.`}
          </p>
        )}
      </Section>
      {closing === undefined ? null : (
        <Closing
          key={closing}
          order={order}
          line={lines.find(({ line }) => line === closing)}
          onDone={() => setClosing(undefined)}
        />
      )}
      <Section title="On paper and as a file">
        <MadePaper
          deed="Print the order list"
          title={title}
          saveAs={`order-${number}.pdf`}
          weight="main"
          onMake={() => desk.call('order-paper', { order })}
        />
        <SaveFile order={order} />
      </Section>
    </Screen>
  );
}

const words: Readonly<Record<Line['state'], string>> = {
  open: 'Waited for',
  received: 'Received',
  short: 'Short',
};

function Small({ line }: { line: Line }) {
  const came = line.deliveries.map(({ number, on, text }) => `${text}, batch ${number}, ${on}`);
  const price = line.price === undefined ? [] : [`${line.price} each.`];
  return <>{[...price, line.says, ...(came.length === 0 ? [] : [`Came: ${came.join('; ')}.`])].join(' ')}</>;
}

/** What the form of a delivery begins with. */
function deliveryOf({ order, supplier }: OrderList, { line, medicine, packsOpen, size }: Line) {
  return { medicine, order, line, supplier, packs: `${packsOpen} × ${size}` };
}

function Closing({ order, line, onDone }: { order: string; line: Line | undefined; onDone: () => void }) {
  const form = useForm('order/close', { why: '' });
  const write = useWrite('close-order-line', () => {
    void form.drop();
    onDone();
  });
  if (line === undefined) return null;
  const { why } = form.values;
  return (
    <Section title={`${line.missing} of ${line.product} does not come`}>
      <p>
        It is no longer waited for, and the outlook counts without it. Should it come all the same, take it in
        as usual.
      </p>
      <Form
        form={form}
        write={write}
        deed="Close this line"
        onLeave={onDone}
        onSend={() =>
          void write.send({ order, line: line.line, ...(why.trim() === '' ? {} : { why: why.trim() }) })
        }
      >
        <Field {...form.text('why')} label="Why" optional />
      </Form>
    </Section>
  );
}

function SaveFile({ order }: { order: string }) {
  const [fault, setFault] = useState<Fault | undefined>(undefined);
  const save = async () => {
    const file = await desk.call('order-file', { order });
    if (file.ok) downloadText(file.value.name, file.value.text, 'text/csv');
    setFault(file.ok ? undefined : file.error);
  };
  return (
    <>
      <p className="deeds">
        <Deed onDo={() => void save()}>Save it as a file</Deed>
      </p>
      {fault === undefined ? null : <FaultNotice fault={fault} onAgain={() => void save()} />}
    </>
  );
}
