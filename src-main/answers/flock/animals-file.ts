import type { Happened } from '../../../src-shared/entries/kind.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { dayOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { AnimalColumns, ImportedAnimal } from '../../exchange/animal-row.ts';
import { readAnimals } from '../../exchange/animals.ts';
import { guessColumns } from '../../exchange/guess.ts';
import type { Reader } from '../../store/store.ts';
import { type Act, type Answers, type Asked, type Context, write } from '../context.ts';
import { happenedBy, holdUntilStatement, type Owner, ownersOf, sayLeft } from '../reading/flock.ts';
import { type Holding, holdingOf, onlyHolding } from '../reading/holding.ts';
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

type Taken = { line: number; animal: ImportedAnimal };
type Plan = {
  columns: AnimalColumns;
  notes: string[];
  questions: OpenQuestion[];
  rows: PreviewRow[];
  taken: Taken[];
};
type AnimalsAsk = Pick<Asked<'preview-animals'>, 'columns' | 'options'>;

/** What would come of each row. A preview and the import that follows it run the same code. */
function planAnimals(
  tx: Reader,
  now: string,
  holding: Holding | undefined,
  { table }: OpenFile,
  asked: AnimalsAsk,
  confirmed: ReadonlySet<string>,
): Plan {
  const columns = settledColumns(guessColumns(table.header, sampleOf(table)), asked.columns);
  const { unitIsSure, oddWeights, ...options } = asked.options;
  const read = readAnimals(table, columns, {
    ...options,
    oddWeights: oddWeights ?? (confirmed.has('weight-check') ? 'take' : undefined),
    confirmed: unitIsSure || confirmed.has('weight-unit') ? ['weight-unit'] : [],
    today: dayOf(parseInstant(now, 'clock'), holding?.zone ?? 'UTC'),
  });
  const cells = new Map(table.rows.map((row) => [row.line, row.cells]));
  const called = (line: number) =>
    calledRow(cells.get(line) ?? [], [columns.tag, columns.chip, columns.management]);
  const owners = ownersOf(
    tx,
    read.rows.flatMap((row) => (row.state === 'taken' ? row.animal.keys : [])),
  );
  const taken: Taken[] = [];
  const rows = read.rows.map((row): PreviewRow => {
    if (row.state === 'refused') {
      const { line, state, field, message } = row;
      return { line, state, shown: called(line), field, message };
    }
    if (row.state === 'waiting') return waitingRow(row.line, called(row.line), read.questions);
    const known = alreadyKnown(row.line, row.animal, owners);
    if (known) return known;
    taken.push({ line: row.line, animal: row.animal });
    return { line: row.line, state: 'taken', shown: row.animal.shown };
  });
  const notes = read.notes.map((note) => note.text);
  if (taken.some(({ animal }) => animal.note !== undefined)) {
    notes.push('The column of notes was read, but the book keeps no notes of animals.');
  }
  if (taken.some(({ animal }) => animal.weight !== undefined && animal.weighedOn === undefined)) {
    notes.push('Weights without a date will stand under the day of this import.');
  }
  return { columns, notes, questions: read.questions, rows, taken };
}

/** What the book already knows of the animal in a row: there, gone, or two different ones. */
function alreadyKnown(
  line: number,
  animal: ImportedAnimal,
  owners: ReadonlyMap<string, Owner[]>,
): PreviewRow | undefined {
  // Farms use short numbers again: one says who an animal is only where the row has nothing better.
  const lasting = animal.keys.filter((key) => !key.startsWith('own:'));
  const keys = lasting.length > 0 ? lasting : animal.keys;
  const field = animal.tag !== undefined ? 'tag' : animal.chip !== undefined ? 'chip' : 'management';
  const found = new Map(keys.flatMap((key) => owners.get(key) ?? []).map((owner) => [owner.id, owner]));
  const there = [...found.values()].filter((owner) => owner.present === 1);
  const [first, second] = there;
  const row = { line, shown: animal.shown, field };
  if (first && second) {
    return {
      ...row,
      state: 'refused',
      message: `The numbers in this row name two animals in the book, ${first.shown} and ${second.shown}; correct the row.`,
    };
  }
  if (first)
    return { line, shown: animal.shown, state: 'already-there', message: `In the book as ${first.shown}.` };
  const gone = [...found.values()].at(-1);
  if (!gone || lasting.length === 0) return undefined;
  return {
    ...row,
    state: 'refused',
    message: `${gone.shown} ${sayLeft(gone)}. If it is here again, strike out that departure under Book; then its number is in use again.`,
  };
}

