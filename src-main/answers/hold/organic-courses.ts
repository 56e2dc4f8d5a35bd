import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { printDay } from '../../../src-shared/time/day.ts';
import { dayOf, type Instant, localOf } from '../../../src-shared/time/zone.ts';
import { countsAsCourse } from '../../../src-shared/withdrawal/organic.ts';
import type { Reader } from '../../store/store.ts';
import type { Context } from '../context.ts';
import { optional } from '../optional.ts';
import { holdingOf, onlyHolding, personName } from '../reading/holding.ts';
import { treatmentsOn } from '../reading/holds.ts';
import { organicStandings } from '../reading/organic.ts';
import { shownOf, subjectOfName, subjectsOf } from '../reading/subjects.ts';

type Page = Reply<'organic-courses'>;
type Row = Page['courses'][number];
type Given = { id: string; subject: string; at: string; local: string; product: string; data: string };
type Excepted = { id: string; data: string; recorded: string; by: string; request: string; n: number };

const MOST_EXCEPTED = 500;
const COLUMNS = 'a.id, a.subject, a.at, a.local, a.product, a.data';

/** Answers `organic-courses`: what counts, what does not and why, and what was left out by hand. */
export function organicCourses(context: Context, asked: Asked<'organic-courses'>): Page {
  const tx = context.store.read;
  const zone = onlyHolding(tx)?.zone ?? 'UTC';
  const excepted = exceptedIn(tx);
  const say = saying(tx, excepted, zone);
  const one =
    asked.administration === undefined
      ? undefined
      : tx.get<Given>(`SELECT ${COLUMNS} FROM administration AS a WHERE a.id = ?`, asked.administration);
  const subject = asked.subject ?? one?.subject;
  return {
    ...optional('of', subject === undefined ? undefined : standingOf(tx, subject, context.now())),
    courses: say(
      one !== undefined ? [one] : asked.subject === undefined ? [] : yearOf(tx, asked.subject, context.now()),
    ),
    excepted: say(
      tx.all<Given>(
        `SELECT ${COLUMNS} FROM administration AS a JOIN record AS r ON r.what = 'organic-excepted' AND r.id = a.id
         ORDER BY a.at DESC, a.seq DESC LIMIT ?`,
        MOST_EXCEPTED,
      ),
    ),
  };
}

function standingOf(tx: Reader, subject: string, now: string): Page['of'] {
  const row = subjectOfName(tx, subject);
  const { zone } = holdingOf(tx, row.holding);
  const standing = organicStandings(tx, [row], localOf(now as Instant, zone), zone).get(subject);
  if (standing === undefined) return undefined;
  const { rules, isLost, text } = standing;
  return { ...shownOf(row), rules, isLost, text };
}

/** What it was treated with in the 12 months before, itself or in a lot it came out of. Newest first. */
function yearOf(tx: Reader, subject: string, now: string): Given[] {
  const since = `${Number(now.slice(0, 4)) - 1}${now.slice(4)}`;
  return treatmentsOn(tx, [subject])
    .filter((row) => row.at > since && row.at <= now)
    .toReversed();
}

function exceptedIn(tx: Reader): ReadonlyMap<string, Excepted> {
  const rows = tx.all<Excepted>(
    `SELECT r.id, r.data, j.line ->> '$.recorded' AS recorded, j.line ->> '$.by' AS by, j.request, j.n
     FROM record AS r JOIN journal AS j ON j.seq = r.seq WHERE r.what = 'organic-excepted'`,
  );
  return new Map(rows.map((row) => [row.id, row]));
}

/** Puts treatments into rows; names, purposes and people are looked up once for all of them. */
function saying(
  tx: Reader,
  excepted: ReadonlyMap<string, Excepted>,
  zone: string,
): (given: readonly Given[]) => Row[] {
  const purposes = new Map(
    tx
      .all<{ id: string; purpose: string }>('SELECT id, purpose FROM medicine')
      .map(({ id, purpose }) => [id, purpose] as const),
  );
  return (given) => {
    const shown = new Map(
      subjectsOf(tx, [...new Set(given.map((row) => subjectIn(row)))]).map((row) => [row.subject, row]),
    );
    return given.flatMap((row) => {
      const subject = shown.get(subjectIn(row));
      if (subject === undefined) return [];
      const { medicine, reason } = JSON.parse(row.data) as DataOf<'administered'>;
      const purpose = purposes.get(medicine) ?? 'other';
      const out = excepted.get(row.id);
      const counts = countsAsCourse(purpose);
      return [
        {
          administration: row.id,
          subject: subject.subject as Row['subject'],
          shown: subject.shown,
          product: row.product,
          local: row.local,
          reason,
          counts: counts && out === undefined,
          ...optional('why', counts ? undefined : notCounted(purpose)),
          ...optional('excepted', out && sayExcepted(tx, out, zone)),
        },
      ];
    });
  };
}

/** Whom it was written for: the lot, where the one that is asked about came out of it later. */
const subjectIn = (row: Given) => (JSON.parse(row.data) as DataOf<'administered'>).subject;

function notCounted(purpose: string): string {
  if (purpose === 'vaccine') return 'a vaccine is not counted';
  return purpose === 'parasites'
    ? 'a treatment against parasites is not counted'
    : 'it is not counted by what it is for';
}

function sayExcepted(tx: Reader, { data, recorded, by, request, n }: Excepted, zone: string) {
  const { why } = JSON.parse(data) as DataOf<'organic-excepted'>;
  const on = printDay(dayOf(recorded as Instant, zone));
  return { why, by: personName(tx, by), on, entry: { request, n } };
}
