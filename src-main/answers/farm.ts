import type { farmCalls } from '../../src-shared/calls/farm.ts';
import type { DataOf } from '../../src-shared/entries/all.ts';
import { unitsOf } from '../../src-shared/entries/parts.ts';
import { amountOf, printAmount } from '../../src-shared/quantity/amount.ts';
import { parsePeriod, printPeriod } from '../../src-shared/quantity/period.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { searchKey } from '../../src-shared/search-key.ts';
import { parseDay } from '../../src-shared/time/day.ts';
import { checkZone, dayOf, localOf, parseInstant } from '../../src-shared/time/zone.ts';
import { clockState, type Reader } from '../store/store.ts';
import { lastBackup } from './backup.ts';
import { type Answers, type Asked, type Context, write } from './context.ts';
import { optional } from './optional.ts';
import {
  businessOf,
  checkPerson,
  type Holding,
  holdingOf,
  onlyHolding,
  type Person,
  personName,
  recordsOf,
} from './reading/holding.ts';
import { labelsOf, medicineName, medicineOf } from './reading/labels.ts';
import { subjectsOf } from './reading/subjects.ts';
import { checkVet, validUntil } from './reading/vet-papers.ts';

const DOUBTS = {
  'before-last-entry': 'This computer’s clock is earlier than the last entry in the book. Confirm the date.',
  'long-after-last-entry':
    'This computer’s clock is more than 14 days after the last entry in the book. Confirm the date.',
} as const;

function count(tx: Reader, from: string): number {
  return tx.get<{ n: number }>(`SELECT count(*) AS n FROM ${from}`)?.n ?? 0;
}

function farm(context: Context) {
  const { store } = context;
  const tx = store.read;
  const now = context.now();
  const clock = clockState(store, now);
  const zone = onlyHolding(tx)?.zone ?? 'UTC';
  const { seq, checkCode } = store.head();
  const backup = lastBackup(store);
  return {
    business: businessOf(tx) ?? null,
    holdings: recordsOf<Holding>(tx, 'holding'),
    people: recordsOf<Person>(tx, 'person'),
    head: { seq, checkCode },
    ...(backup === undefined
      ? {}
      : { backup: { ...backup, day: dayOf(parseInstant(backup.at, 'backup'), zone) } }),
    clock: {
      state: clock.state,
      today: dayOf(parseInstant(now, 'clock'), zone),
      ...(clock.state === 'doubted' ? { why: DOUBTS[clock.why] } : {}),
    },
    counts: {
      animals: count(tx, 'animal WHERE present = 1'),
      lots: count(tx, 'lot WHERE heads > 0'),
      groups: count(tx, 'flock_group WHERE active = 1'),
      medicines: count(tx, 'medicine'),
      containers: count(tx, "container WHERE state NOT IN ('disposed', 'returned') AND left_units <> 0"),
      openSessions: count(tx, "session WHERE state = 'open'"),
    },
  };
}

function startBook(context: Context, asked: Asked<'start-book'>) {
  return write<'start-book'>(
    context,
    asked,
    (act) => {
      if (act.tx.get('SELECT 1 FROM journal LIMIT 1')) {
        throw new Refusal('book-started', 'This book has been started already.', {
          next: 'Open it as it is, or start another book under another name.',
        });
      }
      const zone = checkZone(asked.holding.zone, 'holding.zone');
      const person = act.id();
      const holding = act.id();
      const data: Holding = { ...asked.holding, zone, holding, keeper: person, certificates: [] };
      const when = act.happened(data);
      act.writeAs(person);
      act.add('person-set', { ...asked.keeper, person, active: true }, when);
      act.add('business-set', asked.business, when);
      act.add('holding-set', data, when);
      return { holding, person };
    },
    'made-here',
  );
}

function setBusiness(context: Context, asked: Asked<'set-business'>) {
  return write<'set-business'>(context, asked, (act) => {
    const { name, address, phone, email } = asked;
    // A demonstration stays one: its papers must never pass for real ones.
    const before = businessOf(act.tx);
    const demo = before?.demo ?? false;
    act.add('business-set', {
      name,
      address,
      demo,
      ...(phone === undefined ? {} : { phone }),
      ...(email === undefined ? {} : { email }),
      ...(before?.emergency === undefined ? {} : { emergency: before.emergency }),
    });
    return { done: true };
  });
}

function setHolding(context: Context, asked: Asked<'set-holding'>) {
  return write<'set-holding'>(context, asked, (act) => {
    const before = asked.holding === undefined ? undefined : holdingOf(act.tx, asked.holding);
    const zone = checkZone(asked.zone, 'zone');
    const holding = before?.holding ?? act.id();
    const keeper = asked.keeper ?? before?.keeper;
    if (asked.keeper !== undefined) checkPerson(act.tx, asked.keeper, 'keeper');
    const same = recordsOf<Holding>(act.tx, 'holding').find(
      (each) => each.holding !== holding && searchKey(each.number) === searchKey(asked.number),
    );
    if (same) {
      throw new Refusal('number-taken', `The number ${asked.number} already belongs to ${same.name}.`, {
        field: 'number',
        next: 'Check the number, or change that holding instead.',
      });
    }
    const { name, number, address, law, weightUnit, milk, counting, marginDays, places, paper } = asked;
    const shape = { name, number, address, law, weightUnit, milk, counting, marginDays, places, paper };
    act.add('holding-set', {
      ...shape,
      holding,
      zone,
      certificates: before?.certificates ?? [],
      ...optional('atFoot', asked.atFoot),
      ...(keeper === undefined ? {} : { keeper }),
    });
    return { holding };
  });
}

