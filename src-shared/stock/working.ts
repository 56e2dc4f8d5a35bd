import { type Line, linesOf } from '../withdrawal/working.ts';
import type { Step, WorkingLine } from '../working.ts';

/** How each step of packs, wastage, losses and the outlook reads. */
const STOCK_LINES: Readonly<Record<string, Line>> = {
  'packs-day': (v) => {
    const open = v.fromOpen === '' ? '' : `, ${v.fromOpen} of it from what is open`;
    const opens = v.opens === '' ? '' : `, opens ${v.opens}`;
    const until = v.until === '' ? '' : `, usable ${v.until}`;
    const lost = v.serves === '' ? '' : ', and serves no later day';
    const left = v.left === '' ? 'nothing is left open' : `${v.left} is left open${until}${lost}`;
    return `${v.on}: ${v.need} needed${open}${opens}; ${left}`;
  },
  'packs-total': (v) => `${v.sum} = ${v.cost}`,
  'packs-left-over': (v) =>
    v.left?.startsWith('0 ') ? 'Nothing is left over' : `${v.left} is bought and not needed`,
  'packs-if-kept': (v) =>
    `If opened packs kept, ${v.packs} at ${v.cost} would do; they last ${v.inUse} once opened`,
  'wastage-rate': (v) => `${v.lost} lost ÷ ${v.opened} opened = ${v.rate} %`,
  'wastage-factor': (v) => `100 ÷ (100 − ${v.rate}) = ${v.factor}`,
  'wastage-start': (v) =>
    `Fewer than ${v.least} containers are used up, so it starts from ${v.rate} % and the measured priming`,
  'loss-own': (v) => `${v.need} × ${v.factor} from the farm’s own figures = ${v.total}`,
  'loss-dead-space': (v) =>
    `${v.fills} ${v.fills === '1' ? 'filling' : 'fillings'} × ${v.each} left in syringe, hub and needle = ${v.total}`,
  'loss-priming': (v) =>
    `${v.primings} ${v.primings === '1' ? 'priming' : 'primings'} × ${v.each} as measured = ${v.total}`,
  'loss-spill': (v) => `${v.percent} % of ${v.need} for spill = ${v.total}`,
  'loss-total': (v) => `${v.sum} = ${v.total}`,
  'outlook-work': (v) => `“${v.what}”, ${v.on}: ${v.doses} = ${v.total}`,
  'outlook-use': (v) => `${v.used} used in ${v.days} days besides planned work: ${v.perDay} a day`,
  'outlook-occasions': (v) =>
    `${v.used} used on ${v.times} days of ${v.days}: ${v.each} each time, every ${v.apart} days`,
  'outlook-order-by': (v) =>
    `First short on ${v.runOut}; it has to stand here the day before, ${v.lead} after the order: order by ${v.orderBy}`,
};

/** The lines a person would write to check what was worked out about stock. */
export function printStockWorking(steps: readonly Step[]): WorkingLine[] {
  return linesOf(steps, STOCK_LINES);
}
