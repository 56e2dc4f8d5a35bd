import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { EVENTS_NOTED } from '../../../src-shared/entries/event-noted.ts';
import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { listed } from '../../../src-shared/list-words.ts';
import { type Instant, isoWithOffset, localOf } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import type { Context } from '../context.ts';
import { optional } from '../optional.ts';
import { BY_SUCKLING_WORD } from '../reading/at-foot.ts';
import { onlyHolding } from '../reading/holding.ts';
import { type HoldRow, holdsOn, PRESENT } from '../reading/holds.ts';
import { printLocal } from '../reading/labels.ts';
import { possibleOf } from '../reading/possible-hold.ts';
import { revisionOf } from '../reading/revision.ts';
import { causeWords, heldNothing, sayHold } from '../reading/say-hold.ts';
import { membersOf, type SubjectRow, shownOf, subjectOfName, subjectsOf } from '../reading/subjects.ts';
import type { Administered } from '../treat/core.ts';
import { revisionsOf } from '../treat/decide-anew.ts';

type Page = Reply<'why-held'>;
type Why = Page['subjects'][number]['rows'][number];
type What = (typeof EVENTS_NOTED)[number];

const MOST = 500;
const COUNTING: Readonly<Record<string, string>> = {
  '24-hour': '24-hour days',
  'whole-days': 'whole days after the day of the dose',
  later: 'the later of 24-hour days and whole days',
};
const ANCHOR: Readonly<Record<string, string>> = {
  lambing: 'lambing',
  removal: 'taking out the device',
  'end-of-release': 'the end of the release',
};
const EVENT: Readonly<Record<What, string>> = {
  lambing: 'Lambed',
  removal: 'The device was taken out',
  'end-of-release': 'The release of its device ended',
  'in-milk': 'Came into milk',
  dry: 'Went dry',
};

/**
 * Answers `why-held`: for one animal or lot, for everyone in a group, or with neither for all that are here, each hold with its reason, what it is counted
 * from, the way of counting, the farm's margin and the working as it was written. Those held come first.
 */
export function whyHeld(context: Context, asked: Asked<'why-held'>): Page {
  const tx = context.store.read;
  const now = context.now();
  const zone = onlyHolding(tx)?.zone ?? 'UTC';
  const rows = asking(tx, asked);
  const holds = new Map<string, HoldRow[]>(rows.map((row) => [row.subject, []]));
  const isAll = asked.subject === undefined && asked.group === undefined;
  for (const hold of holdsOn(tx, isAll ? 'present' : [...holds.keys()])) {
    if (hold.state !== 'none') holds.get(hold.subject)?.push(hold);
  }
  const shownOn = shownReader(tx);
  const young = youngReader(tx);
  const all = rows.map((row) => {
    const mine = (holds.get(row.subject) ?? []).filter((hold) => !heldNothing(hold));
    const said = mine.map((hold) => whyOf(hold, { zone, now, shownOn, young }));
    return { row, mine, said };
  });
  const order = all.toSorted((a, b) => running(b.said) - running(a.said)).slice(0, MOST);
  const events = eventsOf(
    tx,
    order.map(({ row }) => row.subject),
  );
  return {
    now,
    total: rows.length,
    subjects: order.map(({ row, said }) => ({
      ...shownOf(row),
      rows: said,
      events: events.get(row.subject) ?? [],
      sentences: said.filter((why) => why.isRunning).map(sayWhy),
    })),
    summary: asked.subject === undefined ? summaryOf(all, zone, now) : [],
  };
}

/** Held now before held only if it came into milk, and both before who is not held: a long list is cut at its end. */
const running = (rows: readonly Why[]) =>
  Math.max(0, ...rows.map((row) => (!row.isRunning ? 0 : row.hold.state === 'dormant' ? 1 : 2)));

function asking(tx: Reader, { subject, group }: Asked<'why-held'>): SubjectRow[] {
  if (subject !== undefined) return [subjectOfName(tx, subject)];
  if (group !== undefined) return membersOf(tx, group);
  return subjectsOf(
    tx,
    tx.all<{ s: string }>(PRESENT).map(({ s }) => s),
  );
}

