import type { z } from 'zod';
import type { groupSet } from '../../../src-shared/entries/group-set.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { parseDay } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';
import { type Act, type Answers, type Asked, write } from '../context.ts';
import { happenedBy } from '../reading/flock.ts';
import { holdingOf } from '../reading/holding.ts';
import { membersOf, shownOf, subjectsOf } from '../reading/subjects.ts';

type Dates = z.output<typeof groupSet.schema>['dates'];
type GroupRow = { group: string; name: string; dates: string; heads: number; subjects: number };

/** Groups with the members that are there: an animal that left is no longer counted. */
const GROUPS = `
  SELECT flock_group.id AS "group", flock_group.name, flock_group.dates, flock_group.active,
    coalesce(sum(heads), 0) AS heads, count(heads) AS subjects
  FROM flock_group LEFT JOIN (
    SELECT member.subject AS of_group, 1 AS heads FROM member JOIN animal ON animal.id = substr(member.member, 8)
      WHERE member.member LIKE 'animal:%' AND animal.present = 1
    UNION ALL
    SELECT member.subject, lot.heads FROM member JOIN lot ON lot.id = substr(member.member, 5)
      WHERE member.member LIKE 'lot:%' AND lot.heads > 0
  ) ON of_group = flock_group.subject`;

const groupOf = ({ dates, group, name, heads, subjects }: GroupRow) => ({
  group,
  name,
  heads,
  subjects,
  dates: JSON.parse(dates) as Dates,
});

function groupRow(tx: Reader, id: string): GroupRow {
  const row = tx.get<GroupRow>(`${GROUPS} WHERE flock_group.id = ? GROUP BY flock_group.id`, id);
  if (!row) {
    throw new Refusal('no-such-group', 'This group is not in the book.', {
      field: 'group',
      next: 'Choose a group from the list, or make a new one.',
    });
  }
  return row;
}

const ORDERED: readonly (readonly [keyof Dates, keyof Dates, string])[] = [
  ['ramIn', 'ramOut', 'The ram cannot come out before it goes in.'],
  ['lambingFrom', 'lambingTo', 'Lambing cannot end before it begins.'],
  ['dueAwayFrom', 'dueAwayTo', 'They cannot be due away until before they are due away from.'],
  ['ramIn', 'lambingFrom', 'Lambing cannot begin before the ram went in.'],
];

/** Dates that exist and stand in the order things happen in. */
function checkDates(dates: Dates): void {
  for (const [name, day] of Object.entries(dates)) {
    if (day !== undefined) parseDay(day, `dates.${name}`);
  }
  for (const [first, second, message] of ORDERED) {
    const [from, to] = [dates[first], dates[second]];
    if (from !== undefined && to !== undefined && to < from) {
      throw new Refusal('dates-crossed', message, {
        field: `dates.${second}`,
        next: 'Correct one of the two dates.',
      });
    }
  }
}

/** Refuses members that the book does not know, by their place in the list. */
function checkMembers(tx: Reader, add: readonly string[]): void {
  const known = new Set(subjectsOf(tx, add).map((row) => row.subject));
  const unknown = add.findIndex((subject) => !known.has(subject));
  if (unknown < 0) return;
  throw new Refusal('no-such-animal', `No. ${unknown + 1} of the animals to add is not in the book.`, {
    field: `add.${unknown}`,
    next: 'Look for it under Flock, or add it there.',
  });
}

function setGroup(act: Act, asked: Asked<'set-group'>) {
  const holding = holdingOf(act.tx, asked.holding);
  const before = asked.group === undefined ? undefined : groupRow(act.tx, asked.group);
  const other = act.tx.get<{ name: string }>(
    'SELECT name FROM flock_group WHERE name_key = ? AND id <> ? AND active = 1',
    searchKey(asked.name),
    asked.group ?? '',
  );
  if (other && asked.active) {
    throw new Refusal('name-taken', `There is a group called ${other.name} already.`, {
      field: 'name',
      next: 'Give this one another name, or add the animals to that group.',
    });
  }
  checkMembers(act.tx, asked.add);
  checkDates(asked.dates);
  // A call that gives no date at all is about members or the name, and leaves the dates as they were.
  const dates = before && Object.keys(asked.dates).length === 0 ? groupOf(before).dates : asked.dates;
  const group = asked.group ?? act.id();
  act.add(
    'group-set',
    {
      group,
      holding: holding.holding,
      name: asked.name,
      add: asked.add,
      remove: asked.remove,
      dates,
      active: asked.active,
    },
    happenedBy(act, holding, 'start', asked.happened),
  );
  return { group };
}

export const groupAnswers: Answers<'groups' | 'group' | 'set-group'> = {
  groups(context) {
    const rows = context.store.read.all<GroupRow>(
      `${GROUPS} WHERE flock_group.active = 1 GROUP BY flock_group.id ORDER BY flock_group.name_key, flock_group.id`,
    );
    return { groups: rows.map(groupOf) };
  },
  group(context, asked) {
    const tx = context.store.read;
    const row = groupRow(tx, asked.group);
    return { group: groupOf(row), members: membersOf(tx, asked.group).map(shownOf) };
  },
  'set-group'(context, asked) {
    return write<'set-group'>(context, asked, (act) => setGroup(act, asked));
  },
};
