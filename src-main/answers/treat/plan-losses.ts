import { NEEDLE_ROUTES } from '../../../src-shared/label/terms.ts';
import {
  type Amount,
  amountOf,
  baseOf,
  parseAmount,
  printAmount,
} from '../../../src-shared/quantity/amount.ts';
import { type DoseCount, fillings } from '../../../src-shared/stock/fillings.ts';
import {
  type LossAsk,
  type LossCause,
  type PlannedLosses,
  plannedLosses,
} from '../../../src-shared/stock/losses.ts';
import { type PlannedWastage, wastageToPlanWith } from '../../../src-shared/stock/wastage.ts';
import type { Warning } from '../../../src-shared/working.ts';
import type { Reader } from '../../store/store.ts';
import { equipmentOf } from '../reading/equipment.ts';
import type { StockRow } from '../reading/stock.ts';
import { usedUpOf } from '../reading/wastage.ts';

/** What a line of work is drawn with, and what it comes to. */
export type LossLine = {
  medicine: string;
  equipment?: string | undefined;
  syringe?: { capacity: string } | undefined;
  route: string;
  kind: StockRow['kind'];
};

/**
 * What is lost besides the doses of a plan. A gun is primed once for each bottle it is put on. A syringe keeps a little
 * of every filling. Without either a needle is taken to go with a hand syringe that is filled for each animal. Boluses
 * and other pieces are counted out, so only the farm's own figures say that any are lost.
 * @param figures `own`: by what this farm's containers lost as a whole, once that is known; it counts what is thrown away
 * because a container ends. `own-in-use`: the same without what is thrown away, for an outlook, which reckons with
 * containers that end by itself. `this-work`: only what is lost while this work is done.
 */
export function lossReader(tx: Reader, figures: 'own' | 'own-in-use' | 'this-work' = 'own') {
  const known = new Map<string, { wastage: PlannedWastage; warnings: Warning[] }>();
  const wastageOf = (medicine: string, kind: StockRow['kind']) => {
    // How it starts is no step of this work.
    if (figures === 'this-work') return { wastage: { ...wastageToPlanWith([]), working: [] }, warnings: [] };
    const key = `${medicine} ${kind}`;
    const found = known.get(key) ?? ownOrStart(tx, medicine, kind, figures === 'own' ? 'lost' : 'left-out');
    known.set(key, found);
    return found;
  };
  return {
    /** Nothing where nothing is lost. `bottles` is how many containers it comes from. */
    of(line: LossLine, doses: readonly DoseCount[], bottles: number): PlannedLosses | undefined {
      const need = amountOf(
        line.kind,
        doses.reduce((sum, { units, heads }) => sum + units * heads, 0),
      );
      if (baseOf(need) === 0) return undefined;
      const { wastage, warnings } = wastageOf(line.medicine, line.kind);
      if (line.kind === 'pieces' && wastage.from === 'start') return undefined;
      const losses = plannedLosses({ need, wastage, ...drawnWith(tx, line, doses, bottles) });
      return { ...losses, warnings: [...warnings, ...losses.warnings] };
    },
  };
}
export type LossReader = ReturnType<typeof lossReader>;

function ownOrStart(tx: Reader, medicine: string, kind: StockRow['kind'], thrownAway: 'lost' | 'left-out') {
  const usedUp = usedUpOf(tx, medicine, thrownAway).usedUp.filter(({ opened }) => opened.kind === kind);
  const wastage = wastageToPlanWith(usedUp);
  if (wastage.factor !== undefined) return { wastage, warnings: [] };
  const text =
    'Everything of it that was opened so far reached no animal by the book; losses are counted as for a farm that knows none of its own. Find out why.';
  return { wastage: wastageToPlanWith([]), warnings: [{ code: 'all-lost', text }] };
}

function drawnWith(
  tx: Reader,
  line: LossLine,
  doses: readonly DoseCount[],
  bottles: number,
): Pick<LossAsk, 'syringe' | 'gun'> {
  if (line.kind !== 'volume') return {};
  const own = line.equipment === undefined ? undefined : equipmentOf(tx, line.equipment);
  if (own?.what === 'gun') {
    const each: Amount | undefined =
      own.priming === undefined ? undefined : parseAmount(own.priming, 'priming');
    return { gun: { primings: Math.max(1, bottles), each } };
  }
  if (line.syringe === undefined && !NEEDLE_ROUTES.includes(line.route)) return {};
  const capacity =
    line.syringe === undefined ? undefined : parseAmount(line.syringe.capacity, 'syringe.capacity');
  return { syringe: { fills: fillings(doses, capacity && baseOf(capacity)), capacity } };
}

const WORDS: Readonly<Record<LossCause, string>> = {
  'dead-space': 'what stays in needle and syringe',
  priming: 'priming',
  spill: 'spill',
  own: 'losses as they were on this farm',
};

/** "146.8 mL for the animals, 3.1 mL for priming and spill: 149.9 mL in all". */
export function sayLosses(
  need: Amount,
  { losses, total, withLosses }: PlannedLosses,
  piece: string | undefined,
): string {
  const causes = losses.filter(({ amount }) => baseOf(amount) > 0).map(({ cause }) => WORDS[cause]);
  const last = causes.at(-1) ?? 'losses';
  const list = causes.length < 2 ? last : `${causes.slice(0, -1).join(', ')} and ${last}`;
  return `${printAmount(need, piece)} for the animals, ${printAmount(total, piece)} for ${list}: ${printAmount(withLosses, piece)} in all`;
}
