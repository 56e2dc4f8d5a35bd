import type { SheepClass } from '../../src-shared/label/terms.ts';
import { compare } from '../../src-shared/quantity/fraction.ts';
import {
  kilograms,
  parseWeight,
  type Weight,
  type WeightUnit,
  weightQuestion,
  weightUnit,
} from '../../src-shared/quantity/weight.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { bareCell, checkShown } from './cells.ts';
import { type Question, type QuestionCode, sayLines } from './questions.ts';
import type { Decimal } from './table.ts';

/** A column of weights: its decimal mark, its unit, and whether sheep can weigh that. */

export type WeightOptions = {
  weightUnit?: WeightUnit | undefined;
  /** `both`: either mark begins the part below one. */
  decimal?: Decimal | 'both' | undefined;
  /** Questions that a person has answered; their answers stand and are not asked again. */
  confirmed?: readonly QuestionCode[] | undefined;
};

export type WeightCell = { line: number; cell: string; key?: string; class?: SheepClass | undefined };

export type WeightColumn = {
  unit: WeightUnit | undefined;
  headerUnit: WeightUnit | undefined;
  decimal: Decimal | 'both';
  questions: Question[];
};

/** What the book keeps of a weight: four digits before the point and nine after. */
const KEPT = /^\d{1,4}(\.\d{1,9})?$/;
/** A grown sheep below this is a slip of the decimal mark (practice). */
const LEAST_GROWN = { value: '15', unit: 'kg' } as const;
const GROWN: readonly SheepClass[] = ['ewe', 'ram', 'wether', 'hogg'];
/** In no flock is half above this; in pounds it is an ordinary weight (practice). Asked of 5 weights or more. */
const HALF_TOO_HEAVY = { value: '110', unit: 'kg' } as const;

/** The unit that the name of a column states: "Weight (kg)", "Live weight lbs". */
export function unitInHeader(header: string | undefined): WeightUnit | undefined {
  const units = new Set(
    (header ?? '')
      .split(/[^A-Za-z]+/)
      .map(weightUnit)
      .filter((unit) => unit !== undefined),
  );
  const [unit] = units;
  return units.size === 1 ? unit : undefined;
}

function unitInCell(cell: string): boolean {
  return /\d\s*[a-z]+$/i.test(cell);
}

/** One weight of a column; throws a Refusal with the reason. `kg` or `lb` in the cell must not deny the header. */
export function readWeightCell(cell: string, field: string, column: WeightColumn): Weight {
  checkShown(cell, field);
  const commas = cell.includes(',');
  const points = cell.includes('.');
  if (commas && points) {
    throw new Refusal('weight-thousands', `“${cell}” has a comma and a point; write it as 62.5.`, { field });
  }
  if (
    column.decimal !== 'both' &&
    ((commas && column.decimal === '.') || (points && column.decimal === ','))
  ) {
    const mark = column.decimal === ',' ? 'comma' : 'point';
    throw new Refusal('decimal', `“${cell}” has another decimal mark than the ${mark} of this column.`, {
      field,
    });
  }
  const weight = parseWeight(cell.replace(',', '.'), field, { unit: column.unit });
  if (unitInCell(cell) && column.headerUnit !== undefined && weight.unit !== column.headerUnit) {
    throw new Refusal(
      'weight-unit',
      `“${cell}” is in ${weight.unit} but the column is named as ${column.headerUnit}; correct one of them.`,
      { field },
    );
  }
  if (!KEPT.test(weight.value)) {
    throw new Refusal('weight-impossible', `“${cell}” cannot be the weight of a sheep; correct it.`, {
      field,
    });
  }
  return weight;
}

/** True for 0 and for a number below zero: a crate that read nothing, never a weight. */
export function isNoWeight(cell: string): boolean {
  return /^(?:[-−–]\s*\d+(?:[.,]\d+)?|0+(?:[.,]0+)?)\s*[a-z]*$/i.test(cell);
}

function weightsOf(
  cells: readonly WeightCell[],
  field: string,
  column: WeightColumn,
): (Weight & WeightCell)[] {
  const weights: (Weight & WeightCell)[] = [];
  for (const one of cells) {
    if (isNoWeight(one.cell)) continue;
    try {
      weights.push({ ...readWeightCell(one.cell, field, column), ...one });
    } catch (thrown) {
      // Refused again, and shown, when its row is read.
      if (!(thrown instanceof Refusal)) throw thrown;
    }
  }
  return weights;
}

function unitQuestion(field: string, message: string): Question {
  return { code: 'weight-unit', field, message, choices: ['kg', 'lb'] };
}

