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
import { LeadDeed } from './lead-deed.tsx';
import { bySupplier, type OrderLine, orderLines } from './lines.ts';
import { outlookLines, withoutSaid } from './outlook-lines.ts';
import { Waiting } from './waiting.tsx';

/** What to order by when, what to talk about with the vet, what is on its way, what to use first and dispose of. */
export default function OrderScreen() {
  const farm = useCall('farm', {});
  const medicines = useCall('medicines', {});
  const cabinet = useCall('cabinet', { show: 'all' });
  const outlook = useCall('order-outlook', {});
  useCommand('receive-here', () => go({ to: 'cabinet/delivery' }));
  return (
    <Await call={farm} what="Reading the farm">
      {({ clock, people }) => (
        <Await call={medicines} what="Reading the medicines">
          {({ medicines: all }) => (
            <Await call={cabinet} what="Reading the cabinet">
              {({ containers }) => (
                <Await call={outlook} what="Looking ahead">
                  {({ medicines: ahead }) => {
                    const said = outlookLines(ahead);
                    const plain = orderLines(all, containers, clock.today);
                    return (
                      <Lines
                        lines={[...said, ...withoutSaid(plain, said, ahead)]}
                        hasMedicines={all.length > 0}
                        phones={phonesOf(people)}
                      />
                    );
                  }}
                </Await>
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
  lost: 'Will not be used up',
  order: 'Order',
  vet: 'Discuss with the vet',
} as const;

const columns: readonly Column<OrderLine>[] = [
  { key: 'kind', head: 'What to do', text: (line) => kinds[line.kind] },
  { key: 'name', head: 'Medicine', text: (line) => line.name },
  { key: 'text', head: 'Why', text: (line) => line.text },
  { key: 'small', head: 'More', text: (line) => line.small },
  { key: 'supplier', head: 'Supplier', text: (line) => line.supplier },
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
  if (!hasMedicines) {
    return (
      <Screen title="Order">
        <Empty deed={<CommandDeed id="write-label" />}>
          No medicine is on record yet, so there is nothing to say about stock.
        </Empty>
      </Screen>
    );
  }
  const order = bySupplier(of('order'));
  return (
    <Screen
      title="Order"
      lead="What to order by when, what to talk about with the vet, what to use first. Nothing is sent to anybody from here."
      deeds={
        <>
          <CommandDeed id="write-order" weight="main" />
          <CommandDeed id="foresee-work" />
          {lines.length === 0 ? null : (
            <>
              <Deed onDo={() => window.print()}>Print this list</Deed>
              <Deed onDo={() => downloadText('order.csv', toCsv(lines, columns), 'text/csv')}>
                Save it all as a file
              </Deed>
            </>
          )}
        </>
      }
    >
      {lines.length > 0 ? null : (
        <Empty deed={<CommandDeed id="receive-batch" />}>Nothing is low, near its date or past it.</Empty>
      )}
      {order.map(([supplier, group]) => (
        <Group
          key={supplier}
          title={supplier === '' ? 'To order' : `To order from ${supplier}`}
          lines={group}
          margin="Order"
          deed="See the medicine"
          hint={
            phones.get(supplier) === undefined
              ? undefined
              : `The last supplier, telephone ${phones.get(supplier)}.`
          }
          deeds={
            <DeedLink to="order/write" query={supplier === '' ? {} : { supplier }}>
              {supplier === '' ? 'Write an order list of these' : `Write the order list to ${supplier}`}
            </DeedLink>
          }
        />
      ))}
      <Waiting />
      <Group title="To discuss with the vet" lines={of('vet')} margin="Ask" deed="See the medicine" />
      <Group title="Will not be used up" lines={of('lost')} margin="Unused" deed="See the outlook" />
      <Group title="Use first" lines={of('use')} margin="Near its date" deed="See them" />
      <Group title="Must go" lines={of('dispose')} margin="Dispose of" deed="Dispose of it" mind />
    </Screen>
  );
}

function Group({
  title,
  lines,
  margin,
  deed,
  mind = false,
  hint,
  deeds,
}: {
  title: string;
  lines: readonly OrderLine[];
  margin: string;
  deed: string;
  mind?: boolean;
  hint?: string | undefined;
  deeds?: React.ReactNode;
}) {
  if (lines.length === 0) return null;
  return (
    <Section title={title} deeds={deeds}>
      {hint === undefined ? null : <p className="hint">{hint}</p>}
      <Sentences label={title}>
        {lines.map((line) => (
          <Sentence
            key={line.key}
            margin={line.margin ?? margin}
            mind={mind || line.isUrgent === true}
            {...(line.small === '' ? {} : { small: line.small })}
            deed={<LineDeed line={line}>{deed}</LineDeed>}
          >
            {line.text}
          </Sentence>
        ))}
      </Sentences>
    </Section>
  );
}

function LineDeed({ line, children }: { line: OrderLine; children: string }) {
  if (line.see === 'outlook') {
    return (
      <>
        <DeedLink to="order/outlook/:medicine" params={{ medicine: line.medicine }}>
          See the outlook
        </DeedLink>
        {line.hasNoDay === true ? <LeadDeed medicine={line.medicine} /> : null}
      </>
    );
  }
  return line.container === undefined ? (
    <DeedLink to="cabinet/medicine/:medicine" params={{ medicine: line.medicine }}>
      {children}
    </DeedLink>
  ) : (
    <DeedLink
      to="cabinet/container/:container"
      params={{ container: line.container }}
      query={line.kind === 'dispose' ? { do: 'dispose' } : {}}
    >
      {line.kind === 'use' ? 'See the container' : children}
    </DeedLink>
  );
}
