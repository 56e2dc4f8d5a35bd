import { expect, test } from 'vitest';
import { gotNoneOf, partlyBy, sayNone, unreadBy } from '../../src-renderer/screens/treat/close-values.ts';
import { lastOnes, untilOf } from '../../src-renderer/screens/treat/last-ones.ts';
import {
  instructionFor,
  massProblems,
  massSend,
  printException,
  withInstruction,
} from '../../src-renderer/screens/treat/mass-values.ts';
import { courseDays, doseLineOf } from '../../src-renderer/screens/treat/one-values.ts';
import {
  afterOne,
  type DoseFor,
  emptyRun,
  givenLines,
  sendsOf,
  stopsAtOnce,
} from '../../src-renderer/screens/treat/sends.ts';
import { isInjected, techniqueOf } from '../../src-renderer/screens/treat/words.ts';
import type { Reply } from '../../src-shared/calls/all.ts';
import { ROUTES } from '../../src-shared/label/terms.ts';

const worked: NonNullable<DoseFor['doses'][number]['dose']> = {
  draw: { amount: { kind: 'volume', microlitres: 5000 }, text: '5 mL' },
  sites: ['5 mL'],
  exact: '5 mL',
  working: [],
  warnings: [],
};
const drench = { line: 'L1', name: 'Drench', route: 'oral', dose: worked, draws: [] };
const injection = { line: 'L2', name: 'Injection', route: 'intramuscular', dose: worked, draws: [] };
const dose = (doses: DoseFor['doses'], more: Partial<DoseFor['who']> = {}): DoseFor => ({
  who: { subject: 'animal:1', shown: 'Ewe 1', class: 'ewe', heads: 1, ...more },
  doses,
  stops: [],
});
const lines = [{ line: 'L1' }, { line: 'L2' }];

test('an animal that gets everything as worked out is one call, with its weight', () => {
  const values = { ...emptyRun(lines), weight: '62', weightHow: 'scale' };
  expect(sendsOf('s', dose([drench, injection]), values)).toEqual([
    { session: 's', lines: ['L1', 'L2'], subject: 'animal:1', weight: '62', weightHow: 'scale' },
  ]);
});

test('an amount said for one medicine never reaches the other, and the weight is written once', () => {
  const values = {
    ...emptyRun(lines),
    weight: '62',
    'given.L2': '4 mL',
    'bottle.L1': 'c1',
    site: 'neck',
    side: 'left',
  };
  expect(sendsOf('s', dose([drench, injection]), values)).toEqual([
    {
      session: 's',
      lines: ['L1'],
      subject: 'animal:1',
      weight: '62',
      weightHow: 'scale',
      containers: ['c1'],
    },
    { session: 's', lines: ['L2'], subject: 'animal:1', site: 'neck', side: 'left', given: '4 mL' },
  ]);
});

test('a drench takes no site, side or needle along from an earlier session', () => {
  const values = { ...emptyRun(lines), site: 'neck', side: 'left', needle: '18G' };
  expect(sendsOf('s', dose([drench]), values)).toEqual([
    { session: 's', lines: ['L1'], subject: 'animal:1' },
  ]);
});

test('what the label refuses is not sent unless it is said how much went in', () => {
  const refused = { ...drench, dose: null, refused: { code: 'not-if', text: 'Not if class ram' } };
  expect(sendsOf('s', dose([refused]), emptyRun(lines))).toEqual([]);
  expect(givenLines(dose([refused]), { ...emptyRun(lines), 'given.L1': '3 mL' })).toEqual([refused]);
});

test('a part of a lot is sent as heads; one animal never is', () => {
  const values = { ...emptyRun(lines), heads: '12' };
  expect(sendsOf('s', dose([drench], { heads: 40 }), values)[0]).toMatchObject({ heads: 12 });
  expect(sendsOf('s', dose([drench]), values)[0]).not.toHaveProperty('heads');
});

test('after one animal nothing of it is left but what goes on: site, side, needle, who gives it', () => {
  const values = { ...emptyRun(lines), weight: '62', 'given.L1': '3 mL', site: 'neck', givenBy: 'p1' };
  expect(afterOne(values)).toEqual({ ...emptyRun(lines), site: 'neck', givenBy: 'p1' });
});

test('somebody who is not on the plan is asked about, and a planned one left out for one medicine is not', () => {
  const leftOut = { code: 'left-out', text: 'Left out when planned: Drench: no dose' };
  expect(stopsAtOnce(dose([drench]), 'not-planned').map((stop) => stop.code)).toEqual(['not-planned']);
  expect(stopsAtOnce({ ...dose([drench]), stops: [leftOut] }, 'waiting')).toEqual([]);
  expect(stopsAtOnce({ ...dose([drench]), stops: [leftOut] }, 'left-out')).toEqual([leftOut]);
  const twice = { code: 'already-treated', text: 'Ewe 1 was already treated in this session' };
  expect(stopsAtOnce({ ...dose([drench]), stops: [twice] }, 'not-planned')).toEqual([twice]);
});

