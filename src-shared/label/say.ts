import { parseAmount, printAmount } from '../quantity/amount.ts';
import { parsePeriod, periodInWords, printPeriod } from '../quantity/period.ts';
import { parseRate, printRate } from '../quantity/rate.ts';
import { parseStrength, printStrength } from '../quantity/strength.ts';
import { rowMatches } from '../withdrawal/holds.ts';
import {
  CLASSES,
  type DoseLine,
  type LabelTerms,
  type NotIf,
  type PeriodRow,
  type Produce,
} from './terms.ts';
import {
  ANCHOR_WORDS,
  CLASS_WORDS,
  classList,
  FORM_WORDS,
  KIND_WORDS,
  PRESCRIPTION_WORDS,
  PRODUCE_WORDS,
  PURPOSE_WORDS,
  ROUTE_WORDS,
} from './words.ts';

/**
 * A label read back in full words, so that a wrong digit or unit is heard: "0.2 milligrams for each kilogram" is
 * not mistaken for "2 millilitres for each 10 kilograms". The terms have passed `checkTerms`.
 */

type Part = { key: string; text: string };

/** The whole label, a sentence or two a line, in the order in which an insert is read. */
export function sayTerms(terms: LabelTerms): string[] {
  return partsOf(terms).map((part) => part.text);
}

/**
 * What differs between two readings of a label, in words: "Was: … Now: …". Empty when both say the same.
 */
export function sayDifferences(before: LabelTerms, after: LabelTerms): string[] {
  const was = new Map(partsOf(before).map((part) => [part.key, part.text] as const));
  const now = new Map(partsOf(after).map((part) => [part.key, part.text] as const));
  const said: string[] = [];
  for (const [key, text] of was) {
    const other = now.get(key);
    if (other === undefined) said.push(`No longer: ${text}`);
    else if (other !== text) said.push(`Was: ${text} Now: ${other}`);
  }
  for (const [key, text] of now) if (!was.has(key)) said.push(`New: ${text}`);
  return said;
}

function partsOf(terms: LabelTerms): Part[] {
  const parts: Part[] = [];
  const say = (key: string, text: string | undefined) => {
    if (text !== undefined) parts.push({ key, text });
  };
  const { piece } = terms;
  const counted =
    terms.kind === 'pieces' ? `counted in pieces (${piece ?? 'piece'})` : KIND_WORDS[terms.kind];
  say('name', `${terms.name}: ${FORM_WORDS[terms.form]}, ${counted}. ${PURPOSE_WORDS[terms.purpose]}.`);
  say('prescription', PRESCRIPTION_WORDS[terms.prescription]);
  terms.actives.forEach((active, i) => {
    const salt = active.salt === undefined ? '' : ` (as ${active.salt})`;
    const strength =
      active.strength === undefined
        ? 'no strength entered'
        : printStrength(parseStrength(active.strength, `actives.${i}.strength`, { piece }));
    say(`active:${active.substance}`, `${active.substance}${salt}: ${strength}.`);
  });
  if (terms.narrowMargin) say('margin', 'Little room between a dose and too much: weigh, do not guess.');
  if (terms.shakeWell) say('shake', 'Shake well before use.');
  if (terms.flowClass !== undefined)
    say('flow', `It flows ${terms.flowClass === 'oily' ? 'like oil' : `as a ${FLOW[terms.flowClass]}`}.`);
  if (terms.stains) say('stains', 'It stains wool.');
  if (terms.irritates) say('irritates', 'It irritates where it is injected.');
  for (const line of terms.doseLines) say(`dose:${line.id}`, sayDoseLine(terms, line));
  sayPeriods(terms, say);
  for (const rule of terms.notIf) say(`not-if:${rule.id}`, sayNotIf(rule));
  if (terms.sucklingYoung !== undefined) say('suckling', `Suckling young: ${stop(terms.sucklingYoung)}`);
  say('in-use', sayInUse(terms.inUse));
  say('storage', sayStorage(terms));
  const { people, pregnantWomen, other } = terms.hazards;
  if (people !== undefined) say('people', `Danger to people: ${stop(people)}`);
  if (pregnantWomen !== undefined) say('pregnant-women', `Pregnant women: ${stop(pregnantWomen)}`);
  if (other !== undefined) say('hazard', `Danger: ${stop(other)}`);
  if (terms.note !== undefined) say('note', `Note: ${stop(terms.note)}`);
  return parts;
}

const FLOW: Readonly<Record<string, string>> = {
  watery: 'watery liquid',
  syrupy: 'syrup',
  suspension: 'suspension',
};

