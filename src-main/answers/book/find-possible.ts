import { listed } from '../../../src-shared/list-words.ts';
import { gapKey } from '../../../src-shared/record/gaps.ts';
import type { Profile } from '../../../src-shared/record/profiles.ts';
import type { Reader } from '../../store/store.ts';
import { printLocal } from '../reading/labels.ts';
import { possibleOf } from '../reading/possible-hold.ts';
import type { BookGap } from './find-gaps.ts';

type Found = {
  session: string;
  name: string;
  opened: string;
  at: string;
  request: string;
  n: number;
  subject: string;
  possible: string;
};

/** The item of such a gap. It is none of a profile: it cannot be explained, only settled. */
const ITEM = 'possibly-treated';

/**
 * Sessions of a holding in which somebody went through without a record and is held until it is known whether they were
 * treated, each as one gap: the book does not say who got the medicine.
 * @param range instants, the first included and the last not, of when the session was opened
 */
export function findPossible(
  tx: Reader,
  holding: string,
  range: { from: string; to: string },
  profiles: readonly Profile[],
): { at: string; gap: BookGap }[] {
  const rows = tx.all<Found>(
    `SELECT session.id AS session, session.name, session.opened, session.at, journal.line ->> '$.request' AS request,
       journal.line ->> '$.n' AS n, hold.subject, hold.possible
     FROM hold JOIN session ON session.id = hold.possible ->> '$.session'
     JOIN journal ON journal.seq = session.seq
     WHERE hold.cause = 'possibly-treated' AND hold.state <> 'none' AND session.holding = ?
       AND session.at >= ? AND session.at < ?`,
    holding,
    range.from,
    range.to,
  );
  const asked = profiles.filter(({ items }) => items.includes('animals')).map(({ name }) => name);
  const sessions = Map.groupBy(rows, ({ session }) => session);
  return [...sessions.values()].flatMap((own) => {
    const [first] = own;
    if (!first) return [];
    const many = new Set(own.map(({ subject }) => subject)).size;
    const products = [...new Set(own.flatMap(({ possible }) => possibleOf({ possible }).products ?? []))];
    const of = products.length === 0 ? 'what was planned' : listed(products);
    const missing = `${many} ${many === 1 ? 'animal or lot' : 'animals or lots'} went through without a record of ${of}, and may have been treated`;
    const entry = { request: first.request, n: first.n };
    const gap: BookGap = {
      gap: gapKey(`${first.request}#${first.n}`, ITEM),
      act: 'administration',
      item: ITEM,
      missing,
      text: `${printLocal(first.opened)}, ${first.name}: ${missing}.`,
      asked,
      happened: first.opened,
      entry,
      mend: { how: 'session', deed: 'Say who was treated', session: first.session },
    };
    return [{ at: first.at, gap }];
  });
}
