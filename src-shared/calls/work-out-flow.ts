import { z } from 'zod';
import {
  checkWidths,
  type Flow,
  type FlowAsk,
  flowThrough,
  HAND_LIMIT_N,
  HAND_LIMIT_SOURCE,
  LAMINAR_SOURCE,
  readFlowValue,
} from '../needle/flow.ts';
import { compare, toDecimal } from '../quantity/fraction.ts';
import type { Warning, WorkingLine } from '../working.ts';
import { topic, typedText } from './work-out-topic.ts';

/** A plain number: its text, or a JSON number for whoever writes JSON by hand. */
const plainNumber = z.preprocess((given) => (typeof given === 'number' ? String(given) : given), typedText);

const askSchema = z.strictObject({
  viscosityMpaS: plainNumber,
  boreMm: plainNumber,
  lengthMm: plainNumber,
  barrelMm: plainNumber,
  flowMlPerS: plainNumber,
  densityGPerMl: plainNumber.optional(),
  frictionN: plainNumber.optional(),
});

export const flowTopic = topic(
  'What it takes to push a liquid through a needle, while the flow is laminar.',
  askSchema,
  (typed) => {
    const ask: FlowAsk = {
      viscosityMpaS: readFlowValue(typed.viscosityMpaS, 'viscosityMpaS'),
      boreMm: readFlowValue(typed.boreMm, 'boreMm'),
      lengthMm: readFlowValue(typed.lengthMm, 'lengthMm'),
      barrelMm: readFlowValue(typed.barrelMm, 'barrelMm'),
      flowMlPerS: readFlowValue(typed.flowMlPerS, 'flowMlPerS'),
      ...(typed.densityGPerMl === undefined
        ? {}
        : { densityGPerMl: readFlowValue(typed.densityGPerMl, 'densityGPerMl') }),
      ...(typed.frictionN === undefined ? {} : { frictionN: readFlowValue(typed.frictionN, 'frictionN') }),
    };
    checkWidths(ask.boreMm, ask.barrelMm);
    const flow = flowThrough(ask);
    return {
      resistancePaSPerM3: toDecimal(flow.resistancePaSPerM3),
      ...(flow.laminar ? { pressureKpa: toDecimal(flow.pressureKpa), forceN: toDecimal(flow.forceN) } : {}),
      reynolds: toDecimal(flow.reynolds),
      laminar: flow.laminar,
      working: workingOf(ask, flow),
      warnings: warningsOf(flow),
    };
  },
);

function workingOf(ask: FlowAsk, flow: Flow): WorkingLine[] {
  const viscosity = `${toDecimal(ask.viscosityMpaS)} mPa·s`;
  const bore = `${toDecimal(ask.boreMm)} mm`;
  const length = `${toDecimal(ask.lengthMm)} mm`;
  const speed = `${toDecimal(ask.flowMlPerS)} mL/s`;
  const density =
    ask.densityGPerMl === undefined ? '1 g/mL (as water)' : `${toDecimal(ask.densityGPerMl)} g/mL`;
  const lines: WorkingLine[] = [
    {
      code: 'reynolds',
      text: `Reynolds: 4 × ${density} × ${speed} ÷ (π × ${viscosity} × ${bore}) = ${toDecimal(flow.reynolds)}`,
      source: LAMINAR_SOURCE,
    },
    {
      code: 'resistance',
      text: `Resistance: 128 × ${viscosity} × ${length} ÷ (π × (${bore})⁴) = ${toDecimal(flow.resistancePaSPerM3)} Pa·s/m³`,
      source: 'Hagen–Poiseuille',
    },
  ];
  if (!flow.laminar) return lines;
  const friction = ask.frictionN === undefined ? '' : ` + ${toDecimal(ask.frictionN)} N friction`;
  return [
    ...lines,
    { code: 'pressure', text: `Pressure: resistance × ${speed} = ${toDecimal(flow.pressureKpa)} kPa` },
    {
      code: 'force',
      text: `Force: 32 × ${viscosity} × ${length} × ${speed} × (${toDecimal(ask.barrelMm)} mm)² ÷ (${bore})⁴${friction} = ${toDecimal(flow.forceN)} N`,
    },
  ];
}

function warningsOf(flow: Flow): Warning[] {
  if (!flow.laminar) {
    return [
      {
        code: 'not-laminar',
        text: 'The flow is not laminar (Reynolds above 2300), so neither pressure nor force can be told: push more slowly or take a wider needle.',
      },
    ];
  }
  if (compare(flow.forceN, HAND_LIMIT_N) <= 0) return [];
  return [
    {
      code: 'over-hand-limit',
      text: `More than 30 N, about the weight of 3 kg, is hard for a hand to keep up: ${HAND_LIMIT_SOURCE}.`,
    },
  ];
}
