import type { z } from 'zod';
import type { administered } from '../../../src-shared/entries/administered.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { readIdentity } from '../../../src-shared/flock/identity.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { printWeight } from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { dayOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Param, Reader } from '../../store/store.ts';
import type { Answers } from '../context.ts';
import { optional } from '../optional.ts';
import { animalRowOf, holdingOfSubject, sayLeft } from '../reading/flock.ts';
import { predictedWeight } from '../reading/growth.ts';
import { type HoldRow, holdsOn, treatmentsOn } from '../reading/holds.ts';
import { heldNothing, NO_WITHDRAWAL, sayHold, untilText } from '../reading/say-hold.ts';
import { LOT_SELECT, type SubjectRow, subjectOfName, subjectsOf } from '../reading/subjects.ts';
import { earlierNumbers, verdictsOn, waitsOn } from './standing.ts';

/** A shorter end of a tag would name half the flock. */
const SHORTEST_END = 3;
const MOST_FOUND = 50;

/** The key of what was read, or nothing when it is no number an animal can have (it may be the name of a lot). */
function keyOfRead(read: string): string | undefined {
  try {
    return readIdentity(read).key;
  } catch (thrown) {
    if (thrown instanceof Refusal) return undefined;
    throw thrown;
  }
}

/**
 * The animals or lots that a read or typed text names: by number (a short number of the farm's own is one), then
 * by name of a lot, then by the end of a tag. Animals that left are found only where none that is there is.
 */
export function findSubjects(tx: Reader, read: string): SubjectRow[] {
  const key = keyOfRead(read);
  const byKey = key === undefined ? [] : keySubjects(tx, key);
  if (byKey.length > 0) return thereFirst(byKey);
  const lots = tx.all<SubjectRow>(
    `${LOT_SELECT} WHERE name_key = ? ORDER BY heads > 0 DESC, id`,
    searchKey(read),
  );
  if (lots.length > 0) return lots;
  const digits = read.replace(/[\s-]/g, '').replace(/^(?:…|\.\.\.)/, '');
  if (!/^\d+$/.test(digits) || digits.length < SHORTEST_END) return [];
  const ends = tx.all<{ subject: string }>(
    `SELECT DISTINCT subject FROM identity WHERE substr(key, ?) = ? ORDER BY subject LIMIT ?`,
    -digits.length,
    digits,
    MOST_FOUND,
  );
  return thereFirst(
    subjectsOf(
      tx,
      ends.map((row) => row.subject),
    ),
  );
}

function keySubjects(tx: Reader, key: string): SubjectRow[] {
  const rows = tx.all<{ subject: string }>('SELECT subject FROM identity WHERE key = ? ORDER BY seq', key);
  return subjectsOf(
    tx,
    rows.map((row) => row.subject),
  );
}

function thereFirst(rows: SubjectRow[]): SubjectRow[] {
  const there = rows.filter((row) => row.present === 1);
  return there.length > 0 ? there : rows;
}

/** Where a page ends: a tab is in no search key, so that key and id come apart again. */
const cursorOf = (row: { shown_key: string; subject: string }) =>
  `${row.shown_key}\t${row.subject.slice('animal:'.length)}`;

function fromCursor(after: string): [string, string] {
  const at = after.lastIndexOf('\t');
  if (at < 0) {
    throw new Refusal('bad-page', 'This is not the end of a page of this list.', {
      field: 'after',
      next: 'Begin with the first page.',
    });
  }
  return [after.slice(0, at), after.slice(at + 1)];
}

type AnimalsAsk = {
  search: string;
  class?: string | undefined;
  group?: string | undefined;
  present: boolean;
};

/** What narrows the list down, without the page. A search looks at every number the animal has or had. */
function narrowing(asked: AnimalsAsk): { where: string; params: Param[] } {
  const conditions = ['present = ?'];
  const params: Param[] = [asked.present ? 1 : 0];
  if (asked.class !== undefined) {
    conditions.push('class = ?');
    params.push(asked.class);
  }
  if (asked.group !== undefined) {
    conditions.push('id IN (SELECT substr(member, 8) FROM member WHERE subject = ?)');
    params.push(`group:${asked.group}`);
  }
  const search = searchKey(asked.search);
  if (search !== '') {
    const close = search.replace(/[\s-]/g, '');
    conditions.push(
      `(instr(shown_key, ?) > 0
        OR id IN (SELECT substr(subject, 8) FROM identity WHERE instr(lower(replace(key, 'own:', '')), ?) > 0)
        OR instr(replace(shown_key, ' ', ''), ?) > 0)`,
    );
    params.push(search, close, close);
  }
  return { where: conditions.join(' AND '), params };
}

type Origin = {
  dam: string | null;
  origin: 'own' | 'bought';
  came_on: string | null;
  left_on: string | null;
  left_how: string | null;
};

/** Where an animal or lot comes from, and whether it left. */
function originOf(tx: Reader, subject: string): Origin {
  const id = subject.slice(subject.indexOf(':') + 1);
  const row = subject.startsWith('lot:')
    ? tx.get<Origin>(
        'SELECT NULL AS dam, origin, came_on, NULL AS left_on, NULL AS left_how FROM lot WHERE id = ?',
        id,
      )
    : tx.get<Origin>('SELECT dam, origin, came_on, left_on, left_how FROM animal WHERE id = ?', id);
  return row ?? { dam: null, origin: 'own', came_on: null, left_on: null, left_how: null };
}

