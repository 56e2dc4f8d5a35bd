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
  'dosed-to': (v) =>
    `${v.of === '1' ? 'All are' : `Part ${v.part} of ${v.of} is`} dosed to ${v.weight}${v.own === undefined ? '' : `; for its own ${v.ownWeight} it would be ${v.own}`}`,
  'draft-total': (v) =>
    `${v.sum} = ${v.total}; the worst is ${v.worst} % over its own dose, at most ${v.cap} % is allowed`,
  'draft-least-product': (v) => `Least product in as many parts: ${v.total}, the worst ${v.worst} % over`,
  'draft-least-worst': (v) => `Least overdose in as many parts: ${v.total}, the worst ${v.worst} % over`,
  'draft-to-heaviest': (v) => `All dosed to the heaviest: ${v.total}, the worst ${v.worst} % over`,
  sites: (v) => `${v.draw}, at most ${v.most} in a site: ${v.sites}`,
};

const TOOL_LINES: Readonly<Record<string, Line>> = {
  'gun-mean': (v) => `${v.total} ÷ ${v.shots} ${v.shots === '1' ? 'shot' : 'shots'} = ${v.mean} a shot`,
  'gun-off': (v) => `${v.mean} against ${v.set} is ${v.off} % off, at most ${v.most} % either way is right`,
  'gun-spread': (v) =>
    `The ${v.shots} shots spread by ${v.spread} % of their mean (standard deviation), under ${v.under} % is even`,
  'gun-setting': (v) =>
    `${v.set} × ${v.wanted} ÷ ${v.mean} = ${v.exact}, on marks of ${v.step} = ${v.setting}`,
  'leak-drops': (v) => `${drops(v)} at 20 drops to the mL are ${v.lost} of ${v.given}: ${v.percent} % short`,
  'leak-range': (v) => `${drops(v)} of 20 to 70 µL: ${v.least} to ${v.most} % short`,
  'leak-amount': (v) => `${v.lost} of ${v.given}: ${v.percent} % short`,
  'syringe-under-half': (v) =>
    `${v.volume} is under half of ${v.capacity}: 1.5 % of ${v.capacity} + ${v.ofDelivered} % of ${v.volume} = ${v.error}, ${v.percent} % of the dose`,
  'syringe-from-half': (v) =>
    `${v.volume} is half of ${v.capacity} or more: ${v.fromHalf} % of ${v.volume} = ${v.error}`,
  tape: (v) =>
    `${v.girth} in × ${v.girth} in × ${v.length} in ÷ 300 = ${v.pounds} lb, × 0.45359237 = ${v.kg} kg`,
  'mix-substance': (v) => `${v.amount} at ${v.label} holds ${v.substance}`,
  'mix-product': (v) => `${v.amount} of powder is counted as it is`,
  'mix-volume': (v) => `${v.sum} = ${v.volume}`,
  'mix-made-up-to': (v) => `Made up to ${v.volume}`,
  'mix-strength': (v) => `${v.substance} in ${v.volume} is ${v.perMl} in each mL`,
  'growth-own': (v) => `${v.before}, ${v.between} days later ${v.last}: ${v.grams} g a day`,
  'growth-given': (v) => `${v.grams} g a day as given`,
  'growth-predicted': (v) => `${v.last} + ${v.days} days × ${v.grams} g = ${v.predicted} predicted`,
  'sample-chance': (v) => `(${v.heads} − ${v.weighed}) ÷ ${v.heads} = ${v.chance} %`,
};

const drops = (v: Readonly<Record<string, string>>) => `${v.drops} ${v.drops === '1' ? 'drop' : 'drops'}`;

const LINES: Readonly<Record<string, Line>> = { ...DOSE_LINES, ...TOOL_LINES, ...CLEARANCE_LINES };

/** The lines a person would write to check a dose, what was worked out around it, or a clearance. */
export function printWorking(steps: readonly Step[]): WorkingLine[] {
  return linesOf(steps, LINES);
}
