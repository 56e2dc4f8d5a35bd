import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { parseDay } from '../../../src-shared/time/day.ts';
import { type Answer, type Context, write } from '../context.ts';

import { optional } from '../optional.ts';
import { happenedBy } from '../reading/flock.ts';
import { onlyHolding, personName } from '../reading/holding.ts';
import { checkVet } from '../reading/vet-papers.ts';

type Visit = Reply<'vet-visits'>['visits'][number];

/** Visits of the vet, newest first. */
export function visitsOf({ store }: Pick<Context, 'store'>): Visit[] {
  const rows = store.read.all<{ seq: number; data: string }>(
    "SELECT seq, data FROM record WHERE what = 'vet-visit' ORDER BY at DESC, seq DESC",
  );
  return rows.flatMap(({ seq, data }) => {
    const entry = store.entry(seq);
    if (entry === undefined) return [];
    const visit = JSON.parse(data) as DataOf<'vet-visit'>;
    return [
      {
        ...visit,
        vetName: personName(store.read, visit.vet),
        day: entry.happened.local.slice(0, 10),
        entry: { request: entry.request, n: entry.n },
      },
    ];
  });
}

/** Answers `record-vet-visit`. Refuses (`no-such-person`, `not-a-vet`, `dates-crossed`, `in-the-future`). */
export const recordVisit: Answer<'record-vet-visit'> = (context, asked) =>
  write<'record-vet-visit'>(context, asked, (act) => {
    checkVet(act.tx, asked.vet);
    const happened = happenedBy(act, onlyHolding(act.tx), 'start', asked.happened);
    const next = asked.next === undefined ? undefined : parseDay(asked.next, 'next');
    if (next !== undefined && next <= happened.local.slice(0, 10)) {
      throw new Refusal('dates-crossed', 'Next visit: this day is not after the visit itself.', {
        field: 'next',
        next: 'Check both dates, or leave this one empty.',
      });
    }
    const { vet, what, found } = asked;
    const visit = act.id();
    act.add(
      'vet-visit',
      { visit, vet, what, ...optional('found', found), ...optional('next', next) },
      happened,
    );
    return { visit };
  });
