import { periodScope } from '../../../src-shared/label/say.ts';
import type { DoseLine, LabelTerms, PeriodRow } from '../../../src-shared/label/terms.ts';
import { compareAmounts, parseAmount } from '../../../src-shared/quantity/amount.ts';
import { compare } from '../../../src-shared/quantity/fraction.ts';
import { type Period, parsePeriod } from '../../../src-shared/quantity/period.ts';
import { measureOf, parseRate, perKilogram, rateAmount } from '../../../src-shared/quantity/rate.ts';
import { parseStrength, strengthMeasure, strengthPerUnit } from '../../../src-shared/quantity/strength.ts';
import { kilograms, parseWeight } from '../../../src-shared/quantity/weight.ts';

/**
 * What must be typed a second time from the insert, unseen, before a label may be planned with: the rates with their
 * whole tables, the strengths and the meat periods, where one wrong digit hurts.
 */
export type Again = {
  readonly key: string;
  /** What to look for on the insert; never a figure that was typed. */
  readonly label: string;
  readonly hint: string;
  /** What was typed first. */
  readonly text: string;
  /** Of which substance it is, where that could be another one. */
  readonly of?: string;
  /** True when the second typing says the same as the first. Refuses what cannot be read. */
  agrees(text: string, field: string): boolean;
};

/** All that must be typed again. */
export function typeAgain(terms: LabelTerms): readonly Again[] {
  return [
    ...terms.doseLines.flatMap((line, n) =>
      line.rate.style === 'rate'
        ? [rateAgain(terms, line, line.rate, n)]
        : tableAgain(terms, line, line.rate, n),
    ),
    ...strengthsAgain(terms),
    ...meatAgain(terms),
    ...sucklingAgain(terms),
  ];
}

/** Of all that must be typed again, what a correction changed. */
export function changedAgain(before: LabelTerms, after: LabelTerms): readonly Again[] {
  const was = new Map(typeAgain(before).map((one) => [one.key, one] as const));
  return typeAgain(after).filter((one) => {
    const first = was.get(one.key);
    return first?.text !== one.text || first.of !== one.of;
  });
}

/** "", or which of several dose lines it is: "Lambs", "dose 2". */
function nameOf(terms: LabelTerms, line: DoseLine, n: number): string {
  return terms.doseLines.length > 1 ? (line.title ?? `dose ${n + 1}`) : '';
}

function rateAgain(
  terms: LabelTerms,
  line: DoseLine,
  rate: Extract<DoseLine['rate'], { style: 'rate' }>,
  n: number,
): Again {
  const { piece } = terms;
  const measure = measureOf(parseRate(rate.text, 'rate', { piece }).unit);
  const countsSubstance = measure === 'mass' || measure === 'activity';
  // Of several substances it is named, so that the eye goes to the right figure and not to the one it went to before.
  const of = terms.actives.length > 1 && countsSubstance ? (terms.actives[rate.of]?.substance ?? '') : '';
  const named = [nameOf(terms, line, n), of].filter((word) => word !== '').join(', ');
  return {
    key: `rate-${line.id}`,
    label: named === '' ? 'Rate' : `Rate of ${named}`,
    hint: 'The dose for so much weight, or for each animal.',
    text: rate.text,
    of,
    agrees: (text, field) => sameRate(text, rate.text, field, piece),
  };
}

/** A table is typed again as a whole: a wrong weight in it gives as wrong a dose as a wrong volume. */
function tableAgain(
  terms: LabelTerms,
  line: DoseLine,
  rate: Extract<DoseLine['rate'], { style: 'bands' }>,
  n: number,
): Again[] {
  const name = nameOf(terms, line, n);
  const table = name === '' ? 'Table' : `Table of ${name}`;
  const weight = (key: string, label: string, hint: string, first: string): Again => ({
    key: `${key}-${line.id}`,
    label: `${table}${label}`,
    hint,
    text: first,
    agrees: (text, field) =>
      compare(kilograms(parseWeight(text, field)), kilograms(parseWeight(first, field))) === 0,
  });
  const dose = (key: string, label: string, hint: string, first: string): Again => ({
    key: `${key}-${line.id}`,
    label: `${table}${label}`,
    hint,
    text: first,
    agrees: (text, field) => sameAmount(text, first, field, terms.piece),
  });
  const { from, bands, furtherStep } = rate;
  return [
    ...(from === undefined ? [] : [weight('from', ': from', 'Where the table begins.', from)]),
    ...bands.flatMap((band, b) => [
      weight(`up-to-${b}`, `, line ${b + 1}: up to`, 'The weight, as in 20 kg.', band.upTo),
      dose(`band-${b}`, `, line ${b + 1}: dose`, 'What an animal of this line gets.', band.dose),
    ]),
    ...(furtherStep === undefined
      ? []
      : [
          weight('each', ': for each further', 'The step above the table, as in 10 kg.', furtherStep.each),
          dose('step', ': so much more', 'What each step adds.', furtherStep.dose),
        ]),
  ];
}

