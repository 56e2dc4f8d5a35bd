import { useCall } from '../../hooks/use-call.ts';

/** What stands beside a name on every list, whatever the list is about. */
const MARK = 'may carry a broken needle';

/** The mark of somebody who may carry a needle, as it follows the name; empty for everybody else. */
export function useNeedleMarks(): (subject: string) => string {
  const call = useCall('needle-losses', { open: true });
  const held = new Set(
    call.state === 'ready'
      ? call.value.losses.flatMap((loss) => loss.held.map(({ subject }) => subject))
      : [],
  );
  return (subject) => (held.has(subject) ? `, ${MARK}` : '');
}