const waiting: Reply<'session'>['waiting'] = [
  { subject: 'animal:1', shown: 'Ewe 1', class: 'ewe', heads: 1, left: ['l'], isPartly: false },
  { subject: 'lot:1', shown: 'Hill lambs', class: 'lamb', heads: 40, left: ['l'], isPartly: false },
];
const row: Reply<'session'>['session'] = {
  session: 's',
  name: 'Spring',
  mode: 'mass',
  state: 'open',
  opened: '2026-05-01T09:00',
  planned: 45,
  treated: 4,
  possibly: 0,
  possiblyOf: [],
  lines: ['Drench'],
};

test('one head more than recorded holds everybody unread; one fewer holds nobody and says so', () => {
  const session = { waiting, session: row, inPart: [] };
  const nothing = { absent: [], none: [] };
  expect(unreadBy(session, '5', nothing)).toEqual({ state: 'more', by: 1, unread: waiting });
  expect(unreadBy(session, '5', { absent: ['animal:1'], none: [] }).unread.map((one) => one.subject)).toEqual(
    ['lot:1'],
  );
  expect(unreadBy(session, '4', nothing)).toEqual({ state: 'even', by: 0, unread: [] });
  expect(unreadBy(session, '3', nothing)).toEqual({ state: 'fewer', by: 1, unread: [] });
  expect(unreadBy(session, '', nothing).state).toBe('unknown');
  expect(unreadBy(session, '-5', nothing).state).toBe('unknown');
});

test('a mass run sends tallies of parts only, and no tally of a lot that was left out', () => {
  const values = {
    ...{ except: [], heads: ['lot:1 30'], marked: ['lot:1'], given: '', lost: '3 mL', lostWhy: '' },
    ...{ site: '', side: '', needle: '', instructions: [] },
  };
  expect(massSend('s', values, waiting)).toEqual({
    session: 's',
    except: [],
    instructions: [],
    tally: [{ subject: 'lot:1', heads: 30, marked: true }],
    lost: { amount: '3 mL', why: 'Lost' },
  });
  expect(massSend('s', { ...values, heads: ['lot:1 40'] }, waiting).tally).toEqual([]);
  const except = [printException({ subject: 'lot:1', shown: 'Hill lambs', why: 'Not there' })];
  expect(massSend('s', { ...values, except }, waiting)).toMatchObject({
    except: [{ subject: 'lot:1', why: 'Not there' }],
    tally: [],
  });
  const said = { site: 'neck', side: 'right', needle: '18G 1 in' };
  expect(massSend('s', { ...values, ...said }, waiting)).toMatchObject(said);
  // The vet's word of this run stands before the one it was planned with; taken off, it follows none.
  const planned = { line: 'l1', instruction: 'i1' };
  expect(instructionFor(values, planned)).toBe('i1');
  const chosen = { ...values, ...withInstruction({ instructions: ['l1 i2', 'l2 i3'] }, 'l1', '') };
  expect(instructionFor(chosen, planned)).toBe('');
  expect(massSend('s', chosen, waiting).instructions).toEqual([
    { line: 'l2', instruction: 'i3' },
    { line: 'l1', instruction: null },
  ]);
});

test('a tally of none, of too many or of half a head is a problem of its lot', () => {
  for (const typed of ['0', '41', '1.5', '', 'all']) {
    const values = {
      ...{ except: [], heads: [`lot:1 ${typed}`], marked: [], given: '', lost: '', lostWhy: '' },
      ...{ site: '', side: '', needle: '', instructions: [] },
    };
    expect(
      massProblems(values, waiting).map((problem) => problem.field),
      typed,
    ).toEqual(['lot:1']);
  }
});

const treated = (subject: string, product: string, until: string): Reply<'session'>['last'][number] => ({
  subject,
  shown: subject,
  class: 'ewe',
  heads: 1,
  administration: `${subject} ${product}`,
  entry: { request: 'r', n: 1 },
  local: '2026-05-01T09:05',
  product,
  quantity: '5 mL',
  until,
});

test('the last three are animals, not medicines; a second dose of the same is a record of its own', () => {
  const rows = [
    treated('a', 'Drench', ''),
    treated('b', 'Drench', ''),
    treated('b', 'Injection', ''),
    treated('b', 'Drench', ''),
    treated('c', 'Drench', ''),
  ];
  expect(lastOnes(rows).map((one) => `${one.subject}${one.rows.length}`)).toEqual(['a1', 'b2', 'b1']);
});