function strengthsAgain({ actives, kind, piece }: LabelTerms): Again[] {
  return actives.flatMap(({ substance, salt, strength, strengthOf }, n) => {
    if (strength === undefined) return [];
    const of = strengthOf === 'salt' && salt !== undefined ? salt : substance;
    return [
      {
        key: `strength-${n}`,
        // The name that the strength counts: of base and salt the insert prints two figures.
        label: `Strength of ${of}`,
        hint: 'How much of it is in how much medicine.',
        text: strength,
        of,
        agrees: (text: string, field: string) => {
          const one = parseStrength(text, field, { piece });
          const other = parseStrength(strength, field, { piece });
          return (
            strengthMeasure(one) === strengthMeasure(other) &&
            (one.unit === '%' ||
              other.unit === '%' ||
              (one.inUnit === 'piece') === (other.inUnit === 'piece')) &&
            compare(strengthPerUnit(one, kind), strengthPerUnit(other, kind)) === 0
          );
        },
      },
    ];
  });
}

function meatAgain(terms: LabelTerms): Again[] {
  const meat = terms.periods.filter((row) => row.produce === 'meat');
  const labels = meat.map((row) => ['Meat period', ...periodScope(terms, row)].join(', '));
  return meat.flatMap((row, n) => {
    const label = labels[n] ?? 'Meat period';
    const isAlone = labels.filter((one) => one === label).length === 1;
    const head = isAlone ? label : `${label}, row ${n + 1}`;
    const first = typedPeriod(row);
    if (first === undefined) return [];
    const main: Again = {
      key: `meat-${n}`,
      label: head,
      hint: 'As in 28 d, 72 h or zero; days and hours are not the same.',
      text: first,
      agrees: (text, field) => samePeriod(text, first, field),
    };
    const { valueFromDose } = row;
    if (valueFromDose === undefined) return [main];
    return [
      main,
      {
        key: `meat-${n}-dose`,
        label: `${head}, from the last dose`,
        hint: 'As in 28 d or 72 h.',
        text: valueFromDose,
        agrees: (text, field) => samePeriod(text, valueFromDose, field),
      },
    ];
  });
}

/** It can free lambs before their dam, so that one wrong digit hurts here too. */
function sucklingAgain({ sucklingMeat }: LabelTerms): Again[] {
  if (sucklingMeat === undefined || sucklingMeat.says === 'as-the-ewe') return [];
  const first = sucklingMeat.says === 'zero' ? 'zero' : (sucklingMeat.value ?? '');
  return [
    {
      key: 'suckling',
      label: 'Meat period of lambs that suck her',
      hint: 'As in 7 d, 72 h or zero; days and hours are not the same.',
      text: first,
      agrees: (text, field) => samePeriod(text, first, field),
    },
  ];
}

/** A row as a period that can be typed; nothing where it says that time does not end it, or leaves it open. */
function typedPeriod(row: PeriodRow): string | undefined {
  return row.says === 'zero' ? 'zero' : row.value;
}

function readPeriod(text: string, field: string): Period {
  return /^(?:zero|nil|none)$/i.test(text.trim()) ? { value: 0, unit: 'd' } : parsePeriod(text, field);
}

function samePeriod(text: string, first: string, field: string): boolean {
  const one = readPeriod(text, field);
  const other = readPeriod(first, field);
  return one.value === other.value && (one.unit === other.unit || one.value === 0);
}

function sameAmount(text: string, first: string, field: string, piece: string | undefined): boolean {
  const one = parseAmount(text, field, { piece });
  const other = parseAmount(first, field, { piece });
  return one.kind === other.kind && compareAmounts(one, other) === 0;
}

function sameRate(text: string, first: string, field: string, piece: string | undefined): boolean {
  const one = parseRate(text, field, { piece });
  const other = parseRate(first, field, { piece });
  if (measureOf(one.unit) !== measureOf(other.unit)) return false;
  if ((one.perUnit === 'head') !== (other.perUnit === 'head')) return false;
  const each = one.perUnit === 'head' ? rateAmount : perKilogram;
  return compare(each(one), each(other)) === 0;
}
