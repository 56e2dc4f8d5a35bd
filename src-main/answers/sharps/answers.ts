import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { sharpsCalls } from '../../../src-shared/calls/sharps.ts';
import { NEEDLE_STEPS } from '../../../src-shared/needle/lost.ts';
import type { Reader, Store } from '../../store/store.ts';
import type { Answers } from '../context.ts';
import { optional } from '../optional.ts';
import { personName } from '../reading/holding.ts';
import { printLocal } from '../reading/labels.ts';
import { heldByLoss, type LossRow, lossesIn, sayPlace } from '../reading/needles.ts';
import { shownOf, subjectsOf } from '../reading/subjects.ts';
import { needleFinding, reportNeedle } from './report.ts';
import { countSharps } from './sharps.ts';

type Row = Reply<'needle-losses'>['losses'][number];

function rowOf(store: Store, tx: Reader, { data, seq }: LossRow): Row {
  const held = subjectsOf(tx, heldByLoss(tx, data.loss));
  const subject = data.subject === undefined ? undefined : subjectsOf(tx, [data.subject])[0];
  const work =
    data.session === undefined
      ? undefined
      : tx.get<{ name: string }>('SELECT name FROM session WHERE id = ?', data.session)?.name;
  const place = sayPlace(data.site, data.side);
  return {
    loss: data.loss,
    needles: data.needles,
    noticed: printLocal(data.noticed.local),
    found: data.found,
    by: personName(tx, store.entry(seq)?.by ?? ''),
    place,
    held: held.map(shownOf),
    says: sayLoss(data, subject?.shown, work, place),
    ...optional('session', data.session),
    ...optional('work', work),
    ...optional('needle', data.needle),
    ...optional('note', data.note),
    ...optional('subject', subject && shownOf(subject)),
    ...optional('site', data.site),
    ...optional('side', data.side),
  };
}

function sayLoss(
  { needles, needle, found, subject }: LossRow['data'],
  shown: string | undefined,
  work: string | undefined,
  place: string,
): string {
  const what = `${needles === 1 ? 'A needle' : `${needles} needles`}${needle === undefined ? '' : ` (${needle})`}`;
  const where =
    subject === undefined ? (work === undefined ? '' : ` in ${work}`) : ` in ${shown ?? subject}, ${place}`;
  if (found === 'found-whole') return `${what} went missing${where} and was found whole.`;
  return subject === undefined
    ? `${what} went missing${where}; nobody knows where ${needles === 1 ? 'it is' : 'they are'}.`
    : `${what} broke or stayed${where}.`;
}

function needleLosses(store: Store, asked: Asked<'needle-losses'>): Reply<'needle-losses'> {
  const tx = store.read;
  const losses = lossesIn(tx, asked.session)
    .filter(({ data }) => asked.loss === undefined || data.loss === asked.loss)
    .map((row) => rowOf(store, tx, row))
    .filter(
      (row) =>
        (!asked.open || row.held.length > 0) &&
        (asked.subject === undefined ||
          row.subject?.subject === asked.subject ||
          row.held.some(({ subject }) => subject === asked.subject)),
    );
  return { losses, steps: [...NEEDLE_STEPS] };
}

/** Needles counted out and in, and what follows when one is missing. */
export const sharpsAnswers: Answers<keyof typeof sharpsCalls> = {
  'count-sharps': countSharps,
  'report-needle': reportNeedle,
  'needle-finding': needleFinding,
  'needle-losses': (context, asked) => needleLosses(context.store, asked),
};
