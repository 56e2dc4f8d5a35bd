import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Entry } from '../../../src-shared/entries/kind.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Reader } from '../../store/store.ts';
import { type Act, type Answer, write } from '../context.ts';
import { treatmentsBy } from '../reading/instructions.ts';
import { noticesOf } from '../reading/notices.ts';
import { openCourseAgain } from '../treat/course-doses.ts';
import { holdWithoutRecord } from '../treat/record-gone.ts';

/** Answers `void`: strikes an entry out. The notices are read when everything has followed. */
export const voidEntry: Answer<'void'> = (context, asked) => {
  const { store } = context;
  return write<'void'>(context, asked, (act) => {
    const target = store.entryNamed(asked.entry.request, asked.entry.n);
    if (!target) {
      throw new Refusal('correction-no-target', 'The record to be struck out is not in this book.', {
        field: 'entry',
        next: 'Open it again from the book.',
      });
    }
    checkVoidable(act, target);
    act.add('voided', { target: asked.entry, reason: asked.reason });
    if (target.kind === 'administered') {
      holdWithoutRecord(act, target.data as DataOf<'administered'>, asked.reason);
    }
    if (target.kind === 'course-set') openCourseAgain(store, act, target.data as DataOf<'course-set'>);
    return { done: true, notices: noticesAfter(act, asked.entry) };
  });
};

/**
 * The notices that this call leaves standing, filled in once its entries are folded and before its reply is kept:
 * read any later, a repeat of the call would be answered by what others have written since.
 */
export function noticesAfter(act: Act, entry: { request: string; n: number }): string[] {
  const notices: string[] = [];
  act.keep(() => void notices.push(...noticesAbout(act.tx, entry)));
  return notices;
}

/** Texts of the notices of declarations that name anybody an entry is about. */
function noticesAbout(tx: Reader, entry: { request: string; n: number }): string[] {
  const about = tx
    .all<{ subject: string }>(
      `SELECT subject FROM subject_entry WHERE seq IN (
         SELECT seq FROM journal WHERE request = ? AND n = ?
         UNION SELECT correction.seq FROM correction
           JOIN journal ON journal.seq = correction.target WHERE journal.request = ? AND journal.n = ?)`,
      entry.request,
      entry.n,
      entry.request,
      entry.n,
    )
    .map((row) => row.subject);
  return noticesOf(tx, { about }).map((notice) => notice.text);
}

/**
 * Whether striking this out leaves the book able to stand: what cannot is refused, what others rest on is asked.
 * @throws Refusal `cancel-instead`, `still-needed`, `ask:has-draws`, `ask:in-use`, `ask:has-treatments`
 */
function checkVoidable(act: Act, target: Entry): void {
  const { tx } = act;
  if (target.kind === 'declared') {
    throw new Refusal('cancel-instead', 'A signed declaration is cancelled, not struck out.', {
      field: 'entry',
      next: 'Cancel it under Declare; its paper and its number stay.',
    });
  }
  if (['business-set', 'holding-set', 'person-set'].includes(target.kind)) onlyOne(tx, target);
  if (target.kind === 'date-confirmed') {
    throw new Refusal('still-needed', 'A date that was confirmed cannot be struck out.', { field: 'entry' });
  }
  if (target.kind === 'batch-received') {
    const { containers } = target.data as DataOf<'batch-received'>;
    askDraws(
      act,
      containers.map(({ container }) => container),
    );
  }
  if (target.kind === 'container-made-up') {
    askDraws(act, [(target.data as DataOf<'container-made-up'>).container]);
  }
  if (target.kind === 'prescription-received') {
    askPrescription(act, target.data as DataOf<'prescription-received'>);
  }
  if (target.kind === 'instruction-given') checkFollowed(tx, target.data as DataOf<'instruction-given'>);
  if (target.kind === 'label-set') askLabel(act, target.data as DataOf<'label-set'>);
  if (target.kind === 'animal-set')
    askSubject(act, `animal:${(target.data as DataOf<'animal-set'>).animal}`, target);
  if (target.kind === 'lot-set') askSubject(act, `lot:${(target.data as DataOf<'lot-set'>).lot}`, target);
  if (target.kind === 'session-opened') {
    const { session } = target.data as DataOf<'session-opened'>;
    if (tx.get('SELECT 1 FROM session_done WHERE subject = ? LIMIT 1', `session:${session}`)) {
      act.ask(
        'has-treatments',
        'Treatments were recorded in this session. They stay. Strike the session out all the same?',
      );
    }
  }
}

