import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { instantOf, localOf, parseInstant } from '../../../src-shared/time/zone.ts';
import { clearAt } from '../../../src-shared/withdrawal/clearance.ts';
import { type Act, type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { holdingOfSubject } from '../reading/flock.ts';
import { checkPerson, type Holding, personName } from '../reading/holding.ts';
import { sayHold } from '../reading/say-hold.ts';
import { subjectOfName } from '../reading/subjects.ts';

/** No shorter stand-down without a question: a sheep product with a meat period of 104 d exists (read). */
const LEAST_STAND_DOWN = 105;

type Row = { cause: string; state: string; from_at: string; data: string; produce: string };

/**
 * Answers `date-hold`: a hold that waits for somebody's word gets an end by time. The seller states until when a
 * period still runs; or, with no statement to be had, the keeper sets and signs a stand-down from the day it came; or
 * the vet says until when. Refuses `no-such-hold`, `hold-ended`, `finding-only` (a needle is never cleared by time),
 * `vet-word-only`, `end-missing`, `signer-missing`; asks about a stand-down under 105 days.
 */
export function dateHold(context: Context, asked: Asked<'date-hold'>): Reply<'date-hold'> {
  return write<'date-hold'>(context, asked, (act) => {
    const { tx } = act;
    const subject = subjectOfName(tx, asked.subject);
    const holding = holdingOfSubject(tx, subject);
    const zone = holding?.zone ?? 'UTC';
    const rows = tx.all<Row>(
      'SELECT cause, state, from_at, data, produce FROM hold WHERE subject = ? AND source = ?',
      asked.subject,
      `hold:${asked.hold}`,
    );
    const [first] = rows;
    if (!first) throw new Refusal('no-such-hold', 'This animal has no such hold.', { field: 'hold' });
    if (rows.every((row) => row.state === 'none')) {
      throw new Refusal('hold-ended', 'This hold has already ended.', { field: 'hold' });
    }
    if (first.cause === 'broken-needle') {
      throw new Refusal('finding-only', 'A needle that was not found is never cleared by time.', {
        field: 'how',
        next: 'Write what was found, where and by whom.',
      });
    }
    if (first.cause === 'possibly-treated' && asked.how !== 'vet-word') {
      throw new Refusal('vet-word-only', 'It may have been treated here, and of that no seller knows.', {
        field: 'how',
        next: 'Write the vet’s word, record the treatment, or say that it was not treated.',
      });
    }
    const endOf =
      asked.how === 'stand-down'
        ? standDown(act, asked, cameLocal(context, asked, first, zone), holding)
        : stated(asked, zone);
    const holds = rows
      .filter((row) => row.state !== 'none')
      .map((row) => dated(JSON.parse(row.data) as HoldDecision, endOf(row.produce), asked));
    const data: DataOf<'reassessed'> = {
      source: `hold:${asked.hold}`,
      subject: asked.subject,
      holds,
      why: sayWhy(act, asked),
    };
    const happened = act.happened(holding, asked.happened, 'end');
    // An end must sort after the hold that it is about.
    act.add('reassessed', data, happened.at < first.from_at ? { ...happened, at: first.from_at } : happened);
    const shown = { subject: asked.subject, on_subject: asked.subject, product: null };
    return {
      holds: holds.map((hold) =>
        sayHold(
          {
            ...shown,
            source: data.source,
            cause: first.cause,
            produce: hold.produce,
            market: hold.market,
            clock: hold.clock,
            state: hold.state,
            until: hold.until ?? null,
            event: hold.event ?? null,
            period: hold.period ?? null,
            from_at: first.from_at,
            data: JSON.stringify(hold),
          },
          zone,
        ),
      ),
    };
  });
}

type End = { until: string; working: HoldDecision['working'] } | undefined;

/** What was stated of each produce. Of what is not spoken, nothing is known, and it stays held. */
function stated(asked: Asked<'date-hold'>, zone: string): (produce: string) => End {
  if (asked.meatUntil === undefined && asked.milkUntil === undefined) {
    throw new Refusal('end-missing', 'Write until when the meat or the milk is held.', {
      field: 'meatUntil',
    });
  }
  const end = (local: string | undefined, field: string): End =>
    local === undefined
      ? undefined
      : {
          until: instantOf(local, zone, 'end', field),
          working: [{ code: 'stated-until', values: { until: local } }],
        };
  const ends = { meat: end(asked.meatUntil, 'meatUntil'), milk: end(asked.milkUntil, 'milkUntil') };
  return (produce) => (produce === 'meat' ? ends.meat : produce === 'milk' ? ends.milk : undefined);
}

/** When it came, as it was written: of a day alone the end counts, and the hold has only its start. */
function cameLocal({ store }: Context, asked: Asked<'date-hold'>, row: Row, zone: string): string {
  const entry = store
    .entriesOf(asked.subject)
    .find(({ kind, data }) => kind === 'held' && (data as DataOf<'held'>).hold === asked.hold);
  const { at, local } = entry?.happened ?? { at: '', local: '' };
  return at === row.from_at ? local : localOf(parseInstant(row.from_at, 'from'), zone);
}

function standDown(
  act: Act,
  asked: Asked<'date-hold'>,
  /** When it came: local day or date-time. */
  came: string,
  holding: Holding | undefined,
): (produce: string) => End {
  const { days, signer } = asked;
  if (days === undefined) {
    throw new Refusal('end-missing', 'Write for how many days nothing of it goes for food.', {
      field: 'days',
      next: `No less than ${LEAST_STAND_DOWN} is a cautious number: there is a sheep medicine with a meat period of 104 days.`,
    });
  }
  if (signer === undefined) {
    throw new Refusal('signer-missing', 'Choose the keeper who sets this and signs for it.', {
      field: 'signer',
    });
  }
  checkPerson(act.tx, signer, 'signer');
  if (days < LEAST_STAND_DOWN) {
    act.ask(
      'short-stand-down',
      `${days} days is short: a sheep medicine with a meat period of 104 days exists, and nobody knows what it was given. Set ${days} days all the same?`,
      'days',
    );
  }
  const zone = holding?.zone ?? 'UTC';
  const { clearAt: until, working } = clearAt({
    lastDose: came,
    zone,
    period: { value: days, unit: 'd' },
    counting: holding?.counting ?? 'later',
  });
  return () => ({
    until,
    working: [
      { code: 'stand-down', values: { days: String(days) } },
      ...working.map((step) => ({ ...step })),
    ],
  });
}

function dated(hold: HoldDecision, end: End, { how, days }: Asked<'date-hold'>): HoldDecision {
  if (end === undefined) return hold;
  const { event: _event, period: _period, ...rest } = hold;
  return {
    ...rest,
    state: 'until',
    until: end.until,
    ...optional('period', how === 'stand-down' && days !== undefined ? `${days} d` : undefined),
    says: how,
    rule:
      how === 'stand-down' ? 'keeper-stand-down' : how === 'statement' ? 'seller-statement' : 'vet-stated',
    working: [...hold.working, ...end.working],
  };
}

function sayWhy(act: Act, { how, days, signer, why }: Asked<'date-hold'>): string {
  if (how === 'stand-down' && signer !== undefined) {
    return `Stand-down of ${days} d set and signed by ${personName(act.tx, signer)}: ${why}`;
  }
  return `${how === 'statement' ? 'By a statement' : 'By the vet’s word'}: ${why}`;
}
