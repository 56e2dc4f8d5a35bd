import { quoted } from '../quantity/field.ts';
import { Refusal } from '../refusal.ts';
import type { Day } from '../time/day.ts';
import { checkDigitHolds, FIELDS, isProduct, packDay, sayElement, VALUE_SIGNS } from './pack-code-fields.ts';
import { wrongKeyboard } from './pack-code-keyboard.ts';
import { type Element, holdsAnotherScan, otherReading, SEPARATOR, split } from './pack-code-split.ts';
import type { Expiry } from './use-by.ts';

/**
 * What a scanner typed off a pack. Nothing is guessed: what can be read in two ways is `ambiguous`, what is damaged is
 * `unreadable`, and both say what to do.
 */
export type PackCode = {
  /** 14 digits; those of a 13-digit code with a nought before them. */
  readonly gtin: string;
  readonly expiry?: Expiry;
  readonly batch?: string;
  readonly serial?: string;
  readonly made?: Expiry;
  readonly bestBefore?: Expiry;
  readonly variant?: string;
  /** National numbers with the field they stood in (710 to 714). */
  readonly national: readonly { ai: string; number: string }[];
  /** What the code holds besides, which is not read here. */
  readonly passed: readonly string[];
  /** In the order they stood, for the working. */
  readonly elements: readonly { ai: string; value: string }[];
  /** Whether a prefix or brackets show that the scanner's letters come out right. */
  readonly lettersSure: boolean;
};

/** Longer is no pack: three times what fits on one. */
export const MOST_SCAN = 200;

const TYPE_IT = 'Scan it once more, or type batch and expiry from the pack.';
const ONE_AT_A_TIME = 'Empty the field and scan one pack at a time.';

const unreadable = (says: string, next = TYPE_IT) =>
  new Refusal('unreadable', `Scan: ${says}`, { field: 'scan', next });
const ambiguous = (says: string, next: string) =>
  new Refusal('ambiguous', `Scan: ${says}`, { field: 'scan', next });
const twoScans = () => ambiguous('that looks like two scans run together.', ONE_AT_A_TIME);

/**
 * Reads a GS1 element string (DataMatrix and its kin, with FNC1 as ASCII 29), the same as it is printed with brackets,
 * or a 13-digit linear code. `on` fixes the century of two-digit years. A scanner that is known to send separators
 * (`sendsSeparators`) is believed where its last field ends; else one separator in the scan shows that it does.
 * Refuses `ambiguous` and `unreadable`.
 */
export function readPackCode(
  scan: string,
  { on, sendsSeparators = false }: { on?: Day | undefined; sendsSeparators?: boolean | undefined } = {},
): PackCode {
  // Some programs show the separator as its picture.
  const text = scan.replace(/^[ \t\r\n]+|[ \t\r\n]+$/g, '').replaceAll('\u241d', SEPARATOR);
  if (text === '') throw unreadable('there is nothing in it.', 'Scan the pack.');
  if (text.length > MOST_SCAN) throw unreadable('that is too long for one pack.', ONE_AT_A_TIME);
  if (/[\r\n\t]/.test(text) || /.\][A-Za-z]\d/.test(text)) throw twoScans();
  const mistyped = wrongKeyboard(text);
  if (mistyped !== undefined) {
    throw unreadable(
      `it ${mistyped}.`,
      'Set the scanner and the computer to the same keyboard, then scan again.',
    );
  }
  const prefix = /^\][A-Za-z]\d/.exec(text)?.[0];
  const body = prefix === undefined ? text : text.slice(3);
  if (prefix !== undefined && !ELEMENT_PREFIXES.has(prefix) && prefix !== ']E0') {
    throw unreadable('that kind of code does not hold what a medicine pack says.', OTHER_CODE);
  }
  if (prefix === ']E0' || (prefix === undefined && /^\d{1,14}$/.test(body))) return linear(body, prefix);
  if (prefix === undefined && /^\d{26}$/.test(body) && halves(body).every(checkDigitHolds)) throw twoScans();
  if (/^\(\d{2,4}\)/.test(body)) return packOf(bracketed(body), [], on, true);
  const isSure = sendsSeparators || body.includes(SEPARATOR);
  return elementString(body, on, { lettersSure: prefix !== undefined, isSure });
}

/** GS1 DataMatrix, GS1-128, GS1 DataBar, GS1 QR. */
const ELEMENT_PREFIXES: ReadonlySet<string> = new Set([']d2', ']C1', ']e0', ']Q3']);
const OTHER_CODE = 'Scan the square code, or the long one with 13 digits.';

const halves = (digits: string) => [digits.slice(0, 13), digits.slice(13)];

function linear(digits: string, prefix: string | undefined): PackCode {
  if (!/^\d{13}$/.test(digits)) {
    const says = /^\d+$/.test(digits) ? `this has ${digits.length} digits` : 'this holds more than digits';
    throw unreadable(`${says}, and the long code of a pack has 13.`);
  }
  if (!checkDigitHolds(digits) || !isProduct(`0${digits}`)) throw wrongDigit(digits);
  if (prefix === undefined && digits.startsWith('010')) {
    const says = `${digits} is either a product number or the beginning of a longer code that broke off.`;
    throw ambiguous(says, 'Scan it once more; if it stays so, choose the product by its name.');
  }
  const gtin = `0${digits}`;
  return { gtin, national: [], passed: [], elements: [{ ai: '01', value: gtin }], lettersSure: true };
}

