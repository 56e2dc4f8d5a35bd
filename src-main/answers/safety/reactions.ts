import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Reader } from '../../store/store.ts';
import { type Answer, type Context, write } from '../context.ts';
import { batchesIn } from '../declare/lines.ts';
import { optional } from '../optional.ts';
import { happenedBy } from '../reading/flock.ts';
import { holdingOf, personName } from '../reading/holding.ts';
import { KIN } from '../reading/holds.ts';
import { printLocal } from '../reading/labels.ts';
import { subjectOfName, subjectsOf } from '../reading/subjects.ts';
import type { Administered } from '../treat/core.ts';

export type Reaction = DataOf<'reaction'>;
export type ReactionRow = Reply<'reactions'>['reactions'][number];

/** A treatment that stands, with when it was. Refuses (`no-such-treatment`). */
export function treatmentOf(tx: Reader, id: string): { data: Administered; local: string } {
  const row = tx.get<{ data: string; local: string }>(
    'SELECT data, local FROM administration WHERE id = ?',
    id,
  );
  if (row) return { data: JSON.parse(row.data) as Administered, local: row.local };
  throw new Refusal('no-such-treatment', 'This treatment is not in the book, or was struck out.', {
    field: 'administration',
    next: 'Open the treatment in the book again.',
  });
}

/** Answers `record-reaction`. Refuses (`before-the-treatment`, `more-heads-than-there-are`). */
export const recordReaction: Answer<'record-reaction'> = (context, asked) =>
  write<'record-reaction'>(context, asked, (act) => {
    const { data, local } = treatmentOf(act.tx, asked.administration);
    const happened = happenedBy(act, holdingOf(act.tx, data.holding), 'start', asked.happened);
    // By the day alone where only the day is known of one of them.
    const length = Math.min(happened.local.length, local.length);
    if (happened.local.slice(0, length) < local.slice(0, length)) {
      throw new Refusal('before-the-treatment', `It was seen before the treatment of ${printLocal(local)}.`, {
        field: 'happened',
        next: 'Check when it was seen, and which treatment it came after.',
      });
    }
    if (asked.heads !== undefined && asked.heads > data.heads) {
      throw new Refusal('more-heads-than-there-are', `Only ${data.heads} head had this treatment.`, {
        field: 'heads',
      });
    }
    const { subject, medicine, product } = data;
    const { what, seen, outcome, heads, done } = asked;
    const reaction = act.id();
    act.add(
      'reaction',
      {
        reaction,
        administration: asked.administration,
        subject,
        medicine,
        product,
        batch: batchesIn(data).slice(0, 200),
        what,
        seen,
        outcome,
        ...optional('heads', data.heads > 1 ? heads : undefined),
        ...optional('done', done),
        ...optional('told', asked.told === '' ? undefined : asked.told),
      },
      happened,
    );
    return { reaction };
  });

type Found = { seq: number; data: string; stands: number };

const SHOWN = `SELECT r.seq, r.data, EXISTS (SELECT 1 FROM administration AS a WHERE a.id = r.data ->> '$.administration') AS stands
  FROM record AS r WHERE r.what = 'reaction'`;

/** Reactions of one treatment, of one subject and the lots it came out of, or all; newest first. */
export function reactionsOf(
  { store }: Pick<Context, 'store'>,
  asked: Pick<Asked<'reactions'>, 'administration' | 'subject'>,
): ReactionRow[] {
  const tx = store.read;
  const order = 'ORDER BY r.at DESC, r.seq DESC';
  const rows =
    asked.administration !== undefined
      ? tx.all<Found>(`${SHOWN} AND r.data ->> '$.administration' = ? ${order}`, asked.administration)
      : asked.subject !== undefined
        ? tx.all<Found>(
            `WITH RECURSIVE wanted(s) AS (VALUES (?)), ${KIN} ${SHOWN}
             AND EXISTS (SELECT 1 FROM kin_once AS kin WHERE kin.ancestor = r.subject AND r.at <= kin.cut) ${order}`,
            subjectOfName(tx, asked.subject).subject,
          )
        : tx.all<Found>(`${SHOWN} ${order}`);
  const data = rows.map((row) => JSON.parse(row.data) as Reaction);
  const shown = new Map(
    subjectsOf(tx, [...new Set(data.map(({ subject }) => subject))]).map((row) => [row.subject, row.shown]),
  );
  return data.flatMap((one, i) => {
    const entry = store.entry(rows[i]?.seq ?? 0);
    if (entry === undefined) return [];
    const { medicine: _medicine, ...said } = one;
    return [
      {
        ...said,
        shown: shown.get(one.subject) ?? one.subject,
        local: printLocal(entry.happened.local),
        by: personName(tx, entry.by),
        stands: rows[i]?.stands === 1,
        entry: { request: entry.request, n: entry.n },
      },
    ];
  });
}
