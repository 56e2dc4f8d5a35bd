import type { Reply } from '../../../src-shared/calls/all.ts';
import { isOfTheVet } from '../../../src-shared/stock/of-the-vet.ts';
import type { OutlookRow } from './outlook-lines.ts';

type Medicine = Reply<'medicines'>['medicines'][number];

/** A medicine that may stand on an order list, and what the outlook proposes of it. */
export type Orderable = {
  readonly medicine: string;
  readonly name: string;
  readonly supplier: string;
  readonly hint: string;
  readonly packs: readonly { readonly size: string; readonly count: number }[];
  /** The outlook proposes packs of it, from this supplier or from nobody known. */
  readonly isProposed: boolean;
};

export const packsField = ({ medicine }: Pick<Orderable, 'medicine'>) => `packs ${medicine}`;

/** "2 × 500 mL, 1 × 250 mL", as it is typed; empty where nothing is proposed. */
export function sayPacks({ isProposed, packs }: Orderable): string {
  return isProposed ? packs.map(({ count, size }) => `${count} × ${size}`).join(', ') : '';
}

const runsOut = ({ headline: { state } }: OutlookRow) => state !== 'lasts' && state !== 'ordered';

/** Where an order list begins when nobody was named: with the supplier of what has to be ordered first. */
export function firstSupplier(ahead: readonly OutlookRow[]): string {
  return (
    ahead
      .filter((row) => !row.isOfTheVet && runsOut(row) && row.supplier !== undefined)
      .toSorted((a, b) => ((a.headline.runOut ?? '') < (b.headline.runOut ?? '') ? -1 : 1))[0]?.supplier ?? ''
  );
}

/**
 * What may be ordered, what runs out first. What only a vet decides on is left out. With a supplier only what is had
 * from there, or from nobody known, is proposed; a medicine that was asked for by name is always.
 */
export function orderableOf(
  medicines: readonly Medicine[],
  ahead: readonly OutlookRow[],
  asked: { supplier: string; medicine: string | undefined },
): Orderable[] {
  const byId = new Map(ahead.map((row) => [row.medicine, row]));
  return medicines
    .filter(({ prescription }) => !isOfTheVet(prescription))
    .map((one) => {
      const row = byId.get(one.medicine);
      const supplier = row?.supplier ?? '';
      const isFromThere = asked.supplier === '' || supplier === '' || supplier === asked.supplier;
      const isEnding =
        row !== undefined && row.headline.state !== 'lasts' && row.headline.state !== 'ordered';
      return {
        medicine: one.medicine,
        name: one.name,
        supplier,
        hint: isEnding
          ? [row.headline.says, row.buy?.says ?? row.noBuy].filter((part) => part !== undefined).join(' ')
          : `${one.usable} may be used now.`,
        packs: row?.buy?.packs ?? [],
        isProposed: (isEnding && isFromThere) || one.medicine === asked.medicine,
      };
    });
}

/** The order line a delivery came on, for the form of a delivery: "order line", both ids with a space between. */
export function orderLineIn(value: string): { order: string; line: string } | undefined {
  const [order = '', line = ''] = value.split(' ');
  return order === '' || line === '' ? undefined : { order, line };
}
