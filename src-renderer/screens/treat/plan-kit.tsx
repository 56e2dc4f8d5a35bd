import type { Ask } from '../../../src-shared/calls/all.ts';
import { useSteady } from '../../hooks/use-steady.ts';
import { Section } from '../../parts/screen.tsx';
import { Steady } from '../../parts/steady.tsx';
import { KitShown } from './kit-shown.tsx';

/** What the planned work needs besides the medicine. Nothing stands here until the plan does. */
export function PlanKit({ asked }: { asked: Ask<'plan-session'> | null }) {
  const { weight: _one, ...plan } = asked ?? { weight: undefined };
  const kit = useSteady('session-kit', asked === null ? null : { plan: plan as typeof asked });
  if (asked === null) return null;
  return (
    <Section title="What to take along">
      <Steady call={kit} what="Looking what it needs">
        {(value) => <KitShown kit={value} />}
      </Steady>
    </Section>
  );
}