type Administered = z.output<typeof administered.schema>;

/** Until when a treatment holds the meat, in words: the longest of its holds. */
function heldUntil(holds: readonly HoldRow[], zone: string): string {
  const rank = (hold: HoldRow) =>
    hold.state === 'none' ? '0' : hold.until === null ? '2' : `1${hold.until}`;
  const longest = holds.toSorted((a, b) => (rank(a) < rank(b) ? -1 : 1)).at(-1);
  if (longest === undefined) return 'no period recorded';
  return longest.state === 'until' && heldNothing(longest) ? NO_WITHDRAWAL : untilText(longest, zone);
}

export const findAnswers: Answers<'find-subject' | 'animals' | 'subject' | 'lots'> = {
  'find-subject'(context, asked) {
    return { found: findSubjects(context.store.read, asked.read).map(animalRowOf) };
  },

  animals(context, asked) {
    const tx = context.store.read;
    const { where, params } = narrowing(asked);
    const page = asked.after === undefined ? [] : fromCursor(asked.after);
    const rows = tx.all<SubjectRow & { shown_key: string }>(
      `SELECT 'animal:' || id AS subject, shown, shown_key, class, 1 AS heads, holding, tag, chip, management, sex, born,
         milking, present, weight, weight_unit, weighed_on, weighed_how
       FROM animal WHERE ${where}${page.length > 0 ? ' AND (shown_key, id) > (?, ?)' : ''}
       ORDER BY shown_key, id LIMIT ?`,
      ...params,
      ...page,
      asked.limit + 1,
    );
    const shown = rows.slice(0, asked.limit);
    const last = shown.at(-1);
    const total = tx.get<{ total: number }>(`SELECT count(*) AS total FROM animal WHERE ${where}`, ...params);
    return {
      animals: shown.map(animalRowOf),
      ...(rows.length > asked.limit && last ? { next: cursorOf(last) } : {}),
      total: total?.total ?? 0,
    };
  },

  lots(context, asked) {
    const rows = context.store.read.all<SubjectRow>(
      `${LOT_SELECT} WHERE (heads > 0 OR ?) AND instr(name_key, ?) > 0 ORDER BY name_key, id`,
      asked.empty ? 1 : 0,
      searchKey(asked.search),
    );
    return { lots: rows.map(animalRowOf) };
  },

  subject(context, asked) {
    const tx = context.store.read;
    const { subject } = asked;
    const row = subjectOfName(tx, subject);
    const holding = holdingOfSubject(tx, row);
    const zone = holding?.zone ?? 'UTC';
    const origin = originOf(tx, subject);
    const holds = holdsOn(tx, [subject]);
    const meat = Map.groupBy(
      holds.filter((hold) => hold.produce === 'meat' && hold.market === 'domestic' && hold.clock === 'food'),
      (hold) => hold.source,
    );
    const treatments = treatmentsOn(tx, [subject]).map((one) => {
      const data: Administered = JSON.parse(one.data);
      return {
        administration: one.id,
        local: one.local,
        product: one.product,
        quantity: printAmount(amountOf(data.total.kind, unitsOf(data.total))),
        reason: data.reason,
        until: heldUntil(meat.get(`administration:${one.id}`) ?? [], zone),
      };
    });
    const weighings = tx.all<{ local: string; value: string; unit: 'kg' | 'lb'; how: string }>(
      'SELECT local, value, unit, how FROM weighing WHERE subject = ? ORDER BY at DESC, seq DESC',
      subject,
    );
    const marks = tx.all<{ colour: string; place: string; local: string; lasts_until: string | null }>(
      'SELECT colour, place, local, lasts_until FROM mark WHERE subject = ? ORDER BY seq DESC',
      subject,
    );
    return {
      now: context.now(),
      ...optional(
        'predicted',
        predictedWeight(tx, subject, dayOf(parseInstant(context.now(), 'clock'), zone)),
      ),
      who: animalRowOf(row),
      holding: row.holding,
      before: earlierNumbers(context.store, row),
      ...(origin.dam === null ? {} : { dam: origin.dam }),
      origin: origin.origin,
      ...(origin.came_on === null ? {} : { cameOn: origin.came_on }),
      ...(origin.left_on === null ? {} : { left: { on: origin.left_on, text: sayLeft(origin) } }),
      verdicts: verdictsOn(context, holds, holding),
      waits: waitsOn(tx, holds),
      holds: holds.map((hold) => sayHold(hold, zone)),
      weighings: weighings.map(({ local, how, ...weight }) => ({ local, weight: printWeight(weight), how })),
      treatments,
      groups: tx.all<{ group: string; name: string }>(
        `SELECT id AS "group", name FROM member JOIN flock_group ON flock_group.subject = member.subject
         WHERE member.member = ? AND active = 1 ORDER BY name_key, id`,
        subject,
      ),
      marks: marks.map(({ lasts_until, ...mark }) => ({
        ...mark,
        ...(lasts_until === null ? {} : { lastsUntil: lasts_until }),
      })),
    };
  },
};