/** Asks when the weights as a whole look as if they were in the other unit. */
function wholeColumnInOtherUnit(
  weights: readonly (Weight & WeightCell)[],
  field: string,
  last: ReadonlyMap<string, Weight>,
): Question | undefined {
  const compared = weights.filter((w) => w.key !== undefined && last.has(w.key));
  for (const [code, says] of [
    ['pounds-for-kilograms', '2.2 times'],
    ['kilograms-for-pounds', '0.45 times'],
  ] as const) {
    const telling = compared.filter((w) => weightQuestion(w, last.get(w.key ?? ''))?.code === code);
    // One animal can be a slip; four fifths of those compared are a unit.
    if (telling.length >= 2 && telling.length * 5 >= compared.length * 4) {
      return unitQuestion(
        field,
        `${telling.length} of ${compared.length} animals weigh about ${says} their last weight; are these weights in kg or lb?`,
      );
    }
  }
  const heavy = weights.filter((w) => compare(kilograms(w), kilograms(HALF_TOO_HEAVY)) > 0);
  if (weights.length >= 5 && heavy.length * 2 > weights.length) {
    return unitQuestion(
      field,
      'More than half of these sheep would weigh over 110 kg; are the numbers in kg or lb?',
    );
  }
  return undefined;
}

/**
 * What holds for the whole column, and what must be asked about it first. The unit comes from the answer, the
 * header or each cell, and never from a habit; the answer and the header must not differ unless confirmed.
 */
export function weightColumn(
  cells: readonly WeightCell[],
  field: string,
  header: string | undefined,
  options: WeightOptions,
  last: ReadonlyMap<string, Weight> = new Map(),
): WeightColumn {
  const filled = cells.filter((one) => one.cell !== '');
  const confirmed = options.confirmed?.includes('weight-unit') === true;
  const headerUnit = unitInHeader(header);
  const commas = filled.filter((one) => /^\D*\d+,\d+\D*$/.test(one.cell));
  const points = filled.filter((one) => /^\D*\d+\.\d+\D*$/.test(one.cell));
  const column: WeightColumn = {
    unit: options.weightUnit ?? headerUnit,
    headerUnit: confirmed ? undefined : headerUnit,
    decimal: options.decimal ?? (commas.length > 0 ? ',' : '.'),
    questions: [],
  };
  if (options.decimal === undefined && commas.length > 0 && points.length > 0) {
    column.questions.push({
      code: 'decimal',
      field,
      message: `“${commas[0]?.cell}” on line ${commas[0]?.line} has a comma and “${points[0]?.cell}” on line ${points[0]?.line} a point; which begins the part below one?`,
      choices: ['.', ',', 'both'],
    });
    return column;
  }
  const bare = filled.filter((one) => !unitInCell(one.cell) && !isNoWeight(one.cell));
  if (column.unit === undefined && bare.length > 0) {
    column.questions.push(
      unitQuestion(field, `Are these weights in kg or lb? Line ${bare[0]?.line} says “${bare[0]?.cell}”.`),
    );
  } else if (
    !confirmed &&
    bare.length > 0 &&
    headerUnit !== undefined &&
    options.weightUnit !== undefined &&
    headerUnit !== options.weightUnit
  ) {
    column.questions.push(
      unitQuestion(
        field,
        `The column is named “${bareCell(header)}” but is to be read in ${options.weightUnit}; which is it, kg or lb?`,
      ),
    );
  } else if (!confirmed) {
    const question = wholeColumnInOtherUnit(weightsOf(filled, field, column), field, last);
    if (question !== undefined) column.questions.push(question);
  }
  return column;
}

/** Why this weight is asked about, or undefined. Plausible is 1 to 160 kg, and 15 kg or more when grown. */
export function isOddWeight(weight: Weight, sheepClass: SheepClass | undefined, last?: Weight): boolean {
  const question = weightQuestion(weight, last);
  if (question !== undefined && question.code !== 'weight-jump') return true;
  if (sheepClass === undefined || !GROWN.includes(sheepClass)) return false;
  return compare(kilograms(weight), kilograms(LEAST_GROWN)) < 0;
}

/** The rows whose weight is asked about, in one question; undefined when there is none. */
export function oddWeightQuestion(
  odd: readonly { line: number; cell: string }[],
  field: string,
  choices: string[],
): Question | undefined {
  const [first] = odd;
  if (first === undefined) return undefined;
  const lines = odd.map((one) => one.line);
  return {
    code: 'weight-check',
    field,
    message: `Check the weight on ${sayLines(lines)}: “${first.cell}” is not what such a sheep weighs. What shall become of ${lines.length === 1 ? 'it' : 'them'}?`,
    choices,
    lines,
  };
}