/** A text of the user's with a full stop at its end. */
function stop(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

/**
 * One dose line in full words: "For lambs and ewes, under the skin: 0.2 milligrams for each kilogram. At most 10 mL in
 * one place."
 */
export function sayDoseLine(terms: LabelTerms, line: DoseLine): string {
  const who = line.classes.length === 0 ? 'any sheep' : classList(line.classes);
  const against = line.against === undefined ? '' : `, against ${line.against}`;
  const title = line.title === undefined ? '' : `${line.title}. `;
  const said = [`${title}For ${who}, ${ROUTE_WORDS[line.route]}${against}: ${sayRate(terms, line)}.`];
  const limits: string[] = [];
  if (line.leastWeight !== undefined) limits.push(`not under ${line.leastWeight}`);
  if (line.mostWeight !== undefined) limits.push(`not over ${line.mostWeight}`);
  if (line.leastAge !== undefined) limits.push(`not younger than ${period(line.leastAge)}`);
  if (line.mostAge !== undefined) limits.push(`not older than ${period(line.mostAge)}`);
  if (limits.length > 0) said.push(`${upper(limits.join(', '))}.`);
  if (line.mostPerSite !== undefined) said.push(`At most ${amount(terms, line.mostPerSite)} in one place.`);
  if (line.mostDose !== undefined) said.push(`At most ${amount(terms, line.mostDose)} in all.`);
  if (line.rounding !== undefined && line.rounding !== 'nearest')
    said.push(`Round the dose ${line.rounding}.`);
  if (line.repeats !== undefined) {
    const { doses, earliest, due, latest } = line.repeats;
    const between = [
      ...(earliest === undefined ? [] : [`not before ${period(earliest)}`]),
      ...(latest === undefined ? [] : [`not after ${period(latest)}`]),
    ];
    said.push(
      `${doses} doses in all, ${period(due)} apart${between.length > 0 ? ` (${between.join(', ')})` : ''}.`,
    );
  }
  if (line.followedBy !== undefined) {
    const next = terms.doseLines.find((each) => each.id === line.followedBy);
    said.push(`Then go on with: ${next?.title ?? (next ? sayRate(terms, next) : line.followedBy)}.`);
  }
  return said.join(' ');
}

function sayRate(terms: LabelTerms, line: DoseLine): string {
  const { piece } = terms;
  const { rate } = line;
  if (rate.style === 'rate') {
    const of = terms.actives.length > 1 ? ofSubstance(terms, rate.of, rate.text) : '';
    const main = printRate(parseRate(rate.text, 'rate', { piece }));
    const second =
      rate.perVolume === undefined
        ? ''
        : `, printed also as ${printRate(parseRate(rate.perVolume, 'perVolume', { piece }))}`;
    return `${of}${main}${second}`;
  }
  const bands = rate.bands.map((band) => `up to and with ${band.upTo} ${amount(terms, band.dose)}`);
  const from = rate.from === undefined ? '' : `from ${rate.from}; `;
  const further =
    rate.furtherStep === undefined
      ? '; above that no dose'
      : `; above that ${amount(terms, rate.furtherStep.dose)} more for each further ${rate.furtherStep.each} or part of it`;
  return `${from}${bands.join('; ')}${further}`;
}

/** "alphazol, ", where a rate counts one substance of several. */
function ofSubstance(terms: LabelTerms, of: number, text: string): string {
  const { unit } = parseRate(text, 'rate', { piece: terms.piece });
  const substance = terms.actives[of]?.substance;
  return substance === undefined || unit === 'mL' || unit === 'piece' ? '' : `${substance}, `;
}

function amount(terms: LabelTerms, text: string): string {
  return printAmount(parseAmount(text, 'amount', { piece: terms.piece }), terms.piece);
}

function period(text: string): string {
  return periodInWords(parsePeriod(text, 'period'));
}

function upper(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function sayPeriods(terms: LabelTerms, say: (key: string, text: string) => void): void {
  const seen = new Map<string, number>();
  for (const row of terms.periods) {
    // Two rows may be about the same thing: each needs a name of its own.
    const about = `period:${row.produce}:${row.market}:${[...row.classes, ...row.routes, ...row.doseLines].join('+')}`;
    const n = (seen.get(about) ?? 0) + 1;
    seen.set(about, n);
    say(`${about}:${n}`, sayPeriod(terms, row));
  }
  for (const produce of ['meat', 'milk'] as const) {
    if (terms.periods.some((row) => row.produce === produce && row.market === 'domestic')) continue;
    say(
      `period:${produce}:domestic::1`,
      `${PRODUCE_WORDS[produce]}: the label has no period entered. It never clears by time.`,
    );
  }
}

/** One row of the withdrawal table: "Meat, for lambs: 28 days after the last dose." */
export function sayPeriod(terms: LabelTerms, row: PeriodRow): string {
  const scope = [
    ...(row.market === 'export' ? ['for export'] : []),
    ...(row.classes.length > 0 ? [`for ${classList(row.classes)}`] : []),
    ...(row.routes.length > 0 ? [row.routes.map((route) => ROUTE_WORDS[route]).join(' or ')] : []),
    ...(row.doseLines.length > 0
      ? [
          `for the dose ${row.doseLines.map((id) => terms.doseLines.find((line) => line.id === id)?.title ?? id).join(' or ')}`,
        ]
      : []),
  ];
  const head = [PRODUCE_WORDS[row.produce], ...scope].join(', ');
  return `${head}: ${sayRow(row)}`;
}

function sayRow(row: PeriodRow): string {
  if (row.says === 'zero') return 'zero. It may be taken at once.';
  if (row.says === 'for-life') return 'never again, for life.';
  if (row.says === 'not-stated' || row.value === undefined) {
    return row.says === 'not-for-this-produce'
      ? `not for animals that give ${PRODUCE_WORDS[row.produce].toLowerCase()} for people.`
      : 'not stated. It never clears by time.';
  }
  const value = period(row.value);
  if (row.countedFrom === 'later-of-two' && row.valueFromDose !== undefined) {
    return `${value} after lambing or ${period(row.valueFromDose)} after the last dose, whichever is later.`;
  }
  return `${value} after ${ANCHOR_WORDS[row.countedFrom]}.`;
}

function sayNotIf(rule: NotIf): string {
  const words: Readonly<Record<NotIf['code'], () => string>> = {
    class: () => `Not for ${CLASS_WORDS[rule.value ?? ''] ?? rule.value}`,
    'younger-than': () => `Not under ${period(rule.value ?? '')} of age`,
    'older-than': () => `Not over ${period(rule.value ?? '')} of age`,
    'lighter-than': () => `Not under ${rule.value}`,
    'heavier-than': () => `Not over ${rule.value}`,
    'pregnant-from-to': () =>
      `Not in ewes from ${period(rule.from ?? '')} after the ram went in to ${period(rule.to ?? '')} after he came out`,
    'before-lambing': () => `Not within ${period(rule.value ?? '')} before lambing`,
    milking: () => 'Not in ewes whose milk is for people',
    'condition-under': () => `Not in a body condition under ${rule.value}`,
    'shorn-within': () => `Not within ${period(rule.value ?? '')} after shearing`,
    'same-substance-within': () => `Not within ${period(rule.value ?? '')} of the same substance`,
    'not-with': () => `Not together with ${rule.value}`,
  };
  const text = words[rule.code]();
  return rule.says === undefined ? `${text}.` : `${text}: ${stop(rule.says)}`;
}

function sayInUse(inUse: string | undefined): string {
  const text = inUse?.trim().toLowerCase();
  if (inUse === undefined || text === undefined)
    return 'How long it keeps once opened is not stated: only its expiry date limits it.';
  if (text === 'none') return 'Once opened it keeps to its expiry date.';
  if (text === 'at once') return 'Once opened, use it at once and discard the rest.';
  return `Once opened it may be used for ${period(inUse)}, then the rest is discarded.`;
}

function sayStorage(terms: LabelTerms): string | undefined {
  const { says, leastC, mostC } = terms.storage;
  const range =
    leastC !== undefined && mostC !== undefined
      ? `between ${leastC} °C and ${mostC} °C`
      : leastC !== undefined
        ? `not under ${leastC} °C`
        : mostC !== undefined
          ? `not over ${mostC} °C`
          : undefined;
  const parts = [...(range === undefined ? [] : [`${range}.`]), ...(says === undefined ? [] : [stop(says)])];
  return parts.length === 0 ? undefined : `Storage: ${parts.join(' ')}`;
}

/**
 * The period of one produce in a list's column: "28 d", "zero", "not stated", "not for milk", "for life", several
 * as "28 d to 42 d". Only what is sold at home. A class or route that no row speaks of adds "not stated".
 */
export function periodText(terms: LabelTerms, produce: Produce): string {
  const rows = terms.periods.filter((row) => row.produce === produce && row.market === 'domestic');
  const found = new Set<PeriodRow>();
  let silent = rows.length === 0;
  for (const line of terms.doseLines) {
    for (const cls of line.classes.length > 0 ? line.classes : CLASSES) {
      const here = rows.filter((row) =>
        rowMatches(row, { class: cls, route: line.route, doseLine: line.id }),
      );
      if (here.length === 0) silent = true;
      for (const row of here) found.add(row);
    }
  }
  const timed = new Map<string, number>();
  const others = new Set<string>();
  for (const row of found) {
    if (row.says === 'zero') timed.set('zero', 0);
    else if (row.says === 'for-life') others.add('for life');
    else if (row.says === 'not-for-this-produce')
      others.add(`not for ${PRODUCE_WORDS[produce].toLowerCase()}`);
    else if (row.says === 'not-stated' || row.value === undefined) silent = true;
    else {
      const value = parsePeriod(row.value, 'value');
      const text = row.countedFrom === 'last-dose' ? '' : ` after ${ANCHOR_WORDS[row.countedFrom]}`;
      timed.set(`${printPeriod(value)}${text}`, value.unit === 'd' ? value.value * 24 : value.value);
    }
  }
  if (silent) others.add('not stated');
  const sorted = [...timed].sort((a, b) => a[1] - b[1]).map(([text]) => text);
  const range = sorted.length > 1 ? [`${sorted[0]} to ${sorted.at(-1)}`] : sorted;
  return [...range, ...others].join(' or ');
}