type Told = {
  zone: string;
  now: string;
  shownOn: (subject: string) => string;
  young: (administration: string) => LabelTerms | undefined;
};

function whyOf(row: HoldRow, { zone, now, shownOn, young }: Told): Why {
  const decision = JSON.parse(row.data) as HoldDecision;
  const margin = decision.working.find((step) => step.code === 'margin')?.values.days;
  const inserts = decision.working.find((step) => step.code === 'inserts')?.values.periods;
  const administration = row.source.startsWith('administration:')
    ? row.source.slice('administration:'.length)
    : undefined;
  const terms = row.cause === 'at-foot' && administration !== undefined ? young(administration) : undefined;
  const hasEnd = row.until !== null && decision.period !== undefined;
  return {
    hold: sayHold(row, zone),
    isRunning: isRunning(row, now),
    reason: reasonOf(row, zone),
    ...optional('cameBy', row.on_subject === row.subject ? undefined : shownOn(row.on_subject)),
    ...optional('countedFrom', countedFrom(row, decision)),
    ...optional(
      'counting',
      hasEnd && decision.counting !== undefined ? COUNTING[decision.counting] : undefined,
    ),
    ...optional('margin', margin === undefined ? undefined : `${margin} d of the farm’s own`),
    ...optional('inserts', inserts),
    ...optional('young', row.cause === 'at-foot' ? sayYoung(decision, terms) : undefined),
    ...optional('label', terms?.sucklingYoung),
    ...optional('administration', administration),
  };
}

function isRunning({ state, until }: HoldRow, now: string): boolean {
  return state !== 'until' && state !== 'dormant' ? true : until === null || until > now;
}

