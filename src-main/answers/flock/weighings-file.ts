import type { Happened } from '../../../src-shared/entries/kind.ts';
import { compare } from '../../../src-shared/quantity/fraction.ts';
import { kilograms, printWeight, type Weight, weightQuestion } from '../../../src-shared/quantity/weight.ts';
import { dayOf, instantOf, parseInstant } from '../../../src-shared/time/zone.ts';
import { guessWeighColumns } from '../../exchange/guess.ts';
import { sayLines } from '../../exchange/questions.ts';
import { readWeighings, type TakenWeighing, type WeighColumns } from '../../exchange/weighings.ts';
import type { Reader } from '../../store/store.ts';
import { type Answers, type Asked, type Context, write } from '../context.ts';
import { type Owner, ownersOf, sayLeft } from '../reading/flock.ts';
import { onlyHolding } from '../reading/holding.ts';
import {
  calledRow,
  confirmedCodes,
  type OpenFile,
  type OpenQuestion,
  openFile,
  type PreviewRow,
  previewOf,
  refuseOpenQuestions,
  rowsShown,
  sampleOf,
  settledColumns,
  totalsOf,
  waitingRow,
} from './file.ts';

type Taken = { line: number; subject: string; weight: Weight; happened: Happened };
type Plan = {
  columns: WeighColumns;
  notes: string[];
  questions: OpenQuestion[];
  rows: PreviewRow[];
  taken: Taken[];
};
type WeighAsk = Pick<Asked<'preview-weighings'>, 'columns' | 'options'>;

/** The last weight of each animal that is there, under every number that names it alone. */
function lastWeights(tx: Reader): Map<string, Weight> {
  const rows = tx.all<{ key: string; weight: string; weight_unit: 'kg' | 'lb' }>(
    `SELECT identity.key, animal.weight, animal.weight_unit
     FROM identity JOIN animal ON animal.id = substr(identity.subject, 8)
     WHERE animal.present = 1 AND animal.weight IS NOT NULL`,
  );
  const weights = new Map<string, Weight>();
  const shared = new Set<string>();
  for (const row of rows) {
    if (weights.has(row.key)) shared.add(row.key);
    weights.set(row.key, { value: row.weight, unit: row.weight_unit });
  }
  for (const key of shared) weights.delete(key);
  return weights;
}

/** Every weighing of these animals: to know one again that is in the book already. */
function weighingsOf(tx: Reader, subjects: readonly string[]): Map<string, Weight[]> {
  const rows = tx.all<{ subject: string; at: string; value: string; unit: 'kg' | 'lb' }>(
    `SELECT weighing.subject, weighing.at, weighing.value, weighing.unit FROM json_each(?) AS wanted
     JOIN weighing ON weighing.subject = wanted.value`,
    JSON.stringify(subjects),
  );
  const known = new Map<string, Weight[]>();
  for (const row of rows) {
    const key = `${row.subject} ${row.at}`;
    known.set(key, [...(known.get(key) ?? []), { value: row.value, unit: row.unit }]);
  }
  return known;
}

/** The one animal a row is about, or why there is none. An animal that left may still get a weight from before. */
function animalOf(row: TakenWeighing, owners: readonly Owner[]): Owner | { message: string } {
  const there = owners.filter((owner) => owner.present === 1);
  const [first, second] = there;
  if (first && second) {
    return {
      message: `${row.identity.written} names ${there.length} animals (${first.shown}, ${second.shown}…); give the tag or chip.`,
    };
  }
  if (first) return first;
  const before = owners.findLast(
    (owner) => owner.left_on !== null && row.on.slice(0, 10) <= owner.left_on.slice(0, 10),
  );
  if (before) return before;
  const gone = owners.at(-1);
  if (gone)
    return {
      message: `${gone.shown} ${sayLeft(gone)}, before this weighing; correct the number or the day.`,
    };
  return {
    message: `${row.identity.written} is not in the book; add the animal first, or correct the number.`,
  };
}

/** Weights far from the last one that the reader of the file has not asked about: one question, with their lines. */
function jumpQuestion(jumps: readonly { line: number; text: string }[]): OpenQuestion[] {
  const [first] = jumps;
  if (!first) return [];
  const lines = jumps.map((one) => one.line);
  return [
    {
      code: 'weight-jump',
      field: 'weight',
      message: `Check the weight on ${sayLines(lines)}. ${first.text}`,
      choices: ['take', 'refuse'],
      lines,
    },
  ];
}