test('what never clears by time is not said as a date', () => {
  const until = (...texts: string[]) =>
    untilOf({ subject: 'a', shown: 'a', time: '', rows: texts.map((text, n) => treated('a', `${n}`, text)) });
  expect(until('24 Dec 2026, 00:00')).toBe('Meat withdrawal until 24 Dec 2026, 00:00');
  expect(until('not stated: never clears by time')).toBe('Meat: not stated: never clears by time');
  expect(until('no withdrawal (0 days)')).toBe('Meat: no withdrawal (0 days)');
  expect(until('24 Dec 2026, 00:00', '24 Dec 2026, 00:00')).toBe('Meat withdrawal until 24 Dec 2026, 00:00');
});

test('only a route with a needle speaks of one', () => {
  for (const route of ROUTES) {
    const said = techniqueOf(route).join(' ');
    if (!isInjected(route)) expect(said, route).not.toMatch(/needle|inject|draw back|\bsite\b/i);
  }
  expect(techniqueOf('intramuscular').join(' ')).toMatch(/Push the air out.*Draw back/);
  expect(techniqueOf('subcutaneous').join(' ')).not.toMatch(/Draw back/);
});

test('a course counts its days over the end of a month, and does not guess hours', () => {
  expect(courseDays({ doses: 3, due: '1 d' }, '2026-02-27T08:00')).toEqual([
    '2026-02-27',
    '2026-02-28',
    '2026-03-01',
  ]);
  expect(courseDays({ doses: 2, due: '48 h' }, '2026-02-27')).toEqual(['2026-02-27', '2026-03-01']);
  expect(courseDays({ doses: 2, due: '12 h' }, '2026-02-27')).toBeUndefined();
});

test('of several dose lines that fit nobody is chosen for the person', () => {
  const line = (id: string, classes: ('ewe' | 'lamb')[]) => ({
    id,
    classes,
    route: 'oral' as const,
    rate: { style: 'rate' as const, text: '1 mL per 10 kg', of: 0 },
  });
  const terms = {
    name: 'Drench',
    form: 'drench' as const,
    kind: 'volume' as const,
    purpose: 'parasites' as const,
    prescription: 'not-stated' as const,
    actives: [],
    narrowMargin: false,
    stains: false,
    irritates: false,
    doseLines: [line('a', ['ewe']), line('b', ['ewe']), line('c', ['lamb'])],
    periods: [],
    notIf: [],
    storage: {},
    hazards: {},
    shakeWell: false,
  };
  expect(doseLineOf(terms, '', 'ewe')).toBeUndefined();
  expect(doseLineOf(terms, '', 'lamb')?.id).toBe('c');
  expect(doseLineOf(terms, 'b', 'ewe')?.id).toBe('b');
});

test('a record of one medicine holds by the other whatever is counted; one left out or said to have got none is not', () => {
  const ewe = { class: 'ewe', heads: 1, left: ['b'] };
  const partly = { ...ewe, subject: 'animal:1', shown: 'Ewe 1', isPartly: true };
  const out = { ...ewe, subject: 'animal:2', shown: 'Ewe 2', isPartly: false, leftOut: 'sick' };
  const session = { waiting: [partly, out], session: row, inPart: [] };
  expect(partlyBy(session, [])).toEqual([{ one: partly, lines: ['b'] }]);
  const none = sayNone([], partly.subject, ['b'], true);
  expect(partlyBy(session, none)).toEqual([]);
  expect(gotNoneOf(none, session.waiting)).toEqual([{ subject: partly.subject, lines: ['b'] }]);
  expect(sayNone(none, partly.subject, ['b'], false)).toEqual([]);
  // The one went through; the other was left out by name, and nobody else accounts for the heads.
  const nothing = { absent: [], none: [] };
  expect(unreadBy(session, '5', nothing).unread).toEqual([out]);
  const other = { ...out, subject: 'animal:3', leftOut: undefined };
  const { leftOut: _none, ...unread } = other;
  const withOther = { ...session, waiting: [...session.waiting, unread] };
  expect(unreadBy(withOther, '5', nothing).unread).toEqual([unread]);
  expect(unreadBy(withOther, '6', nothing).unread).toEqual([out, unread]);
  const lot = { subject: 'lot:1', shown: 'Hill', class: 'lamb', heads: 90, of: ['Drench'] };
  expect(unreadBy({ ...session, waiting: [], inPart: [lot] }, '9', nothing).unread).toEqual([lot]);
});
