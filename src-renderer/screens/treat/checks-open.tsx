import { useCall } from '../../hooks/use-call.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Notice } from '../../parts/notice.tsx';
import { count } from '../../parts/words.ts';

/** Which checks before starting are not ticked. It says so and bars nothing. */
export function ChecksOpen({ session }: { session: string }) {
  const call = useCall('session-kit', { session });
  if (call.state !== 'ready') return null;
  const open = call.value.checks.filter(({ ticked }) => !ticked);
  if (open.length === 0) return null;
  const deed = (
    <DeedLink to="treat/session/:session/ready" params={{ session }}>
      Look before starting
    </DeedLink>
  );
  const isNone = open.length === call.value.checks.length;
  return (
    <Notice word="Not ticked" deed={deed}>
      <p>
        {isNone
          ? 'None of the checks before starting is ticked.'
          : `${count(open.length, 'check', 'checks')} before starting: ${open.map(({ says }) => says.replace(/[.:].*$/, '')).join('; ')}.`}
      </p>
    </Notice>
  );
}
