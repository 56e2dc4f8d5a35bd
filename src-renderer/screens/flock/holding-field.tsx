import type { Reply } from '../../../src-shared/calls/all.ts';
import type { TextProps } from '../../hooks/use-form.ts';
import { Select } from '../../parts/field.tsx';

export type Farm = Reply<'farm'>;

/** Which holding; one is the common case and is no question at all. */
export function HoldingField({ farm, ...props }: TextProps & { farm: Farm }) {
  if (farm.holdings.length < 2) return null;
  return (
    <Select
      {...props}
      label="Holding"
      options={farm.holdings.map((one) => ({ value: one.holding, label: `${one.name}, ${one.number}` }))}
    />
  );
}

/** The holding a form starts with. */
export function firstHolding(farm: Farm): string {
  return farm.holdings[0]?.holding ?? '';
}
