import { CLEARANCE_LINES, type Line, linesOf } from '../withdrawal/working.ts';
import type { Step, WorkingLine } from '../working.ts';

const HOW: Readonly<Record<string, string>> = { nearest: 'to the nearest', up: 'up', down: 'down' };

const DOSE_LINES: Readonly<Record<string, Line>> = {
  'pounds-to-kilograms': (v) => `${v.weight} × 0.45359237 = ${v.result}`,
  'kilograms-to-pounds': (v) => `${v.weight} ÷ 0.45359237 = ${v.result}`,
  strength: (v) => `${v.label} is ${v.strength} in each ${v.in}`,
  'by-weight': (v) =>
    `${v.weight} × ${v.amount} for each ${v.per}${v.strength === undefined ? '' : ` ÷ ${v.strength} in each ${v.in}`} = ${v.exact}`,
  'per-head': (v) =>
    `${v.amount} for each animal${v.strength === undefined ? '' : ` ÷ ${v.strength} in each ${v.in}`} = ${v.exact}`,
  band: (v) => `${v.weight} is in the band up to ${v.upTo}: ${v.dose}`,
  'further-step': (v) =>
    `${v.weight} is above ${v.upTo}: ${v.dose} + ${v.parts} × ${v.more} for each further ${v.each} or part = ${v.total}`,
  round: (v) =>
    v.exact === v.draw
      ? `${v.exact}: no rounding needed on marks of ${v.step}`
      : `${v.exact} rounded ${HOW[v.how ?? ''] ?? v.how} on marks of ${v.step} = ${v.draw}`,
  'draft-part': (v) =>
    `${v.heads === '1' ? '1 animal' : `${v.heads} animals`}, ${v.from === v.to ? v.from : `${v.from} to ${v.to}`}: ${v.exact} rounded up = ${v.dose}; the lightest needs ${v.own} and gets ${v.over} % more`,
  'draft-total': (v) =>
    `${v.sum} = ${v.total}; the worst is ${v.worst} % over its own dose, at most ${v.cap} % is allowed`,
  'draft-least-product': (v) => `Least product in as many parts: ${v.total}, the worst ${v.worst} % over`,
  'draft-least-worst': (v) => `Least overdose in as many parts: ${v.total}, the worst ${v.worst} % over`,
  'draft-to-heaviest': (v) => `All dosed to the heaviest: ${v.total}, the worst ${v.worst} % over`,
  sites: (v) => `${v.draw}, at most ${v.most} in a site: ${v.sites}`,
};

const LINES: Readonly<Record<string, Line>> = { ...DOSE_LINES, ...CLEARANCE_LINES };

/** The lines a person would write to check a dose or a clearance. */
export function printWorking(steps: readonly Step[]): WorkingLine[] {
  return linesOf(steps, LINES);
}
