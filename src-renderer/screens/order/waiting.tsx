import { useCall } from '../../hooks/use-call.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';

/** Order lists of which something is still waited for, and the way to those that are done. */
export function Waiting() {
  const call = useCall('orders', { show: 'all' });
  if (call.state !== 'ready' || call.value.orders.length === 0) return null;
  const open = call.value.orders.filter(({ state }) => state === 'open');
  const done = call.value.orders.filter(({ state }) => state === 'done');
  return (
    <Section title="Order lists">
      <Sentences label="Order lists">
        {open.map((order) => {
          const waits = order.lines.filter(({ state }) => state === 'open');
          return (
            <Sentence
              key={order.order}
              margin={order.madeText}
              small={waits.map((line) => `${line.product}, ${line.ordered}: ${line.says}`).join(' ')}
              deed={<See order={order.order} />}
            >
              Order {order.number} to {order.supplier}: {count(waits.length, 'line is', 'lines are')} waited
              for.
            </Sentence>
          );
        })}
      </Sentences>
      {done.length === 0 ? null : (
        <details className="past">
          <summary>{count(done.length, 'list that is done', 'lists that are done')}</summary>
          <Sentences label="Order lists that are done">
            {done.map((order) => (
              <Sentence key={order.order} margin={order.madeText} deed={<See order={order.order} />}>
                Order {order.number} to {order.supplier}
              </Sentence>
            ))}
          </Sentences>
        </details>
      )}
    </Section>
  );
}

function See({ order }: { order: string }) {
  return (
    <DeedLink to="order/list/:order" params={{ order }}>
      See the list
    </DeedLink>
  );
}