function wrongDigit(digits: string): Refusal {
  return unreadable(`the check digit of ${digits} does not fit, so a digit is wrong or missing.`);
}

/** "(01)05012345678900(17)271231(10)ABC", with or without spaces, as it is printed under a code. */
function bracketed(body: string): Element[] {
  const parts = body.split(/\((\d{2,4})\)/).slice(1);
  const elements: Element[] = [];
  for (let i = 0; i + 1 < parts.length; i += 2) {
    const ai = parts[i] ?? '';
    const kind = FIELDS.get(ai);
    if (kind === undefined) throw unreadable(`(${ai}) is no field that is read here.`);
    const value = (parts[i + 1] ?? '').replaceAll(SEPARATOR, '').trim();
    elements.push({ ai, value: 'fixed' in kind ? value.replace(/ /g, '') : value, open: false });
  }
  return elements;
}

function elementString(
  body: string,
  on: Day | undefined,
  { lettersSure, isSure }: { lettersSure: boolean; isSure: boolean },
): PackCode {
  const { elements, passed, broken } = split(body);
  const last = elements.at(-1);
  if (last?.open === true && !isSure) askIfUnsure(last, elements, on);
  if (elements.some(({ ai, value, open }) => ai !== '01' && open && holdsAnotherScan(value)))
    throw twoScans();
  if (broken !== undefined) {
    const { ai, rest } = broken;
    if (ai === undefined && elements.length === 0)
      throw unreadable(`${quoted(rest)} does not begin as the code of a pack does.`);
    const where = ai === undefined ? quoted(rest) : (FIELDS.get(ai)?.says ?? ai);
    throw unreadable(`it breaks off at ${where}, so it is half a scan or a damaged one.`);
  }
  return packOf(elements, passed, on, lettersSure);
}

/** A last field without a separator before or behind it, which could hold other fields or have been cut short. */
function askIfUnsure(last: Element, elements: readonly Element[], on: Day | undefined): void {
  const seen = elements.map(({ ai }) => ai);
  const other = otherReading(last, seen, on);
  if (other?.isTwoScans === true) throw twoScans();
  const whole = sayElement(last.ai, last.value, on);
  if (other !== undefined) {
    const apart = other.elements.map(({ ai, value }) => sayElement(ai, value, on)).join(' and ');
    throw ambiguous(
      `it may say ${whole}, or ${apart}: no separator shows where a field ends.`,
      'Type batch and expiry from the pack; a scanner that sends FNC1 as ASCII 29 reads such packs by itself.',
    );
  }
  if (!seen.includes('17') && /.17\d{0,5}$/.test(last.value)) {
    throw ambiguous(`it may say ${whole}, or it broke off in the middle of an expiry.`, TYPE_IT);
  }
}

function packOf(
  elements: readonly Element[],
  passed: readonly string[],
  on: Day | undefined,
  lettersSure: boolean,
): PackCode {
  const ais = elements.map(({ ai }) => ai);
  if (new Set(ais).size < ais.length) throw twoScans();
  for (const element of elements) check(element, on);
  const valueIn = (ai: string) => elements.find((one) => one.ai === ai)?.value;
  const dayOf = (ai: string) => {
    const value = valueIn(ai);
    return value === undefined ? undefined : packDay(value, on);
  };
  const gtin = valueIn('01');
  if (gtin === undefined) throw unreadable('the number of the product is missing, so it is half a scan.');
  const [expiry, made, bestBefore] = [dayOf('17'), dayOf('11'), dayOf('15')];
  const [batch, serial, variant] = [valueIn('10'), valueIn('21'), valueIn('240')];
  return {
    gtin,
    ...(expiry === undefined ? {} : { expiry }),
    ...(batch === undefined ? {} : { batch }),
    ...(serial === undefined ? {} : { serial }),
    ...(made === undefined ? {} : { made }),
    ...(bestBefore === undefined ? {} : { bestBefore }),
    ...(variant === undefined ? {} : { variant }),
    national: elements.flatMap(({ ai, value }) =>
      FIELDS.get(ai)?.name === 'national' ? [{ ai, number: value }] : [],
    ),
    passed,
    elements: elements.map(({ ai, value }) => ({ ai, value })),
    lettersSure,
  };
}

function check({ ai, value }: Element, on: Day | undefined): void {
  const kind = FIELDS.get(ai);
  if (kind === undefined) return;
  if ('fixed' in kind) {
    if (kind.fixed === 'product') {
      if (!/^\d{14}$/.test(value)) throw unreadable(`${quoted(value)} is no product number of 14 digits.`);
      if (!isProduct(value)) throw wrongDigit(value);
    } else if (packDay(value, on) === undefined) {
      throw unreadable(`${kind.says} ${quoted(value)} is no day written as year, month, day in six digits.`);
    }
    return;
  }
  if (value === '') throw unreadable(`nothing stands behind ${kind.says}.`);
  if (value.length > kind.most) {
    throw unreadable(`${kind.says} ${quoted(value)} has more than ${kind.most} signs.`);
  }
  if (!VALUE_SIGNS.test(value)) {
    throw unreadable(`${kind.says} ${quoted(value)} holds a sign that no pack code can hold.`);
  }
}
