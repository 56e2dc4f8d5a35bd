import type { Ask } from '../../src-shared/calls/all.ts';
import { DRENCH, type FarmDesk } from './farm-desk.ts';

export type Terms = Ask<'check-label'>['terms'];

/** What the tests of the outlook and of order lists do again and again on a desk. */
export function orderDesk(farm: FarmDesk) {
  return {
    /** A drench on general sale. */
    async medicine(name: string, more: Partial<Terms> = {}): Promise<string> {
      const terms: Terms = { ...structuredClone(DRENCH), name, prescription: 'general-sale', ...more };
      return (await farm.ask('set-label', { act: 'first', terms })).medicine;
    },
    /** A delivery of packs written as in "2 × 500 mL". */
    receive(
      medicine: string,
      number: string,
      expiry: string,
      packs: string,
      more: Partial<Ask<'receive-batch'>> = {},
    ) {
      const [count = '1', size = ''] = packs.split(' × ');
      return farm.ask('receive-batch', {
        medicine,
        number,
        expiry,
        packs: [{ count: Number(count), size }],
        ...more,
      });
    },
    foresee: (medicine: string, name: string, on: string, heads: number, dose: string) =>
      farm.ask('foresee-work', { medicine, name, on, heads: String(heads), dose }),
  };
}
export type OrderDesk = ReturnType<typeof orderDesk>;
