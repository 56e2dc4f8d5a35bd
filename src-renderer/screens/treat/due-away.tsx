import type { Ask } from '../../../src-shared/calls/all.ts';
import { withoutEmpty } from '../../hooks/use-form.ts';
import { useSteady } from '../../hooks/use-steady.ts';
import { FaultNotice, Notice } from '../../parts/notice.tsx';

/** What is asked of one line of work; empty fields of a form are left out. */
export function awayAsk(
  subjects: readonly string[],
  line: {
    readonly medicine: string;
    readonly doseLine?: string | undefined;
    readonly instruction?: string | undefined;
  },
  happened = '',
): Ask<'clears-before-away'> {
  const { medicine, doseLine = '', instruction = '' } = line;
  return {
    subjects: [...subjects],
    medicine,
    ...withoutEmpty({ doseLine, instruction, happened }),
  };
}

/**
 * Above the dose: that a group is due away before what is about to be given would clear, and what else the farm has
 * for it that clears sooner. Nothing where nobody is due away, and nothing while it is being looked up: it is asked
 * of the animals that are treated, and the dose does not wait for it.
 */
export function DueAway({ asked }: { asked: Ask<'clears-before-away'> | null }) {
  const call = useSteady('clears-before-away', asked);
  if (call.state === 'failed') return <FaultNotice fault={call.fault} />;
  if (call.state !== 'ready') return null;
  return call.value.late.map((late) => (
    <Notice key={late.group} kind="mind" word="Due away">
      <p>
        <strong>{late.name}</strong>: {late.this.text}
      </p>
      {late.sooner.length === 0 ? (
        <p>By the book the farm has no other medicine for the same purpose that clears sooner.</p>
      ) : (
        <>
          <p>For the same purpose the farm has what clears sooner:</p>
          <ul>
            {late.sooner.map((other) => (
              <li key={other.medicine}>{other.text}</li>
            ))}
          </ul>
        </>
      )}
    </Notice>
  ));
}
