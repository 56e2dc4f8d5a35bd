import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Reader } from '../../store/store.ts';
import { type Act, type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { cameAt, happenedBy, holdingOfSubject, notBefore } from '../reading/flock.ts';
import { holdsOn, rawHoldsOn } from '../reading/holds.ts';
import { sayHold } from '../reading/say-hold.ts';
import { AWAITED } from '../reading/settled.ts';
import { type SubjectRow, shownOf, subjectOfName } from '../reading/subjects.ts';

type What = Asked<'note-event'>['what'];

const NEVER_LAMBS: readonly string[] = ['ram', 'wether', 'ram-lamb'];
const WORDS: Readonly<Record<What, string>> = {
  lambing: 'lambed',
  removal: 'had a device taken out',
  'end-of-release': 'had a device whose release ended',
  'in-milk': 'came into milk',
  dry: 'went dry',
};

/**
 * Answers `note-event`. Each animal or lot gets an entry of its own, so that one can be struck out alone; the ends that
 * follow are written beside them. For a lot it means everyone in it. Refuses what cannot be (`does-not-lamb`,
 * `named-twice`), and asks where nothing waits for a device, or where the animal is gone.
 */
export function noteEvent(context: Context, asked: Asked<'note-event'>): Reply<'note-event'> {
  return write<'note-event'>(context, asked, (act) => {
    const seen = new Set<string>();
    const rows = asked.subjects.map((subject, i) => {
      const field = asked.subjects.length === 1 ? 'subject' : `subjects.${i}`;
      const row = subjectOfName(act.tx, subject, field);
      if (seen.has(subject)) {
        throw new Refusal('named-twice', `${row.shown} is in the list twice.`, {
          field,
          next: 'Take one out.',
        });
      }
      seen.add(subject);
      check(act, row, asked.what, field);
      return row;
    });
    const settled: Reply<'note-event'>['settled'] = [];
    const events = rows.map((row) => {
      const event = act.id();
      const holding = holdingOfSubject(act.tx, row);
      const said = happenedBy(act, holding, 'start', asked.happened);
      const milking = milkingAfter(asked.what, holding?.milk === true);
      act.add(
        'event-noted',
        {
          event,
          subject: row.subject,
          what: asked.what,
          ...optional('milking', milking),
          ...optional('note', asked.note),
        },
        notBefore(said, cameAt(act.tx, row.subject)),
      );
      act.keep(() => settled.push({ ...shownOf(row), holds: nowHeld(act.tx, row, asked.what, said.zone) }));
      return event;
    });
    return { events, settled };
  });
}

/** A ewe that lambs on a farm that takes milk gives milk from then on. */
function milkingAfter(what: What, takesMilk: boolean): boolean | undefined {
  if (what === 'in-milk' || (what === 'lambing' && takesMilk)) return true;
  return what === 'dry' ? false : undefined;
}

function check(act: Act, row: SubjectRow, what: What, field: string): void {
  if (what === 'lambing' && NEVER_LAMBS.includes(row.class)) {
    throw new Refusal('does-not-lamb', `${row.shown} is in the book as a ${row.class.replace('-', ' ')}.`, {
      field,
      next: 'Choose the ewe, or correct its class first.',
    });
  }
  if (row.present !== 1) {
    act.ask('gone', `${row.shown} is no longer here by the book. Was it this one?`, field);
  }
  if (what === 'removal' || what === 'end-of-release') {
    const waits = rawHoldsOn(act.tx, [row.subject]).some((hold) => hold.event === what);
    if (!waits) {
      act.ask(
        'nothing-waits',
        `No treatment in the book of ${row.shown} waits for this. Write down all the same that it ${WORDS[what]}?`,
        field,
      );
    }
  }
}

/** The holds that waited for this event, as they stand when it is written. */
function nowHeld(tx: Reader, row: SubjectRow, what: What, zone: string) {
  if (!AWAITED.includes(what)) return [];
  const waited = new Set(
    rawHoldsOn(tx, [row.subject])
      .filter((hold) => hold.event === what)
      .map((hold) => `${hold.source} ${hold.produce} ${hold.market} ${hold.clock}`),
  );
  return holdsOn(tx, [row.subject])
    .filter((hold) => waited.has(`${hold.source} ${hold.produce} ${hold.market} ${hold.clock}`))
    .map((hold) => sayHold(hold, zone));
}