/** What would come of each row. A preview and the import that follows it run the same code. */
function planWeighings(
  tx: Reader,
  now: string,
  { table }: OpenFile,
  asked: WeighAsk,
  confirmed: ReadonlySet<string>,
): Plan {
  const zone = onlyHolding(tx)?.zone ?? 'UTC';
  const columns = settledColumns(guessWeighColumns(table.header, sampleOf(table)), asked.columns);
  const { unitIsSure, weightUnit, oddWeights, jumps: jumpsAnswer, ...options } = asked.options;
  const last = lastWeights(tx);
  const read = readWeighings(table, columns, {
    ...options,
    unit: weightUnit,
    oddWeights: oddWeights ?? (confirmed.has('weight-check') ? 'take' : undefined),
    confirmed: unitIsSure || confirmed.has('weight-unit') ? ['weight-unit'] : [],
    today: dayOf(parseInstant(now, 'clock'), zone),
    lastWeights: last,
  });
  // To take a weight no sheep has is no word about one far from the last; to refuse all odd ones is.
  const jumpsTaken =
    jumpsAnswer === 'take' || jumpsAnswer === 'refuse'
      ? jumpsAnswer
      : confirmed.has('weight-jump')
        ? 'take'
        : oddWeights === 'refuse' && jumpsAnswer !== 'ask'
          ? 'refuse'
          : undefined;
  const jumps: { line: number; text: string }[] = [];
  const cells = new Map(table.rows.map((row) => [row.line, row.cells]));
  const called = (line: number) => calledRow(cells.get(line) ?? [], [columns.identity]);
  const readable = read.rows.filter((row) => row.state === 'taken');
  const owners = ownersOf(
    tx,
    readable.map((row) => row.identity.key),
  );
  const animals = new Map(
    readable.map((row) => [row.line, animalOf(row, owners.get(row.identity.key) ?? [])]),
  );
  const known = weighingsOf(
    tx,
    [...animals.values()].flatMap((animal) => ('id' in animal ? [`animal:${animal.id}`] : [])),
  );
  const at = instants(zone);
  const taken: Taken[] = [];

  function weighing(row: TakenWeighing): PreviewRow {
    const { line, weight, on } = row;
    const animal = animals.get(line) ?? { message: `${row.identity.written} is not in the book.` };
    const head = { line, shown: row.identity.written };
    if (!('id' in animal)) return { ...head, state: 'refused', field: 'identity', message: animal.message };
    const subject = `animal:${animal.id}`;
    const happened = { local: on, zone, at: at(on) };
    if (happened.at > now) {
      return {
        ...head,
        state: 'refused',
        field: 'on',
        message: 'This weighing is dated in the future; correct the time.',
      };
    }
    const before = known.get(`${subject} ${happened.at}`) ?? [];
    if (before.some((one) => compare(kilograms(one), kilograms(weight)) === 0)) {
      return {
        ...head,
        state: 'already-there',
        message: `${printWeight(weight)} at that time is in the book.`,
      };
    }
    const question = weightQuestion(weight, last.get(row.identity.key));
    if (question?.code === 'weight-jump' && jumpsTaken !== 'take') {
      if (jumpsTaken === 'refuse')
        return { ...head, state: 'refused', field: 'weight', message: question.text };
      jumps.push({ line, text: question.text });
    }
    taken.push({ line, subject, weight, happened });
    return { ...head, state: 'taken' };
  }

  const rows = read.rows.map((row): PreviewRow => {
    if (row.state === 'taken') return weighing(row);
    if (row.state === 'waiting') return waitingRow(row.line, called(row.line), read.questions);
    if (row.state === 'already') {
      return { line: row.line, state: 'already-there', shown: called(row.line), message: row.message };
    }
    const { line, state, field, message } = row;
    return { line, state, shown: called(line), field, message };
  });
  const notes = read.notes.map((note) => note.text);
  if (readable.some((row) => row.note !== undefined)) {
    notes.push('The column of notes was read, but the book keeps no notes of weighings.');
  }
  return { columns, notes, ...settleJumps(rows, taken, read.questions, jumps) };
}

/** As long as the question about jumps is open, no row of the file is taken. */
function settleJumps(
  rows: PreviewRow[],
  taken: Taken[],
  questions: OpenQuestion[],
  jumps: readonly { line: number; text: string }[],
): Pick<Plan, 'rows' | 'taken' | 'questions'> {
  const asked = jumpQuestion(jumps);
  if (asked.length === 0) return { rows, taken, questions };
  const all = [...questions, ...asked];
  const waiting = rows.map((row) => (row.state === 'taken' ? waitingRow(row.line, row.shown, all) : row));
  return { rows: waiting, taken: [], questions: all };
}

/** The instant of each local time of the file, worked out once for each. */
function instants(zone: string): (local: string) => string {
  const known = new Map<string, string>();
  return (local) => {
    const found = known.get(local) ?? instantOf(local, zone, 'start');
    known.set(local, found);
    return found;
  };
}

export const weighingsFileAnswers: Answers<'preview-weighings' | 'import-weighings'> = {
  'preview-weighings'(context: Context, asked) {
    const file = openFile(context, asked.file);
    const columns = settledColumns(guessWeighColumns(file.table.header, sampleOf(file.table)), asked.columns);
    return previewOf(file, columns, () =>
      planWeighings(context.store.read, context.now(), file, asked, new Set()),
    );
  },

  'import-weighings'(context: Context, asked) {
    const file = openFile(context, asked.file);
    return write<'import-weighings'>(context, asked, (act) => {
      const plan = planWeighings(act.tx, act.now, file, asked, confirmedCodes(asked.confirmed));
      refuseOpenQuestions(plan.questions);
      const id = act.id();
      for (const { subject, weight, happened } of plan.taken) {
        act.add('weighed', { subject, weight, how: 'crate', import: id }, happened);
      }
      return {
        import: id,
        totals: totalsOf(plan.rows),
        refused: rowsShown(plan.rows.filter((row) => row.state === 'refused')),
      };
    });
  },
};
