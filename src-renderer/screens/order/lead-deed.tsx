import { DeedLink } from '../../parts/deed.tsx';

/** Where it is not known how long an order takes there is no day to order by: the way to write it down. */
export function LeadDeed({ medicine }: { medicine: string }) {
  return (
    <DeedLink to="order/supply/:medicine" params={{ medicine }}>
      Write how long an order takes
    </DeedLink>
  );
}
