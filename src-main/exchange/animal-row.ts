import type { SheepClass } from '../../src-shared/label/terms.ts';
import type { Weight } from '../../src-shared/quantity/weight.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import type { Day } from '../../src-shared/time/day.ts';
import { bareCell, checkShown } from './cells.ts';
import { type DateOrder, readDate } from './dates.ts';
import type { AnimalColumn } from './guess.ts';
import { checkSameAnimal, type Identity, LONGEST_NUMBER, readIdentityCell } from './identities.ts';
import type { RefusedRow } from './questions.ts';
import type { TableRow } from './table.ts';
import { isNoWeight, isOddWeight, readWeightCell, type WeightColumn } from './weights.ts';
import { classOfWord, contradicts, type Sex, sexOfWord } from './words.ts';

/** One row of a flock list, read or refused. */

export type ImportedAnimal = {
  /** What people call it: the tag as written, else the chip, else the management number. */
  shown: string;
  /** Every key it is found by; a tag and its own chip have one. */
  keys: string[];
  tag?: string;
  /** 15 digits. */
  chip?: string;
  management?: string;
  class: SheepClass;
  sex?: Sex;
  born?: Day;
  dam?: string;
  group?: string;
  weight?: Weight;
  weighedOn?: Day;
  from?: string;
  note?: string;
};

export type AnimalColumns = Partial<Record<AnimalColumn, number>>;

/** What is known of the columns before rows are read. A field with an open question is not read yet. */
export type AnimalContext = {
  columns: AnimalColumns;
  dateOrders: { born: DateOrder | undefined; weighedOn: DateOrder | undefined };
  weight: WeightColumn | undefined;
  classWords: ReadonlyMap<string, SheepClass | 'refuse'>;
  sexWords: ReadonlyMap<string, Sex | 'refuse'>;
  defaultClass: SheepClass | undefined;
  oddWeights: 'take' | 'without' | 'refuse' | undefined;
  today: Day | undefined;
  managementWidth: number | undefined;
  open: ReadonlySet<string>;
};

export type Draft = {
  line: number;
  state: 'draft';
  animal: Omit<ImportedAnimal, 'class'>;
  /** Absent only while the question about its word is open. */
  class: SheepClass | undefined;
  cells: string[];
  /** The cell of a weight that must be asked about. */
  odd?: string;
};

const LONGEST: Partial<Record<AnimalColumn, number>> = { group: 120, from: 120, note: 2000 };

/** The cell of a column without surrounding space; empty when the file has no such column. */
export function cellOf(cells: readonly string[], columns: AnimalColumns, column: AnimalColumn): string {
  const at = columns[column];
  return at === undefined ? '' : bareCell(cells[at]);
}

/** The row as refused, with the reason. */
export function refusedRow(row: { line: number; cells: readonly string[] }, thrown: Refusal): RefusedRow {
  return {
    line: row.line,
    state: 'refused',
    field: thrown.field ?? 'row',
    code: thrown.code,
    message: thrown.message,
    ...(thrown.next === undefined ? {} : { next: thrown.next }),
    cells: [...row.cells],
  };
}

function readIdentities(
  cells: string[],
  context: AnimalContext,
): Pick<ImportedAnimal, 'shown' | 'keys' | 'tag' | 'chip' | 'management'> {
  const read = (column: 'tag' | 'chip' | 'management'): Identity | undefined => {
    const cell = cellOf(cells, context.columns, column);
    return cell === '' ? undefined : readIdentityCell(cell, column, column);
  };
  let tag = read('tag');
  let chip = read('chip');
  const management = read('management');
  if (tag?.kind === 'chip') {
    // The whole number stood in the column of tags.
    if (chip !== undefined && chip.key !== tag.key) {
      throw new Refusal(
        'tag-chip-differ',
        `${tag.written} and ${chip.written} are two different animals; correct one of them.`,
        {
          field: 'chip',
        },
      );
    }
    chip = tag;
    tag = undefined;
  }
  if (tag !== undefined && chip !== undefined) checkSameAnimal(tag, chip);
  const width = context.managementWidth;
  const short = cellOf(cells, context.columns, 'management');
  if (width !== undefined && /^\d+$/.test(short) && short.length < width) {
    throw new Refusal(
      'zero-lost',
      `${short} is shorter than the others, which are filled to ${width} digits: a nought in front is lost; correct it.`,
      { field: 'management' },
    );
  }
  const shown = tag ?? chip ?? management;
  if (shown === undefined) {
    throw new Refusal('no-identity', 'This row has no tag, chip or management number; give one.', {
      field: 'tag',
    });
  }
  const keys = [tag, chip, management].flatMap((one) => (one === undefined ? [] : [one.key]));
  return {
    shown: shown.written,
    keys: [...new Set(keys)],
    ...(tag === undefined ? {} : { tag: tag.written }),
    ...(chip === undefined ? {} : { chip: chip.key }),
    ...(management === undefined ? {} : { management: management.written }),
  };
}