function reasonOf(row: HoldRow, zone: string): string {
  const on = printLocal(localOf(row.from_at as Instant, zone));
  if (row.cause === 'treatment') return `Treated with ${row.product ?? 'a medicine'}, ${on}`;
  if (row.cause === 'at-foot') {
    const { products } = possibleOf(row);
    return products === undefined
      ? `Its dam was treated with ${row.product ?? 'a medicine'}, ${on}`
      : `Its dam may have been treated with ${listed(products)}, ${on}`;
  }
  const words = causeWords(row);
  return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}, ${on}`;
}

/** What the period is counted from, in words; of one that waits, what it waits for. */
function countedFrom(row: HoldRow, decision: HoldDecision): string | undefined {
  const event = decision.event ?? decision.working.find((step) => step.code === 'happened')?.values.event;
  const anchor = event === undefined ? undefined : ANCHOR[event];
  if (anchor !== undefined)
    return decision.periodFromDose ? `the later of the last dose and ${anchor}` : anchor;
  if (decision.period === undefined) return undefined;
  if (row.cause === 'at-foot') return 'the last dose of its dam';
  return row.cause === 'bought-in' ? 'the day it came' : 'the last dose';
}

/** The hold as one sentence with its reason. */
function sayWhy(why: Why): string {
  const parts = [
    why.reason,
    ...(why.cameBy === undefined ? [] : [`through ${why.cameBy}`]),
    ...(why.countedFrom === undefined ? [] : [`counted from ${why.countedFrom}`]),
    ...(why.counting === undefined ? [] : [why.counting]),
    ...(why.margin === undefined ? [] : [`with ${why.margin}`]),
    ...(why.inserts === undefined ? [] : [`the longest of its inserts, ${why.inserts}`]),
  ];
  return `${why.hold.text}. ${parts.join('; ')}.`;
}

function shownReader(tx: Reader): (subject: string) => string {
  const known = new Map<string, string>();
  return (subject) => {
    const found = known.get(subject) ?? subjectsOf(tx, [subject])[0]?.shown ?? 'a lot that is gone';
    known.set(subject, found);
    return found;
  };
}

/** By what a lamb at foot is held as long as it is. */
function sayYoung({ rule, young }: HoldDecision, terms: LabelTerms | undefined): string {
  if (rule === BY_SUCKLING_WORD) {
    return young?.instead === true
      ? 'Held as its label says of lambs that suck, which this farm goes by.'
      : 'Held as its label says of lambs that suck, which is longer than its dam is held.';
  }
  if (young !== undefined)
    return 'Held as long as its dam, which is no shorter than its label says of lambs that suck.';
  return terms?.sucklingYoung === undefined
    ? 'Held as long as its dam.'
    : 'Held as long as its dam: the words of the label are no period that could be counted.';
}

/** The label of a treatment, where it says something of suckling young. */
function youngReader(tx: Reader): (administration: string) => LabelTerms | undefined {
  const known = new Map<string, LabelTerms | undefined>();
  return (administration) => {
    if (!known.has(administration)) {
      const row = tx.get<{ data: string }>('SELECT data FROM administration WHERE id = ?', administration);
      const revision = row && revisionsOf(JSON.parse(row.data) as Administered)[0];
      known.set(administration, revision === undefined ? undefined : revisionOf(tx, revision).terms);
    }
    return known.get(administration);
  };
}

type EventRow = { subject: string; id: string; what: What; local: string; request: string; n: number };

/** What happened to each of these, with the entry that says so, the latest first. */
function eventsOf(tx: Reader, subjects: readonly string[]) {
  const found = new Map<string, Page['subjects'][number]['events']>();
  const rows = tx.all<EventRow>(
    `SELECT e.subject, e.id, e.what, e.local, journal.request, journal.n FROM event AS e
     JOIN journal ON journal.seq = e.seq
     WHERE e.subject IN (SELECT value FROM json_each(?)) ORDER BY e.at DESC, e.seq DESC`,
    JSON.stringify(subjects),
  );
  for (const { subject, id, what, local, request, n } of rows) {
    const text = `${EVENT[what]} ${printLocal(local)}`;
    const list = found.get(subject) ?? [];
    found.set(subject, list);
    list.push({ event: id, what, local, text, entry: { request, n } });
  }
  return found;
}

/** Each reason of a group once: how many heads it holds, and until when the last of them. */
function summaryOf(
  all: readonly { row: SubjectRow; mine: readonly HoldRow[]; said: readonly Why[] }[],
  zone: string,
  now: string,
): Page['summary'] {
  const found = new Map<string, { rows: HoldRow[]; heads: number; text: string }>();
  for (const { row, mine } of all) {
    for (const hold of mine) {
      if (!isRunning(hold, now) || hold.market !== 'domestic') continue;
      const reason = hold.product ?? causeWords(hold);
      const isDormant = hold.state === 'dormant';
      const key = `${hold.produce} ${hold.clock} ${reason} ${hold.until === null} ${isDormant}`;
      const same = found.get(key) ?? { rows: [], heads: 0, text: reason };
      found.set(key, same);
      // Several doses of one medicine hold one animal once.
      if (!same.rows.some((one) => one.subject === hold.subject)) same.heads += row.heads;
      same.rows.push(hold);
    }
  }
  const reasons = [...found.values()].map(({ rows, heads, text }) => {
    const [first] = rows;
    const from = rows.map((hold) => hold.from_at).toSorted()[0] ?? now;
    const ends = rows.map((hold) => hold.until).filter((end) => end !== null);
    const last = ends.toSorted().at(-1);
    return {
      text,
      heads,
      produce: first?.produce ?? 'meat',
      clock: first?.clock ?? 'food',
      from,
      ...(last === undefined ? {} : { until: isoWithOffset(last as Instant, zone) }),
      isDormant: first?.state === 'dormant',
    };
  });
  // Meat first, and last what holds nobody as yet.
  const rank = ({ isDormant, produce }: (typeof reasons)[number]) =>
    isDormant ? 2 : produce === 'meat' ? 0 : 1;
  return reasons.toSorted((a, b) => rank(a) - rank(b));
}
