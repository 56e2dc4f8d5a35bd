import { forceByGauge, printForceWorking } from '../../../src-shared/needle/force-range.ts';
import { lengthMm, type NeedleLength } from '../../../src-shared/needle/needle.ts';
import { BARRELS, type Gauge } from '../../../src-shared/needle/tubing.ts';
import type { FlowClass } from '../../../src-shared/needle/viscosity.ts';
import { fraction } from '../../../src-shared/quantity/fraction.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { ForceChart } from '../../drawings/force-chart.tsx';
import { useCall } from '../../hooks/use-call.ts';
import { FaultNotice } from '../../parts/notice.tsx';
import { Working } from '../../parts/result.tsx';

const GAUGES_SHOWN: readonly Gauge[] = ['16', '18', '20', '22'];

/** The usual syringe nearest to what is used, so that the bore of its barrel is known. */
function barrelNear(millilitres: number): string {
  const sizes = [...BARRELS.keys()];
  return sizes.find((size) => Number(size) >= millilitres) ?? sizes.at(-1) ?? '10';
}

/** Why a remedy is hard work: the force through each needle, warm and cold. It explains a choice and never makes one. */
export function PushesHard({
  name,
  flowClass,
  lengthIn = '1',
  millilitres = 10,
}: {
  name: string;
  flowClass: FlowClass;
  lengthIn?: NeedleLength;
  /** What the syringe holds. */
  millilitres?: number;
}) {
  const size = barrelNear(millilitres);
  const barrelMm = BARRELS.get(size);
  if (barrelMm === undefined) return null;
  const found = attempt(() =>
    forceByGauge(
      { thickness: flowClass, lengthMm: lengthMm(lengthIn), barrelMm, mlPerS: fraction(1) },
      GAUGES_SHOWN,
    ),
  );
  const [first] = found.ok ? found.value : [];
  return (
    <details className="where-more">
      <summary>Why it pushes hard</summary>
      {found.ok ? (
        <>
          <ForceChart
            remedy={name}
            conditions={`${size} mL syringe, ${lengthIn} in needle, 1 mL each second`}
            rows={found.value}
          />
          {first === undefined ? null : <Working lines={printForceWorking(first.warm.working)} />}
        </>
      ) : (
        <FaultNotice fault={found.error} />
      )}
    </details>
  );
}

/** The same for a medicine of the book, where it is thicker than water. */
export function PushesHardFor({ medicine, capacity }: { medicine: string; capacity: string | undefined }) {
  const call = useCall('medicine', { medicine });
  const terms = call.state === 'ready' ? call.value.revisions[0]?.terms : undefined;
  if (terms?.flowClass === undefined || terms.flowClass === 'watery') return null;
  const millilitres = Number.parseFloat(capacity ?? '');
  return (
    <PushesHard
      name={terms.name}
      flowClass={terms.flowClass}
      {...(Number.isFinite(millilitres) ? { millilitres } : {})}
    />
  );
}