function readClass(cells: string[], context: AnimalContext): SheepClass | undefined {
  const word = cellOf(cells, context.columns, 'class');
  checkShown(word, 'class');
  if (word === '') {
    if (context.defaultClass !== undefined) return context.defaultClass;
    if (context.columns.class === undefined) return undefined;
    throw new Refusal('class-missing', 'This row does not say what class of sheep it is; fill it in.', {
      field: 'class',
    });
  }
  const found = classOfWord(word, context.classWords);
  if (found === 'refuse') {
    throw new Refusal('class-refused', `“${word}” is not to be taken in, by your answer.`, {
      field: 'class',
    });
  }
  return found;
}

function readSex(cells: string[], context: AnimalContext): Sex | undefined {
  const word = cellOf(cells, context.columns, 'sex');
  checkShown(word, 'sex');
  if (word === '') return undefined;
  const found = sexOfWord(word, context.sexWords);
  if (found === 'refuse') {
    throw new Refusal('sex-refused', `“${word}” is not to be taken in, by your answer.`, { field: 'sex' });
  }
  return found;
}

function readDay(cells: string[], context: AnimalContext, column: 'born' | 'weighedOn'): Day | undefined {
  const cell = cellOf(cells, context.columns, column);
  if (cell === '' || context.open.has(column)) return undefined;
  return readDate(cell, column, context.dateOrders[column], context.today).day;
}

function readText(
  cells: string[],
  context: AnimalContext,
  column: 'group' | 'from' | 'note',
): string | undefined {
  const cell = cellOf(cells, context.columns, column);
  checkShown(cell, column);
  const most = LONGEST[column] ?? 120;
  if (cell.length > most) {
    throw new Refusal('text-too-long', `This text has ${cell.length} letters; at most ${most} are kept.`, {
      field: column,
    });
  }
  return cell === '' ? undefined : cell;
}

function readDam(cells: string[], context: AnimalContext, own: readonly string[]): string | undefined {
  const cell = cellOf(cells, context.columns, 'dam');
  if (cell === '') return undefined;
  const dam = readIdentityCell(cell, 'dam', 'any');
  if (own.includes(dam.key)) {
    throw new Refusal('own-dam', `${dam.written} is given as its own mother; correct it.`, { field: 'dam' });
  }
  return dam.written.slice(0, LONGEST_NUMBER);
}

type WeightRead = { weight?: Weight; odd?: string };

function readWeight(cells: string[], context: AnimalContext, sheepClass: SheepClass | undefined): WeightRead {
  const cell = cellOf(cells, context.columns, 'weight');
  if (cell === '' || context.weight === undefined || context.weight.questions.length > 0) return {};
  const nothing = isNoWeight(cell);
  const weight = nothing ? undefined : readWeightCell(cell, 'weight', context.weight);
  if (weight !== undefined && !isOddWeight(weight, sheepClass)) return { weight };
  if (context.oddWeights === undefined) return { odd: cell };
  if (context.oddWeights === 'without') return {};
  if (weight !== undefined && context.oddWeights === 'take') return { weight };
  throw new Refusal(
    'weight-odd',
    nothing
      ? `“${cell}” is no weight; correct it.`
      : `“${cell}” is not what such a sheep weighs; correct it.`,
    { field: 'weight' },
  );
}

/** Reads one row that is not blank. What an open question hides is left out; the row then waits. */
export function readAnimalRow(row: TableRow, context: AnimalContext): Draft | RefusedRow {
  const { line, cells } = row;
  try {
    if (row.fault !== undefined) throw new Refusal(row.fault.code, row.fault.message, { field: 'row' });
    const identities = readIdentities(cells, context);
    const sheepClass = readClass(cells, context);
    const sex = readSex(cells, context);
    if (sheepClass !== undefined && sex !== undefined && contradicts(sheepClass, sex)) {
      throw new Refusal('class-sex', `Class ${sheepClass} and sex ${sex} do not go together; correct one.`, {
        field: 'sex',
      });
    }
    const born = readDay(cells, context, 'born');
    const weighedOn = readDay(cells, context, 'weighedOn');
    if (born !== undefined && weighedOn !== undefined && weighedOn < born) {
      throw new Refusal(
        'weighed-before-born',
        `Weighed on ${weighedOn}, before it was born on ${born}; correct one.`,
        {
          field: 'weighedOn',
        },
      );
    }
    const dam = readDam(cells, context, identities.keys);
    const { weight, odd } = readWeight(cells, context, sheepClass);
    const group = readText(cells, context, 'group');
    const from = readText(cells, context, 'from');
    const note = readText(cells, context, 'note');
    const animal: Omit<ImportedAnimal, 'class'> = {
      ...identities,
      ...(sex === undefined ? {} : { sex }),
      ...(born === undefined ? {} : { born }),
      ...(dam === undefined ? {} : { dam }),
      ...(group === undefined ? {} : { group }),
      ...(weight === undefined ? {} : { weight }),
      ...(weight === undefined || weighedOn === undefined ? {} : { weighedOn }),
      ...(from === undefined ? {} : { from }),
      ...(note === undefined ? {} : { note }),
    };
    const draft: Draft = { line, state: 'draft', animal, class: sheepClass, cells };
    return odd === undefined ? draft : { ...draft, odd };
  } catch (thrown) {
    if (thrown instanceof Refusal) return refusedRow(row, thrown);
    throw thrown;
  }
}
