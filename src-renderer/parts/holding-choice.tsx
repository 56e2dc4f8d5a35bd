import { useCall } from '../hooks/use-call.ts';
import { Select } from './field.tsx';

/**
 * Which holding a look back is of: all together, or one. Nothing where there is only one, which must feel like no
 * choice at all.
 */
export function HoldingChoice({ value, onChange }: { value: string; onChange: (holding: string) => void }) {
  const farm = useCall('farm', {});
  if (farm.state !== 'ready' || farm.value.holdings.length < 2) return null;
  return (
    <Select
      name="holding"
      label="Holding"
      value={value}
      onChange={onChange}
      options={[
        { value: '', label: 'All together' },
        ...farm.value.holdings.map((one) => ({ value: one.holding, label: one.name })),
      ]}
    />
  );
}
