import { listed } from '../../../src-shared/list-words.ts';
import { type Instant, isoWithOffset, printInstant } from '../../../src-shared/time/zone.ts';
import { bars, clearsAt } from '../../../src-shared/withdrawal/verdict.ts';
import { clockState, type Reader, type Store } from '../../store/store.ts';
import type { Context } from '../context.ts';
import type { Holding } from '../reading/holding.ts';
import type { HoldRow } from '../reading/holds.ts';
import { possibleOf } from '../reading/possible-hold.ts';
import { sayHold } from '../reading/say-hold.ts';
import { type SubjectRow, subjectsOf } from '../reading/subjects.ts';

/** How one animal or lot stands at this moment, and what it was called before. */

type Verdict = {
  produce: 'meat' | 'milk';
  state: 'clear' | 'until' | 'no-end' | 'not-in-milk' | 'not-known';
  until?: string;
  big: string;
  why: string[];
  working: { code: string; text: string; source?: string }[];
};

/**
 * Whether meat, and milk where the holding takes it, may be taken now: the words to set large, and why. By a clock
 * that is doubted nothing is called clear; what is held stays held by any clock that is ahead of it.
 */
export function verdictsOn(
  context: Pick<Context, 'store' | 'now'>,
  holds: readonly HoldRow[],
  holding: Holding | undefined,
): Verdict[] {
  const now = context.now();
  const zone = holding?.zone ?? 'UTC';
  const believed = clockState(context.store, now).state === 'believed';
  const produces = holding?.milk === true ? (['meat', 'milk'] as const) : (['meat'] as const);
  return produces.map((produce) => {
    const barring = holds.filter((hold) => bars(hold, produce, now));
    const said = barring.map((hold) => sayHold(hold, zone));
    const why = said.map((hold) => `${hold.text}.`);
    const working = said.flatMap((hold) => hold.working);
    if (barring.length === 0) {
      return believed
        ? { produce, state: 'clear', big: 'Clear', why: [sayClear(holds, produce)], working }
        : {
            produce,
            state: 'not-known',
            big: 'Not known',
            why: ['The date of this computer is in doubt, so nothing can be called clear.'],
            working,
          };
    }
    // Milk that nobody takes has no date to wait for: what is said is what would follow if it came into milk.
    if (barring.every((hold) => hold.state === 'dormant')) {
      return { produce, state: 'not-in-milk', big: 'Not in milk', why: wakingTo(barring, zone), working };
    }
    const until = clearsAt(barring);
    if (until === undefined) {
      const isForLife = barring.some((hold) => hold.state === 'life');
      return { produce, state: 'no-end', big: isForLife ? 'Never' : 'No date', why, working };
    }
    return {
      produce,
      state: 'until',
      until: isoWithOffset(until as Instant, zone),
      big: printInstant(until as Instant, zone),
      why,
      working,
    };
  });
}

/** One line for each medicine or cause: the one that would hold longest if the animal came into milk. */
function wakingTo(sleeping: readonly HoldRow[], zone: string): string[] {
  const longest = new Map<string, HoldRow>();
  for (const hold of sleeping) {
    const key = hold.product ?? hold.source;
    const before = longest.get(key);
    // Without an end it lasts longer than any date.
    if (before === undefined || (hold.until ?? '9') > (before.until ?? '9')) longest.set(key, hold);
  }
  return [...longest.values()].map(
    (hold) => `${sayHold(hold, zone).text.replace(/^Milk: not in milk; if/, 'If')}.`,
  );
}

function sayClear(holds: readonly HoldRow[], produce: string): string {
  const had = holds.some(
    (hold) => hold.produce === produce && hold.clock === 'food' && hold.market === 'domestic',
  );
  return had ? 'Every hold on record has ended.' : 'No hold is on record.';
}

/** Holds that wait for a statement, a finding or an answer, each once, with the animal or lot it was put on. */
export function waitsOn(tx: Reader, holds: readonly HoldRow[]) {
  const open = new Map<string, HoldRow>();
  for (const hold of holds) {
    const isOpen = hold.state === 'unknown' || hold.state === 'event' || hold.state === 'until';
    if (hold.source.startsWith('hold:') && isOpen && !open.has(hold.source)) open.set(hold.source, hold);
  }
  const rows = subjectsOf(tx, [...new Set([...open.values()].map((hold) => hold.on_subject))]);
  const shown = new Map(rows.map((row) => [row.subject, row.shown]));
  return [...open.values()].map((hold) => ({
    hold: hold.source.slice('hold:'.length),
    subject: hold.on_subject,
    on: shown.get(hold.on_subject) ?? hold.on_subject,
    cause: hold.cause,
    text: sayWait(hold),
  }));
}

function sayWait(hold: HoldRow): string {
  const { products } = possibleOf(hold);
  if (products === undefined) return WAITS[hold.cause] ?? 'It was held by hand.';
  return hold.cause === 'at-foot'
    ? `No record of ${listed(products)} was made of its dam at a session, so both count as treated with it.`
    : `No record of ${listed(products)} was made at its session, so it counts as treated with it.`;
}

const WAITS: Readonly<Record<string, string>> = {
  'bought-in': 'It came in with no statement about earlier treatments.',
  'possibly-treated': 'It went through a session without a record, so it counts as treated.',
  'broken-needle': 'A needle broke and was not found.',
  'at-foot': 'Its dam was treated while it was at foot.',
};

/** Numbers an animal had and has no longer, as they were written, the latest first. It is still found by them. */
export function earlierNumbers(
  store: Pick<Store, 'entriesOf'>,
  row: Pick<SubjectRow, 'subject' | 'tag' | 'chip' | 'management'>,
): string[] {
  if (!row.subject.startsWith('animal:')) return [];
  const now = new Set([row.tag, row.chip, row.management]);
  const numbers = store
    .entriesOf(row.subject)
    .filter((entry) => entry.kind === 'animal-set')
    .toReversed()
    .flatMap((entry) => {
      const { tag, chip, management } = entry.data as Numbers;
      return [tag, chip, management].filter((one) => one !== undefined && !now.has(one));
    });
  return [...new Set(numbers)].filter((one) => one !== undefined);
}
type Numbers = { tag?: string; chip?: string; management?: string };
