import type { Reply } from '../../../src-shared/calls/all.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { isOfTheVet } from '../../../src-shared/stock/of-the-vet.ts';
import { lastUsableDay } from '../../../src-shared/stock/use-by.ts';
import { addDays, type Day, lastDayOfMonth, printDay } from '../../../src-shared/time/day.ts';
import { count, listed } from '../../parts/words.ts';

type Medicine = Reply<'medicines'>['medicines'][number];
type Container = Reply<'cabinet'>['containers'][number];

/** What a line is about; `use`, `lost` and `dispose` are seen to here, the others are bought or talked about. */
export type OrderLine = {
  readonly key: string;
  readonly kind: 'dispose' | 'use' | 'lost' | 'order' | 'vet';
  readonly medicine: string;
  readonly name: string;
  /** The whole sentence. */
  readonly text: string;
  /** Where that comes from: batches, since when, who may supply it. */
  readonly small: string;
  readonly supplier: string;
  /** The container to look at, when it is about one alone. */
  readonly container?: string;
  /** The word in the margin, where the kind alone does not say it. */
  readonly margin?: string;
  /** The day for it has gone by. */
  readonly isUrgent?: boolean;
  /** Where more of it stands; absent: the page of the medicine or the container. */
  readonly see?: 'outlook';
  /** How long an order takes is not known, so there is no day to order by. */
  readonly hasNoDay?: boolean;
};

/** Days in which a medicine that was used counts as still in use on the farm (practice: a year of seasons). */
const USED_WITHIN_DAYS = 365;
/** A quarter of a pack or less of all that may be used is little (practice). */
const LOW_SHARE = 4;

const mayUse = (one: Container) => one.state === 'sealed' || one.state === 'open';
const onShelf = (one: Container) =>
  one.state === 'expired' || one.state === 'past-in-use' || one.state === 'quarantined';

/**
 * What to dispose of, what to use first, what is low or gone, and of that what only the vet can decide. `containers`
 * are all there ever were, `today` the day the desk believes. It reckons no need ahead: only what is and what was.
 */
export function orderLines(
  medicines: readonly Medicine[],
  containers: readonly Container[],
  today: string,
): readonly OrderLine[] {
  return medicines.flatMap((medicine) => {
    const own = containers.filter((one) => one.medicine === medicine.medicine);
    return [...toDispose(medicine, own), ...toUseFirst(medicine, own, today), ...toGet(medicine, own, today)];
  });
}

function toDispose(medicine: Medicine, own: readonly Container[]): OrderLine[] {
  return own
    .filter((one) => onShelf(one) && one.state !== 'quarantined')
    .map((one) => ({
      key: `dispose ${one.container}`,
      kind: 'dispose',
      medicine: medicine.medicine,
      name: medicine.name,
      text:
        one.state === 'expired'
          ? `${one.left.text} of ${medicine.name} is past its expiry and must go.`
          : `${one.left.text} of ${medicine.name} has been open too long and must go.`,
      small: `${one.label}, batch ${one.batch}; to be used by ${one.useBy}.`,
      supplier: one.supplier ?? '',
      container: one.container,
    }));
}

/** The end of the month after this one: near enough that its stock is the next to be used. */
export function nearEnd(today: string): Day {
  const thisEnd = lastDayOfMonth(today.slice(0, 7));
  return lastDayOfMonth(addDays(thisEnd, 1).slice(0, 7));
}

function toUseFirst(medicine: Medicine, own: readonly Container[], today: string): OrderLine[] {
  const end = nearEnd(today);
  const near = own
    .filter((one) => mayUse(one) && lastUsableDay(one.unusableFrom) <= end)
    .toSorted((a, b) => (a.unusableFrom < b.unusableFrom ? -1 : a.unusableFrom > b.unusableFrom ? 1 : 0));
  const [first] = near;
  if (first === undefined) return [];
  return [
    {
      key: `use ${medicine.medicine}`,
      kind: 'use',
      medicine: medicine.medicine,
      name: medicine.name,
      text:
        near.length === 1
          ? `${first.left.text} of ${medicine.name} must be used by ${first.useBy}: use it first.`
          : `${count(near.length, 'container', 'containers')} of ${medicine.name} must be used soon, ${near.every((one) => one.useBy === first.useBy) ? 'all' : 'the first'} by ${first.useBy}.`,
      // The date of each, never the end of the time looked ahead.
      small: `${near.map((one) => `${one.label}: ${one.left.text}, use by ${one.useBy}`).join('; ')}.`,
      supplier: first.supplier ?? '',
      ...(near.length === 1 ? { container: first.container } : {}),
    },
  ];
}

