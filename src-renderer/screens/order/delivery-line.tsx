import { useCall } from '../../hooks/use-call.ts';
import type { TextProps } from '../../hooks/use-form.ts';
import { Select } from '../../parts/field.tsx';

/** Offers the lines of order lists on which this medicine is waited for; nothing where there is none. */
export function OrderLinePick({ medicine, ...field }: TextProps & { medicine: string }) {
  const call = useCall('orders', {});
  if (call.state !== 'ready') return null;
  const open = call.value.orders.flatMap((order) =>
    order.lines
      .filter((line) => line.medicine === medicine && line.state === 'open')
      .map((line) => ({
        value: `${order.order} ${line.line}`,
        label: `Order ${order.number} to ${order.supplier}, ${order.madeText}: ${line.ordered}, ${line.missing} open`,
      })),
  );
  if (open.length === 0) return null;
  return (
    <Select
      {...field}
      label="Ordered with"
      options={[{ value: '', label: 'It was on no order list' }, ...open]}
    />
  );
}
