import './cabinet.css';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { Combobox } from '../../parts/combobox.tsx';
import { CommandDeed } from '../../parts/deed.tsx';
import { FormScope } from '../../parts/field.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go } from '../../router.tsx';
import { NextField } from '../label/next-field.tsx';
import { type ReadPack, ScanField } from './scan-field.tsx';

type Batch = Reply<'find-batch'>['batches'][number];

/** Goes to where a batch went. One that never came to the cabinet is known by its number and medicine. */
function open({ batch, number, medicine }: Batch): void {
  if (batch !== undefined) go({ to: 'cabinet/batch/:batch', params: { batch } });
  else go({ to: 'cabinet/batch/:batch', params: { batch: number }, query: { medicine } });
}

/** Where a scanned pack leads: to its batch, or to a sentence that says why not. */
function openScanned({ number, product, batches }: ReadPack): string | undefined {
  const [first, ...more] = batches;
  if (number === undefined) return 'This code names the product alone. Type the batch number from the pack.';
  if (first === undefined) {
    return `No batch ${number}${product === undefined ? '' : ` of ${product.name}`} is in the book.`;
  }
  if (more.length > 0 || product === undefined) {
    return `The code of this product is not known here. Batch ${number} is in the book of ${batches
      .map(({ name }) => name)
      .join(' and of ')}: choose it beneath if it is that.`;
  }
  go({ to: 'cabinet/batch/:batch', params: { batch: first.batch } });
  return undefined;
}

/** Finds a batch by its number: where it went, who got it, what is left. */
export default function FindBatchScreen() {
  const call = useCall('find-batch', {});
  return (
    <Screen
      title="Find a batch"
      lead="When a batch is called back: what came in, who got it, where they are now, and what is left."
    >
      <Await call={call} what="Reading the batches">
        {({ batches }) =>
          batches.length === 0 ? (
            <Empty deed={<CommandDeed id="receive-batch" />}>No batch is in the book yet.</Empty>
          ) : (
            <FormScope value="find-batch">
              <ScanField hint="The square code holds the batch." onRead={openScanned} />
              <Combobox
                name="batch"
                label="Batch number"
                hint="As it is printed on the pack, or the name of the medicine. Enter takes it."
                picked={undefined}
                options={batches.map((one) => ({
                  key: `${one.number} ${one.medicine}`,
                  text: `${one.number} · ${one.name}`,
                  more:
                    one.received === undefined
                      ? 'not from our cabinet'
                      : [`came in ${one.received}`, one.supplier].filter((text) => text).join(', '),
                }))}
                onPick={(key) => {
                  const found = batches.find((one) => `${one.number} ${one.medicine}` === key);
                  if (found !== undefined) open(found);
                }}
                nothing="No batch in the book is called that. Compare it with the pack: O and 0, I and 1."
              />
              <NextField name="batch" />
            </FormScope>
          )
        }
      </Await>
    </Screen>
  );
}
