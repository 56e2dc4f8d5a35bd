import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { doseForLine } from '../../../src-shared/dose/dose.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { amountData, unitsOf } from '../../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { type Amount, amountOf, baseOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { quoted } from '../../../src-shared/quantity/field.ts';
import { attempt, Refusal } from '../../../src-shared/refusal.ts';
import { addDays, parseDay } from '../../../src-shared/time/day.ts';
import { dayOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { onlyHolding, recordOf } from '../reading/holding.ts';
import { medicineOf } from '../reading/labels.ts';
import { revisionOf } from '../reading/revision.ts';
import { filled, readAmount } from './supply.ts';

export type Foreseen = DataOf<'work-foreseen'>;

const MOST_HEADS = 1_000_000;
/** Further ahead nobody looks at stock. */
const MOST_AHEAD = 730;

function foreseenOf(tx: Reader, id: string): Foreseen {
  const found = recordOf<Foreseen>(tx, 'work', id);
  if (found) return found;
  throw new Refusal('no-such-work', 'This work is not in the book.', {
    field: 'work',
    next: 'Look for it under Order.',
  });
}

/** Answers `foreseen-work`. */
export function foreseenWork({ store }: Context, asked: Asked<'foreseen-work'>): Reply<'foreseen-work'> {
  const tx = store.read;
  const { state: _state, dose, ...one } = foreseenOf(tx, asked.work);
  const { piece } = revisionOf(tx, medicineOf(tx, one.medicine).revision).terms;
  return { ...one, ...optional('dose', dose && printAmount(amountOf(dose.kind, unitsOf(dose)), piece)) };
}

/** Answers `foresee-work`: new, or changed. */
export function foreseeWork(context: Context, asked: Asked<'foresee-work'>): Reply<'foresee-work'> {
  return write<'foresee-work'>(context, asked, (act): Reply<'foresee-work'> => {
    const { tx } = act;
    const row = medicineOf(tx, asked.medicine);
    const { terms } = revisionOf(tx, row.revision);
    if (asked.name === '') {
      throw new Refusal('name-missing', 'Name: say what the work is, as in “Booster before lambing”.', {
        field: 'name',
      });
    }
    const today = dayOf(parseInstant(act.now, 'clock'), onlyHolding(tx)?.zone ?? 'UTC');
    const on = parseDay(asked.on, 'on');
    if (on < today) {
      throw new Refusal('in-the-past', 'On: this day has gone by.', {
        field: 'on',
        next: 'What was given is written down under Treat; give a day from today on.',
      });
    }
    if (on > addDays(today, MOST_AHEAD)) {
      throw new Refusal('too-far-ahead', 'On: stock is looked at for two years and no further.', {
        field: 'on',
        next: 'Check the year.',
      });
    }
    if (asked.group !== undefined && !tx.get('SELECT 1 FROM flock_group WHERE id = ?', asked.group)) {
      throw new Refusal('no-such-group', 'This group is not in the book.', { field: 'group' });
    }
    if (asked.doseLine !== undefined && !terms.doseLines.some(({ id }) => id === asked.doseLine)) {
      throw new Refusal('dose-line-unknown', 'The label has no such dose line.', { field: 'doseLine' });
    }
    const heads = readHeads(asked);
    const dose = readDose(asked, terms);
    const before = asked.work === undefined ? undefined : foreseenOf(tx, asked.work);
    const work = before?.work ?? act.id();
    act.add('work-foreseen', {
      work,
      medicine: row.id,
      name: asked.name,
      on,
      state: 'foreseen',
      ...optional('group', asked.group),
      ...optional('heads', heads),
      ...optional('dose', dose && amountData(dose.kind, baseOf(dose))),
      ...optional('doseLine', asked.doseLine),
    });
    return { work };
  });
}

function readHeads({ heads, group }: Asked<'foresee-work'>): number | undefined {
  const text = filled(heads);
  if (text === undefined) {
    if (group !== undefined) return undefined;
    throw new Refusal('heads-missing', 'Heads: write how many, or choose a group.', { field: 'heads' });
  }
  const many = /^\d{1,7}$/.test(text) ? Number(text) : 0;
  if (many >= 1 && many <= MOST_HEADS) return many;
  throw new Refusal('bad-heads', `Heads: write a whole number from 1, not ${quoted(text)}.`, {
    field: 'heads',
  });
}

function readDose(asked: Asked<'foresee-work'>, terms: LabelTerms): Amount | undefined {
  const text = filled(asked.dose);
  if (text !== undefined) {
    const dose = readAmount(text, 'dose', 'Dose', terms);
    if (baseOf(dose) > 0) return dose;
    throw new Refusal('bad-amount', 'Dose: it must be above zero.', { field: 'dose' });
  }
  if (asked.group !== undefined || fixedDose(terms, asked.doseLine) !== undefined) return undefined;
  throw new Refusal('dose-missing', 'Dose: the label doses by weight, and without a group there is none.', {
    field: 'dose',
    next: 'Write the dose a head, or choose a group of which the weights are known.',
  });
}

/** The dose that the label gives every head whatever it weighs; nothing where it needs a weight or a choice of line. */
export function fixedDose(terms: LabelTerms, doseLine: string | undefined): Amount | undefined {
  const [only, second] = terms.doseLines;
  const line =
    doseLine === undefined
      ? second === undefined
        ? only
        : undefined
      : terms.doseLines.find(({ id }) => id === doseLine);
  if (line === undefined) return undefined;
  const found = attempt(() => doseForLine(terms, line.id, { class: line.classes[0] ?? 'ewe' }).draw);
  return found.ok ? found.value : undefined;
}

/** Answers `end-foreseen-work`. */
export function endForeseenWork(
  context: Context,
  asked: Asked<'end-foreseen-work'>,
): Reply<'end-foreseen-work'> {
  return write<'end-foreseen-work'>(context, asked, (act): Reply<'end-foreseen-work'> => {
    const before = foreseenOf(act.tx, asked.work);
    if (before.state !== 'foreseen') {
      throw new Refusal('already-ended', `“${before.name}” is ${before.state} already.`, { field: 'work' });
    }
    act.add('work-foreseen', { ...before, state: asked.state });
    return { done: true };
  });
}