function toGet(medicine: Medicine, own: readonly Container[], today: string): OrderLine[] {
  // What was made up on the farm is no stock to last: it is counted with what it was made from.
  const usable = own.filter((one) => mayUse(one) && one.strength === undefined);
  const left = usable.reduce((sum, one) => sum + unitsOf(one.left.amount), 0);
  const largest = own
    .filter((one) => one.strength === undefined)
    .reduce((most, one) => Math.max(most, unitsOf(one.received.amount)), 0);
  const since = addDays(today as Day, -USED_WITHIN_DAYS);
  const isUsed = medicine.lastGiven !== undefined && medicine.lastGiven.slice(0, 10) >= since;
  const given =
    medicine.lastGiven === undefined
      ? ''
      : `Last given ${printDay(medicine.lastGiven.slice(0, 10) as Day)}. `;
  const says =
    usable.length === 0
      ? isUsed
        ? `Nothing that may be used is left of ${medicine.name}, given within the last year.`
        : undefined
      : left * LOW_SHARE <= largest
        ? `Only ${medicine.usable} of ${medicine.name} is left.`
        : undefined;
  if (says === undefined) return [];
  const kind = isOfTheVet(medicine.prescription) ? 'vet' : 'order';
  return [
    {
      key: `get ${medicine.medicine}`,
      kind,
      medicine: medicine.medicine,
      name: medicine.name,
      text: says,
      small: `${given}${sayLastDelivery(own)}${supplyWords[medicine.prescription]}`,
      // What came from several is asked of the last.
      supplier: byCame(own).findLast((one) => one.supplier !== undefined)?.supplier ?? '',
    },
  ];
}

/** What was bought, the latest to come in last. What was made up here was not bought. */
function byCame(own: readonly Container[]): Container[] {
  return own
    .filter((one) => one.strength === undefined && one.came !== undefined)
    .toSorted((a, b) => ((a.came ?? '') < (b.came ?? '') ? -1 : (a.came ?? '') > (b.came ?? '') ? 1 : 0));
}

/** "Last time 2 × 250 mL came, on 4 Nov 2026. ": what the last delivery was, as a measure of what to ask for. */
function sayLastDelivery(own: readonly Container[]): string {
  const last = byCame(own).at(-1);
  if (last?.came === undefined) return '';
  const packs = Map.groupBy(
    own.filter((one) => one.batchId === last.batchId && one.came === last.came),
    (one) => one.received.text,
  );
  const said = [...packs].map(([size, all]) => (all.length === 1 ? size : `${all.length} × ${size}`));
  return `Last time ${listed(said)} came, on ${printDay(last.came.slice(0, 10) as Day)}. `;
}

const supplyWords: Readonly<Record<Medicine['prescription'], string>> = {
  'vet-only': 'Only a vet may give it.',
  'vet-prescription': 'Only on a vet’s prescription.',
  'qualified-person': 'Sold by a qualified person.',
  'general-sale': 'On general sale.',
  'not-stated': 'The label on record does not say who may supply it: ask.',
};

/** Lines to order by supplier, by name; those of nobody known at the end under ''. */
export function bySupplier(lines: readonly OrderLine[]): readonly [string, readonly OrderLine[]][] {
  const groups = new Map<string, OrderLine[]>();
  for (const line of lines) groups.set(line.supplier, [...(groups.get(line.supplier) ?? []), line]);
  return [...groups].toSorted(([a], [b]) => (a === '' ? 1 : b === '' ? -1 : a.localeCompare(b)));
}
