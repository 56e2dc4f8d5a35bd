import type { trainingCalls } from '../../src-shared/calls/training.ts';
import type { DataOf } from '../../src-shared/entries/all.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { searchKey } from '../../src-shared/search-key.ts';
import { addDays, type Day, parseDay } from '../../src-shared/time/day.ts';
import { dayOf, parseInstant } from '../../src-shared/time/zone.ts';
import { type Answers, write } from './context.ts';
import { optional } from './optional.ts';
import { happenedBy } from './reading/flock.ts';
import { checkPerson, onlyHolding, type Person, recordOf } from './reading/holding.ts';

type Training = DataOf<'training-noted'>;

/** A review is said this long ahead (practice): long enough to arrange a course. */
const SOON_DAYS = 42;

/** What people were taught or seen to do well. */
export const trainingAnswers: Answers<keyof typeof trainingCalls> = {
  'note-training'(context, asked) {
    return write<'note-training'>(context, asked, (act) => {
      checkPerson(act.tx, asked.person, 'person');
      const happened = happenedBy(act, onlyHolding(act.tx), 'start', asked.happened);
      const reviewOn = asked.reviewOn === undefined ? undefined : parseDay(asked.reviewOn, 'reviewOn');
      if (reviewOn !== undefined && reviewOn <= happened.local.slice(0, 10)) {
        throw new Refusal('dates-crossed', 'Look again on: this day is not after the training itself.', {
          field: 'reviewOn',
          next: 'Check both dates, or leave this one empty.',
        });
      }
      const { person, what, how, with: by, proof, note } = asked;
      const training = act.id();
      act.add(
        'training-noted',
        {
          training,
          person,
          what,
          how,
          with: by,
          ...optional('proof', proof),
          ...optional('note', note),
          ...optional('reviewOn', reviewOn),
        },
        happened,
      );
      return { training };
    });
  },

  trainings({ store, now }, asked) {
    const tx = store.read;
    const today = dayOf(parseInstant(now(), 'clock'), onlyHolding(tx)?.zone ?? 'UTC');
    const rows = tx.all<{ seq: number; data: string }>(
      "SELECT seq, data FROM record WHERE what = 'training' ORDER BY at DESC, seq DESC",
    );
    const newest = new Set<string>();
    const trainings = rows.flatMap(({ seq, data }) => {
      const one = JSON.parse(data) as Training;
      const key = JSON.stringify([one.person, searchKey(one.what)]);
      const isNewest = !newest.has(key);
      newest.add(key);
      const entry = store.entry(seq);
      if (entry === undefined || (asked.person !== undefined && one.person !== asked.person)) return [];
      const person = recordOf<Person>(tx, 'person', one.person);
      return [
        {
          ...one,
          personName: person?.name ?? one.person,
          day: entry.happened.local.slice(0, 10),
          review: reviewOf(one.reviewOn, isNewest, person?.active ?? false, today),
          entry: { request: entry.request, n: entry.n },
        },
      ];
    });
    return { on: today, trainings };
  },
};

function reviewOf(
  reviewOn: string | undefined,
  isNewest: boolean,
  isActive: boolean,
  today: Day,
): 'none' | 'later' | 'soon' | 'over' | 'renewed' {
  if (reviewOn === undefined || !isActive) return 'none';
  if (!isNewest) return 'renewed';
  if (reviewOn < today) return 'over';
  return reviewOn <= addDays(today, SOON_DAYS) ? 'soon' : 'later';
}