/** Holds rest on an instruction that treatments follow: they are put right first, so that none stays too short. */
function checkFollowed(tx: Reader, { instruction }: DataOf<'instruction-given'>): void {
  const n = treatmentsBy(tx, instruction).length;
  if (n === 0) return;
  throw new Refusal(
    'still-needed',
    `${n === 1 ? '1 treatment follows' : `${n} treatments follow`} this instruction of the vet, so it cannot be struck out.`,
    {
      field: 'entry',
      next: 'Correct those treatments first: choose another instruction for each, or take it off.',
    },
  );
}

/** Others of the same subject and kind that still stand. */
function others(tx: Reader, target: Entry): number {
  const row = tx.get<{ n: number }>(
    `SELECT count(*) AS n FROM subject_entry AS mine
       JOIN subject_entry AS other ON other.subject = mine.subject AND other.seq <> mine.seq AND other.correction = 0
       JOIN journal ON journal.seq = other.seq
     WHERE mine.seq = ? AND journal.line ->> '$.kind' = ?
       AND coalesce((SELECT what FROM correction WHERE target = other.seq ORDER BY seq DESC LIMIT 1), '') <> 'voided'`,
    target.seq,
    target.kind,
  );
  return row?.n ?? 0;
}

function onlyOne(tx: Reader, target: Entry): void {
  if (others(tx, target) > 0) return;
  throw new Refusal('still-needed', 'The book rests on this entry, so it cannot be struck out.', {
    field: 'entry',
    next: 'Change it under Farm instead.',
  });
}

function askDraws(act: Act, containers: readonly string[]): void {
  const drawn = act.tx.get<{ n: number }>(
    `SELECT count(*) AS n FROM movement WHERE cause NOT IN ('received', 'made-up')
       AND subject IN (SELECT 'container:' || value FROM json_each(?))`,
    JSON.stringify(containers),
  );
  if ((drawn?.n ?? 0) === 0) return;
  act.ask(
    'has-draws',
    'Something was already taken from these containers. The treatments stay, and their stock is gone. Strike it out all the same?',
    'entry',
  );
}

function askPrescription(act: Act, { prescription, number }: DataOf<'prescription-received'>): void {
  const used = act.tx.get(
    "SELECT 1 FROM batch WHERE data ->> '$.prescription' = ? UNION ALL SELECT 1 FROM administration WHERE data ->> '$.prescription' = ? LIMIT 1",
    prescription,
    prescription,
  );
  if (!used) return;
  act.ask(
    'in-use',
    `Deliveries or treatments name prescription ${number}. They stay, and name a paper that counts for nothing. Strike it out all the same?`,
    'entry',
  );
}

function askLabel(act: Act, label: DataOf<'label-set'>): void {
  const used = act.tx.get(
    `SELECT 1 FROM batch WHERE revision = ? UNION ALL SELECT 1 FROM administration WHERE revision = ? LIMIT 1`,
    label.revision,
    label.revision,
  );
  if (!used) return;
  act.ask(
    'in-use',
    `Batches or treatments rest on this label of ${label.terms.name}. What was decided by it stays. Strike it out all the same?`,
    'entry',
  );
}

function askSubject(act: Act, subject: string, target: Entry): void {
  const treated = act.tx.get('SELECT 1 FROM administration WHERE subject = ? LIMIT 1', subject);
  if (!treated || others(act.tx, target) > 0) return;
  act.ask(
    'has-treatments',
    'Treatments are recorded for it. They stay, and their animal is gone from the flock. Strike it out all the same?',
    'entry',
  );
}