function setPerson(context: Context, asked: Asked<'set-person'>) {
  return write<'set-person'>(context, asked, (act) => {
    if (asked.person !== undefined) checkPerson(act.tx, asked.person, 'person');
    const { request: _request, by: _by, happened: _happened, confirmed: _confirmed, ...shape } = asked;
    const person = asked.person ?? act.id();
    const same = recordsOf<Person>(act.tx, 'person').find(
      (each) => each.person !== person && searchKey(each.name) === searchKey(asked.name),
    );
    if (same)
      act.ask('same-name', `There is already a ${same.name} in the book. Is this somebody else?`, 'name');
    act.add('person-set', { ...shape, person });
    return { person };
  });
}

function confirmDate(context: Context, asked: Asked<'confirm-date'>) {
  return write<'confirm-date'>(context, asked, (act) => {
    const day = parseDay(asked.day, 'day');
    const zone = onlyHolding(act.tx)?.zone ?? 'UTC';
    // Confirmed now, whatever else the call says: it is about the clock at this moment.
    const local = localOf(parseInstant(act.now, 'clock'), zone);
    act.add('date-confirmed', { day }, { local, zone, at: act.now });
    return { done: true };
  });
}

function recordInstruction(context: Context, asked: Asked<'record-instruction'>) {
  return write<'record-instruction'>(context, asked, (act) => {
    checkVet(act.tx, asked.vet);
    if (asked.medicine !== undefined) medicineOf(act.tx, asked.medicine);
    const known = new Set(subjectsOf(act.tx, asked.subjects).map((row) => row.subject));
    const missing = asked.subjects.findIndex((subject) => !known.has(subject));
    if (missing >= 0) {
      throw new Refusal('no-such-animal', 'An animal of this instruction is not in the book.', {
        field: `subjects.${missing}`,
        next: 'Look for it under Flock, or add it there.',
      });
    }
    const periods = asked.periods.map((row, i) => ({
      produce: row.produce,
      period: printPeriod(parsePeriod(row.period, `periods.${i}.period`)),
    }));
    const twice = periods.findIndex(
      (row, i) => periods.findIndex((other) => other.produce === row.produce) !== i,
    );
    if (twice >= 0) {
      throw new Refusal('period-twice', 'Periods: this produce is named twice.', {
        field: `periods.${twice}.produce`,
        next: 'Leave one period for each produce.',
      });
    }
    const { vet, medicine, what, subjects, form, reason } = asked;
    const instruction = act.id();
    act.add('instruction-given', {
      instruction,
      vet,
      what,
      subjects,
      periods,
      form,
      reason,
      ...(medicine === undefined ? {} : { medicine }),
      ...validUntil(asked.validUntil, act.happened(undefined).local.slice(0, 10)),
    });
    return { instruction };
  });
}

/** Records of one sort with the instant of what they tell, newest first. */
function newestFirst<T>(tx: Reader, what: string): { data: T; at: string }[] {
  return tx
    .all<{ data: string; at: string }>(
      'SELECT data, at FROM record WHERE what = ? ORDER BY at DESC, seq DESC',
      what,
    )
    .map((row) => ({ data: JSON.parse(row.data) as T, at: row.at }));
}

function papers(context: Context) {
  const tx = context.store.read;
  const zone = onlyHolding(tx)?.zone ?? 'UTC';
  return {
    instructions: newestFirst<DataOf<'instruction-given'>>(tx, 'instruction').map(({ data, at }) => ({
      ...data,
      vetName: personName(tx, data.vet),
      ...(data.medicine === undefined ? {} : { medicineName: medicineName(tx, data.medicine) }),
      subjectNames: subjectsOf(tx, data.subjects).map((row) => row.shown),
      given: dayOf(parseInstant(at, 'given'), zone),
    })),
    prescriptions: newestFirst<DataOf<'prescription-received'>>(tx, 'prescription')
      // By the day on the paper: it may have been typed in long after.
      .toSorted((a, b) => b.data.written.localeCompare(a.data.written))
      .map(({ data }) => ({
        ...data,
        vetName: personName(tx, data.vet),
        medicineName: medicineName(tx, data.medicine),
        ...(data.quantity === undefined
          ? {}
          : {
              quantityText: printAmount(
                amountOf(data.quantity.kind, unitsOf(data.quantity)),
                labelsOf(tx, data.medicine)[0]?.terms.piece,
              ),
            }),
      })),
  };
}

/** The business, its holdings and people, the clock, and the vet's papers. */
export const farmAnswers: Answers<keyof typeof farmCalls> = {
  farm,
  'start-book': startBook,
  'set-business': setBusiness,
  'set-holding': setHolding,
  'set-person': setPerson,
  'confirm-date': confirmDate,
  'record-instruction': recordInstruction,
  papers,
};
