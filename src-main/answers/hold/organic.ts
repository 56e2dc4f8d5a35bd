import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { daysBetween, parseDay } from '../../../src-shared/time/day.ts';
import { localOf, parseInstant } from '../../../src-shared/time/zone.ts';
import { countsAsCourse } from '../../../src-shared/withdrawal/organic.ts';
import type { Reader } from '../../store/store.ts';
import { type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { certificatesOf } from '../reading/certificates.ts';
import { type Holding, holdingOf, onlyHolding, recordOf, recordsOf } from '../reading/holding.ts';
import { PRESENT } from '../reading/holds.ts';
import { noticesOf } from '../reading/notices.ts';
import { organicStandings } from '../reading/organic.ts';
import { membersOf, shownOf, subjectOfName, subjectsOf } from '../reading/subjects.ts';
import { waitingUnder } from './certificate-ends.ts';

/** Answers `set-certificate`. Refuses a certificate of something the book does not know, and days that do not exist. */
export function setCertificate(context: Context, asked: Asked<'set-certificate'>): Reply<'set-certificate'> {
  return write<'set-certificate'>(context, asked, (act) => {
    const { tx } = act;
    if (asked.of.startsWith('holding:')) holdingOf(tx, asked.of.slice('holding:'.length));
    else subjectOfName(tx, asked.of, 'of');
    const from = parseDay(asked.from, 'from');
    const until = asked.until === undefined ? undefined : parseDay(asked.until, 'until');
    if (until !== undefined && daysBetween(from, until) < 0) {
      throw new Refusal('ends-before', 'The certificate cannot end before it begins.', {
        field: 'until',
        next: 'Check both days.',
      });
    }
    if (asked.certificate !== undefined && recordOf(tx, 'certificate', asked.certificate) === undefined) {
      throw new Refusal('no-such-certificate', 'This certificate is not in the book.', {
        field: 'certificate',
      });
    }
    const certificate = asked.certificate ?? act.id();
    const about = { about: [`certificate:${certificate}`] };
    const before = new Set(noticesOf(tx, about).map(({ text }) => text));
    act.add('certificate-set', {
      certificate,
      of: asked.of,
      rules: asked.rules,
      name: asked.name,
      ...optional('number', asked.number === '' ? undefined : asked.number),
      from,
      ...optional('until', until),
    });
    const reply: Reply<'set-certificate'> = { certificate, notices: [] };
    // Read when it is folded: what it makes wrong, and who waits longer than it lasts.
    act.keep(() => {
      const notices = noticesOf(act.tx, about).map(({ text }) => text);
      reply.notices.push(...notices.filter((text) => !before.has(text)));
      const zone = onlyHolding(act.tx)?.zone ?? 'UTC';
      const says = waitingUnder(act.tx, act.now, zone).get(certificate)?.says;
      if (says !== undefined) reply.says = says;
    });
    return reply;
  });
}

/** Answers `certificates`. */
export function certificates(context: Context, { of }: Asked<'certificates'>): Reply<'certificates'> {
  const tx = context.store.read;
  const holdings = new Map(
    recordsOf<Holding>(tx, 'holding').map((one) => [`holding:${one.holding}`, one.name]),
  );
  const waiting = waitingUnder(tx, context.now(), onlyHolding(tx)?.zone ?? 'UTC');
  return {
    certificates: certificatesOf(tx, of === undefined ? undefined : [of]).map((one) => ({
      ...one,
      ...optional('waiting', waiting.get(one.certificate)),
      shown: holdings.get(one.of) ?? subjectsOf(tx, [one.of])[0]?.shown ?? one.of,
    })),
  };
}

/** Answers `except-from-organic`. */
export function exceptFromOrganic(
  context: Context,
  asked: Asked<'except-from-organic'>,
): Reply<'except-from-organic'> {
  return write<'except-from-organic'>(context, asked, (act) => {
    const { administration, why } = asked;
    const given = act.tx.get<{ purpose: string | null }>(
      `SELECT (SELECT purpose FROM medicine WHERE medicine.id = administration.medicine) AS purpose
       FROM administration WHERE id = ?`,
      administration,
    );
    if (!given) {
      throw new Refusal('no-such-treatment', 'This treatment does not stand in the book.', {
        field: 'administration',
        next: 'Open it again from the book.',
      });
    }
    if (!countsAsCourse(given.purpose ?? 'other')) {
      throw new Refusal('counts-for-nothing', 'This treatment does not count as an organic course anyway.', {
        field: 'administration',
        next: 'Vaccines and treatments against parasites are not counted: nothing has to be done.',
      });
    }
    if (recordOf(act.tx, 'organic-excepted', administration) !== undefined) {
      throw new Refusal('already-excepted', 'This treatment is left out of the organic courses already.', {
        field: 'administration',
        next: 'If the reason is wrong, take it back first and leave it out again.',
      });
    }
    const data: DataOf<'organic-excepted'> = { administration, why };
    act.add('organic-excepted', data);
    return { done: true };
  });
}

/** Answers `organic-standing`: certified animals and lots, those with something to be said first. */
export function organicStandingOf(
  context: Context,
  asked: Asked<'organic-standing'>,
): Reply<'organic-standing'> {
  const tx = context.store.read;
  const zone = onlyHolding(tx)?.zone ?? 'UTC';
  const now = context.now();
  const asking = subjectsAsked(tx, asked);
  const standings = organicStandings(tx, asking, localOf(parseInstant(now, 'clock'), zone), zone);
  const rows = asking.flatMap((row) => {
    const standing = standings.get(row.subject);
    if (standing === undefined) return [];
    const { lostAt: _lostAt, ...said } = standing;
    return [{ ...shownOf(row), ...said }];
  });
  const kept = asked.onlyWarned ? rows.filter((row) => row.isLast || row.isLost) : rows;
  return { rows: kept.toSorted((a, b) => weight(b) - weight(a)) };
}

const weight = ({ isLast, isLost }: { isLast: boolean; isLost: boolean }) =>
  Number(isLast) + 2 * Number(isLost);

function subjectsAsked(tx: Reader, { subjects, group }: Asked<'organic-standing'>) {
  if (subjects !== undefined) return subjectsOf(tx, subjects);
  if (group !== undefined) return membersOf(tx, group);
  return subjectsOf(
    tx,
    tx.all<{ s: string }>(PRESENT).map(({ s }) => s),
  );
}
