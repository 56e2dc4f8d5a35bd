import type { Entry } from '../../src-shared/entries/kind.ts';
import type { HoldDecision } from '../../src-shared/entries/parts.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import type { Reader } from '../store/store.ts';
import type { Answer } from './context.ts';
import { type Old, toldAgain } from './correct-treatment.ts';
import { holdingOf } from './reading/holding.ts';
import { untilText } from './reading/say-hold.ts';
import { type SubjectRow, subjectsOf } from './reading/subjects.ts';
import { type Administered, decideAdministration } from './treat-core.ts';
import { shelfOf } from './treat-shelf.ts';

type Row = { seq: number; local: string; at: string; data: string; line: string };
type Written = {
  produce: string;
  market: string;
  state: HoldDecision['state'];
  until: string | null;
  event: string | null;
  period: string | null;
};
type Different = { administration: string; shown: string; produce: string; written: string; today: string };

/** Answers `recheck`: decides every standing treatment again by today's rules, labels and house settings. */
export const recheck: Answer<'recheck'> = (context) => {
  const tx = context.store.read;
  let checked = 0;
  const different: Different[] = [];
  for (const row of tx.each<Row>(
    `SELECT a.seq, a.local, a.at, a.data, journal.line FROM administration AS a
     JOIN journal ON journal.seq = a.seq ORDER BY a.at, a.seq`,
  )) {
    checked += 1;
    different.push(...recheckOne(tx, row));
  }
  return { checked, different };
};

function recheckOne(tx: Reader, row: Row): Different[] {
  const data = JSON.parse(row.data) as Administered;
  const { zone } = holdingOf(tx, data.holding);
  const entry = JSON.parse(row.line) as Entry;
  const subject = subjectsOf(tx, [data.subject])[0];
  const base = { administration: data.administration, shown: subject?.shown ?? data.subject };
  if (!subject) {
    return [{ ...base, produce: 'all', written: 'decided', today: 'its animal is not in the book any more' }];
  }
  const written = tx.all<Written>(
    "SELECT produce, market, state, until, event, period FROM hold WHERE subject = ? AND source = ? AND clock = 'food'",
    data.subject,
    `administration:${data.administration}`,
  );
  const old: Old = {
    request: entry.request,
    n: entry.n,
    happened: { local: row.local, zone: entry.happened.zone, at: row.at },
    data,
  };
  const today = decidedToday(tx, old, subject);
  if (typeof today === 'string') return [{ ...base, produce: 'all', written: 'decided', today }];
  const found: Different[] = [];
  for (const hold of today) {
    const was = written.find((each) => each.produce === hold.produce && each.market === hold.market);
    const now = { state: hold.state, until: hold.until ?? null, event: hold.event ?? null };
    if (was && (same(was, now) || settled(was, hold))) continue;
    found.push({
      ...base,
      produce: hold.market === 'export' ? `${hold.produce}, export` : hold.produce,
      written: was ? untilText(was, zone) : 'nothing',
      today: untilText(now, zone),
    });
  }
  return found;
}

/** What today's rules say, or why they cannot say it: that is a finding too. */
function decidedToday(tx: Reader, old: Old, subject: SubjectRow): readonly HoldDecision[] | string {
  try {
    return decideAdministration(tx, shelfOf(tx), old.data.administration, toldAgain(tx, old, subject)).data
      .holds;
  } catch (thrown) {
    if (thrown instanceof Refusal) return thrown.message;
    throw thrown;
  }
}

type Decided = Pick<Written, 'state' | 'until' | 'event'>;

function same(a: Decided, b: Decided): boolean {
  return a.state === b.state && a.until === b.until && a.event === b.event;
}

/** An event that has happened meanwhile gave the written hold its end; by the label alone it would still wait. */
function settled(was: Decided, today: HoldDecision): boolean {
  return today.event !== undefined && was.event === null && was.until !== null;
}
