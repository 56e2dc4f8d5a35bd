import type { Reply } from '../../../src-shared/calls/all.ts';
import { addDays, type Day, printDay } from '../../../src-shared/time/day.ts';
import type { Context } from '../context.ts';
import { nowLocal } from '../medicine/answers.ts';
import { worksAhead } from '../order/works.ts';
import { onlyHolding } from '../reading/holding.ts';

/** How far ahead work is looked for: a year round. */
const AHEAD_DAYS = 366;

/**
 * Answers `shelf-ahead`: the days that the shelf is looked at against, the earliest first. The next session is the next
 * work that is foreseen or a vaccine that is due, after today; lambing is the earliest that any group in use has
 * ahead of it.
 */
export function shelfAhead(context: Context): Reply<'shelf-ahead'> {
  const tx = context.store.read;
  const today = nowLocal(context, tx).slice(0, 10) as Day;
  const until = addDays(today, AHEAD_DAYS);
  const works = [...worksAhead(tx, { today, until, zone: onlyHolding(tx)?.zone ?? 'UTC' }).values()]
    .flat()
    .filter(({ source, on }) => source !== 'course' && on > today)
    .toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
  const next = works[0]?.on;
  const names = [...new Set(works.filter(({ on }) => on === next).map(({ what }) => what))];
  const lambing = tx
    .all<{ day: string | null; name: string }>(
      "SELECT dates ->> '$.lambingFrom' AS day, name FROM flock_group WHERE active = 1",
    )
    .filter(
      (one): one is { day: string; name: string } => one.day !== null && one.day > today && one.day <= until,
    )
    .toSorted((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
  const first = lambing[0]?.day;
  const groups = lambing.filter(({ day }) => day === first).map(({ name }) => name);
  const ahead: Reply<'shelf-ahead'>['ahead'] = [
    ...(next === undefined
      ? []
      : [
          {
            key: 'session' as const,
            on: next,
            title: `Before the next session (${printDay(next)})`,
            what: names.join('; '),
          },
        ]),
    ...(first === undefined
      ? []
      : [
          {
            key: 'lambing' as const,
            on: first as Day,
            title: `Before lambing (from ${printDay(first as Day)})`,
            what: groups.join('; '),
          },
        ]),
  ];
  return { ahead: ahead.toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0)) };
}
