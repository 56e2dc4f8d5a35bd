import { sayWeightKnown } from '../../src-shared/flock/weight-known.ts';
import type { Day } from '../../src-shared/time/day.ts';
import { useCall } from './use-call.ts';

/** Says a weight with how and when it is known ("62 kg, tape, 12 days ago"), by the day the desk believes it is. */
export function useWeightKnown(): (of: Parameters<typeof sayWeightKnown>[0]) => string {
  const farm = useCall('farm', {});
  const today = farm.state === 'ready' ? farm.value.clock.today : undefined;
  // Until the day is known, the weight alone: nothing may be said of its age.
  return (of) => (today === undefined ? of.weight : sayWeightKnown(of, today as Day));
}