/** True when the file's word for where an animal comes from means this holding. */
function isFromHere(from: string, holding: Holding): boolean {
  return [holding.number, holding.name].some((own) => searchKey(own) === searchKey(from));
}

/** Makes the groups that rows name, or adds to those of that name: one entry a group. */
function addToGroups(act: Act, holding: Holding, members: ReadonlyMap<string, Members>, at: Happened): void {
  const standing = new Map(
    act.tx
      .all<{ id: string; name: string; name_key: string; dates: string }>(
        'SELECT id, name, name_key, dates FROM flock_group WHERE holding = ? AND active = 1',
        holding.holding,
      )
      .map((group) => [group.name_key, group]),
  );
  for (const [key, { name, add }] of members) {
    const group = standing.get(key);
    act.add(
      'group-set',
      {
        group: group?.id ?? act.id(),
        holding: holding.holding,
        name: group?.name ?? name,
        add,
        remove: [],
        dates: group ? JSON.parse(group.dates) : {},
        active: true,
      },
      at,
    );
  }
}
type Members = { name: string; add: string[] };

/** Instants are worked out once for each day in the file, not once for each row. */
function dayHappened(act: Act, holding: Holding): (day: string) => Happened {
  const known = new Map<string, Happened>();
  return (day) => {
    const found = known.get(day) ?? happenedBy(act, holding, 'start', day);
    known.set(day, found);
    return found;
  };
}

/** Writes the animals: who they are, what they weigh, what nobody has stated, and the groups they are in. */
function writeAnimals(act: Act, holding: Holding, taken: readonly Taken[], asked: Asked<'import-animals'>) {
  const id = act.id();
  const now = happenedBy(act, holding, 'start', asked.happened);
  const onDay = dayHappened(act, holding);
  const groups = new Map<string, Members>();
  for (const { animal } of taken) {
    const weighedAt = animal.weighedOn === undefined ? now : onDay(animal.weighedOn);
    // An animal was there on the day it was weighed.
    const since = weighedAt.at < now.at ? weighedAt : now;
    const { from } = animal;
    const bought = from !== undefined && !isFromHere(from, holding);
    const name = act.id();
    const subject = `animal:${name}`;
    act.add(
      'animal-set',
      {
        animal: name,
        holding: holding.holding,
        shown: animal.shown,
        tag: animal.tag,
        chip: animal.chip,
        management: animal.management,
        keys: animal.keys,
        class: animal.class,
        sex: animal.sex,
        born: animal.born,
        dam: animal.dam,
        milking: false,
        origin: bought ? 'bought' : 'own',
        import: id,
      },
      since,
    );
    if (asked.standing === 'unknown' || bought) {
      holdUntilStatement(act, subject, since, bought ? from : undefined);
    }
    if (animal.weight) {
      act.add('weighed', { subject, weight: animal.weight, how: 'scale', import: id }, weighedAt);
    }
    if (animal.group !== undefined) {
      const key = searchKey(animal.group);
      const group = groups.get(key) ?? { name: animal.group, add: [] };
      group.add.push(subject);
      groups.set(key, group);
    }
  }
  addToGroups(act, holding, groups, now);
  return id;
}

export const animalsFileAnswers: Answers<'preview-animals' | 'import-animals'> = {
  'preview-animals'(context: Context, asked) {
    const file = openFile(context, asked.file);
    const tx = context.store.read;
    const columns = settledColumns(guessColumns(file.table.header, sampleOf(file.table)), asked.columns);
    return previewOf(file, columns, () =>
      planAnimals(tx, context.now(), onlyHolding(tx), file, asked, new Set()),
    );
  },

  'import-animals'(context: Context, asked) {
    const file = openFile(context, asked.file);
    return write<'import-animals'>(context, asked, (act) => {
      const holding = holdingOf(act.tx, asked.holding);
      const plan = planAnimals(act.tx, act.now, holding, file, asked, confirmedCodes(asked.confirmed));
      refuseOpenQuestions(plan.questions);
      const id = writeAnimals(act, holding, plan.taken, asked);
      return {
        import: id,
        totals: totalsOf(plan.rows),
        refused: rowsShown(plan.rows.filter((row) => row.state === 'refused')),
      };
    });
  },
};
