import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, Deed, DeedLink } from '../../parts/deed.tsx';
import { downloadText } from '../../parts/download.ts';
import { type Column, toCsv } from '../../parts/list-rows.ts';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { go } from '../../router.tsx';
import { useCommand } from '../../shell/commands.ts';
import { bySupplier, type OrderLine, orderLines } from './lines.ts';

/** What to dispose of, what to use first, what to order, and what to talk about with the vet. */
export default function OrderScreen() {
  const farm = useCall('farm', {});
  const medicines = useCall('medicines', {});
  const cabinet = useCall('cabinet', { show: 'all' });
  useCommand('receive-here', () => go({ to: 'cabinet/delivery' }));
  return (
    <Await call={farm} what="Reading the farm">
      {({ clock, people }) => (
        <Await call={medicines} what="Reading the medicines">
          {({ medicines: all }) => (
            <Await call={cabinet} what="Reading the cabinet">
              {({ containers }) => (
                <Lines
                  lines={orderLines(all, containers, clock.today)}
                  hasMedicines={all.length > 0}
                  phones={phonesOf(people)}
                />
              )}
            </Await>
          )}
        </Await>
      )}
    </Await>
  );
}

const kinds = {
  dispose: 'Dispose of',
  use: 'Use first',
  order: 'Order',
  vet: 'Discuss with the vet',
} as const;

const columns: readonly Column<OrderLine>[] = [
  { key: 'kind', head: 'What to do', text: (line) => kinds[line.kind] },
  { key: 'name', head: 'Medicine', text: (line) => line.name },
  { key: 'text', head: 'Why', text: (line) => line.text },
  { key: 'small', head: 'More', text: (line) => line.small },
  { key: 'supplier', head: 'Supplier before', text: (line) => line.supplier },
];

/** Telephone numbers by name, for those who have one. */
function phonesOf(people: Reply<'farm'>['people']): ReadonlyMap<string, string> {
  return new Map(
    people.flatMap(({ name, phone }) =>
      phone === undefined || phone === '' ? [] : [[name, phone] as const],
    ),
  );
}

function Lines({
  lines,
  hasMedicines,
  phones,
}: {
  lines: readonly OrderLine[];
  hasMedicines: boolean;
  phones: ReadonlyMap<string, string>;
}) {
  const of = (kind: OrderLine['kind']) => lines.filter((line) => line.kind === kind);
  if (lines.length === 0) {
    return (
      <Screen title="Order">
        <Empty deed={<CommandDeed id={hasMedicines ? 'receive-batch' : 'write-label'} />}>
          {hasMedicines
            ? 'Nothing is low, near its date or past it.'
            : 'No medicine is on record yet, so there is nothing to say about stock.'}
        </Empty>
      </Screen>
    );
  }
  const dispose = of('dispose');
  const use = of('use');
  const order = bySupplier(of('order'));
  const vet = of('vet');
  return (
    <Screen
      title="Order"
      lead="What to dispose of, use first and order, from the cabinet and the book. Nothing is sent to anybody from here."
      deeds={
        <>
          <Deed weight="main" onDo={() => window.print()}>
            Print this list
          </Deed>
          <Deed onDo={() => downloadText('order.csv', toCsv(lines, columns), 'text/csv')}>
            Save it all as a file
          </Deed>
        </>
      }
    >
      {dispose.length === 0 ? null : (
        <Section title="Must go">
          <Sentences label="Must go">
            {dispose.map((line) => (
              <Line key={line.key} line={line} margin="Dispose of" deed="Dispose of it" mind />
            ))}
          </Sentences>
        </Section>
      )}
      {use.length === 0 ? null : (
        <Section title="Use first">
          <Sentences label="Use first">
            {use.map((line) => (
              <Line
                key={line.key}
                line={line}
                margin="Near its date"
                deed={line.container === undefined ? 'See them' : 'See the container'}
              />
            ))}
          </Sentences>
        </Section>
      )}
      {order.map(([supplier, group]) => (
        <Section key={supplier} title={supplier === '' ? 'To order' : `To order from ${supplier}`}>
          {phones.get(supplier) === undefined ? null : (
            <p className="hint">
              The last supplier
              {phones.get(supplier) === undefined ? '' : `, telephone ${phones.get(supplier)}`}.
            </p>
          )}
          <Sentences label={supplier === '' ? 'To order' : `To order from ${supplier}`}>
            {group.map((line) => (
              <Line key={line.key} line={line} margin="Order" deed="See the medicine" />
            ))}
          </Sentences>
        </Section>
      ))}
      {vet.length === 0 ? null : (
        <Section title="To discuss with the vet">
          <Sentences label="To discuss with the vet">
            {vet.map((line) => (
              <Line key={line.key} line={line} margin="Ask" deed="See the medicine" />
            ))}
          </Sentences>
        </Section>
      )}
    </Screen>
  );
}

function Line({
  line,
  margin,
  deed,
  mind = false,
}: {
  line: OrderLine;
  margin: string;
  deed: string;
  mind?: boolean;
}) {
  return (
    <Sentence
      margin={margin}
      mind={mind}
      small={line.small}
      deed={
        line.container === undefined ? (
          <DeedLink to="cabinet/medicine/:medicine" params={{ medicine: line.medicine }}>
            {deed}
          </DeedLink>
        ) : (
          <DeedLink
            to="cabinet/container/:container"
            params={{ container: line.container }}
            query={line.kind === 'dispose' ? { do: 'dispose' } : {}}
          >
            {deed}
          </DeedLink>
        )
      }
    >
      {line.text}
    </Sentence>
  );
}
