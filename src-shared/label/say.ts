import { parseStrength, printStrength } from '../quantity/strength.ts';
import { sayDoseLine } from './say-dose.ts';
import { notIfWords } from './say-not-if.ts';
import { sayOthers, sayPeriods } from './say-periods.ts';
import { periodWords, stop } from './say-text.ts';
import type { Active, LabelTerms, NotIf, SucklingMeat } from './terms.ts';
import { FORM_WORDS, KIND_WORDS, PRESCRIPTION_WORDS, PURPOSE_WORDS } from './words.ts';

export { sayDoseLine } from './say-dose.ts';
export { periodScope, periodText, sayPeriod } from './say-periods.ts';

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
    say(`active:${active.substance}`, sayActive(active, `actives.${i}.strength`, piece));
  });
  if (terms.narrowMargin) say('margin', 'Little room between a dose and too much: weigh, do not guess.');
  if (terms.shakeWell) say('shake', 'Shake well before use.');
  if (terms.flowClass !== undefined)
    say('flow', `It flows ${terms.flowClass === 'oily' ? 'like oil' : `as a ${FLOW[terms.flowClass]}`}.`);
  if (terms.stains) say('stains', 'It stains wool.');
  if (terms.irritates) say('irritates', 'It irritates where it is injected.');
  if (terms.leaks === true) say('leaks', 'It leaks back out of the place.');
  say('needle', sayNeedle(terms));
  for (const line of terms.doseLines) say(`dose:${line.id}`, sayDoseLine(terms, line));
  sayPeriods(terms, say);
  sayOthers(terms, say);
  for (const rule of terms.notIf) say(`not-if:${rule.id}`, sayNotIf(rule));
  if (terms.sucklingYoung !== undefined) say('suckling', `Suckling young: ${stop(terms.sucklingYoung)}`);
  if (terms.sucklingMeat !== undefined) say('suckling-meat', saySuckling(terms.sucklingMeat));
  say('in-use', sayInUse(terms.inUse));
  say('storage', sayStorage(terms));
  const { people, pregnantWomen, other } = terms.hazards;
  if (people !== undefined) say('people', `Danger to people: ${stop(people)}`);
  if (pregnantWomen !== undefined) say('pregnant-women', `Pregnant women: ${stop(pregnantWomen)}`);
  if (other !== undefined) say('hazard', `Danger: ${stop(other)}`);
  if (terms.note !== undefined) say('note', `Note: ${stop(terms.note)}`);
  return parts;
}

function sayActive(active: Active, field: string, piece: string | undefined): string {
  const { substance, salt, strength, strengthOf } = active;
  const head = salt === undefined ? substance : `${substance} (as ${salt})`;
  if (strength === undefined) return `${head}: no strength entered.`;
  const words = printStrength(parseStrength(strength, field, { piece }));
  if (salt === undefined) return `${head}: ${words}.`;
  const of = { base: `counted as ${substance}`, salt: `counted as ${salt}` };
  return `${head}: ${words}, ${strengthOf === undefined ? 'and whether that counts the salt is not said' : of[strengthOf]}.`;
}

const FLOW: Readonly<Record<string, string>> = {
  watery: 'watery liquid',
  syrupy: 'syrup',
  suspension: 'suspension',
};

/** What the insert states of the needle: "Needle: 18 gauge; not longer than 15 mm." */
function sayNeedle({ needle }: LabelTerms): string | undefined {
  const { gauge, length, mostLength, punctures } = needle ?? {};
  const parts = [
    ...(gauge === undefined ? [] : [`${gauge.replace(/\s*g$/i, '')} gauge`]),
    ...(length === undefined ? [] : [`${inches(length)} long`]),
    ...(mostLength === undefined ? [] : [`not longer than ${inches(mostLength)}`]),
    ...(punctures === undefined ? [] : [`the stopper is pierced at most ${punctures} times`]),
  ];
  return parts.length === 0 ? undefined : `Needle: ${parts.join('; ')}.`;
}

/** A length without a unit is in inches, as on the packet. */
function inches(text: string): string {
  return /^[\d\s/.¼½⅝¾-]+$/.test(text) ? `${text.trim()} in` : text;
}

function sayNotIf(rule: NotIf): string {
  const text = notIfWords(rule);
  return rule.says === undefined ? `${text}.` : `${text}: ${stop(rule.says)}`;
}

function saySuckling({ says, value }: SucklingMeat): string {
  if (says === 'as-the-ewe') return 'Meat of lambs that suck her: held as long as that of the ewe.';
  if (says === 'zero' || value === undefined)
    return 'Meat of lambs that suck her: zero. It may be taken at once.';
  return `Meat of lambs that suck her: ${periodWords(value)} after the last dose of the ewe.`;
}

function sayInUse(inUse: string | undefined): string {
  const text = inUse?.trim().toLowerCase();
  if (inUse === undefined || text === undefined)
    return 'How long it keeps once opened is not stated: only its expiry date limits it.';
  if (text === 'none') return 'Once opened it keeps to its expiry date.';
  if (text === 'at once') return 'Once opened, use it at once and discard the rest.';
  return `Once opened it may be used for ${periodWords(inUse)}, then the rest is discarded.`;
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
