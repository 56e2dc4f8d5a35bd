import type { Store } from '../../src-main/store/store.ts';
import { type DataOf, draft, type KindName } from '../../src-shared/entries/all.ts';
import type { EntryDraft, Happened } from '../../src-shared/entries/kind.ts';
import type { HoldDecision } from '../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../src-shared/label/terms.ts';
import { labelTermsSchema } from '../../src-shared/label/terms.ts';
import { addDays, type Day } from '../../src-shared/time/day.ts';
import { instantOf } from '../../src-shared/time/zone.ts';
import type { Counting } from '../../src-shared/withdrawal/clearance.ts';
import { type Decision, decideHolds, longestOf } from '../../src-shared/withdrawal/holds.ts';
import type { LabelScript, Script, StepScript, When } from './script.ts';

/**
 * Writes a made-up history into a book, entry by entry, with the decisions a desk would write: holds come from the
 * real decideHolds under the label and house settings of the moment of writing.
 */
type Administered = DataOf<'administered'>;
type House = { counting: Counting; marginDays: number };
type Unread = {
  hold: string;
  subject: string;
  lines: { revision: string; doseLine: 'first' | 'second' }[];
  closed: string;
};
type Kept = { request: string; n: number; kind: KindName; data: unknown; happened: Happened; house: House };

const VOIDABLE: ReadonlySet<string> = new Set([
  'administered',
  'stock-moved',
  'lot-moved',
  'lot-set',
  'animal-set',
  'held',
  'hold-ended',
  'departed',
  'container-opened',
  'batch-received',
  'container-made-up',
]);
const REPLACEABLE: ReadonlySet<string> = new Set(['administered', 'stock-moved', 'lot-moved']);
const AMOUNT = (microlitres: number) => ({ kind: 'volume' as const, microlitres });
const ROUTE = { first: 'oral', second: 'subcutaneous' } as const;

function termsFrom(script: LabelScript): LabelTerms {
  const plain = (produce: string, value: string | undefined) =>
    value === undefined ? [] : [{ produce, says: value === '0 d' ? 'zero' : 'value', value }];
  return labelTermsSchema.parse({
    name: 'Ovimendol',
    form: 'drench',
    kind: 'volume',
    purpose: 'parasites',
    doseLines: [
      { id: 'first', route: 'oral', rate: { style: 'rate', text: '1 mL per head' } },
      { id: 'second', route: 'subcutaneous', rate: { style: 'rate', text: '1 mL per head' } },
    ],
    periods: [...plain('meat', script.meat), ...plain('milk', script.milk), ...script.rows],
  });
}

const kept = (decision: Decision): HoldDecision =>
  ({ ...decision, clock: 'food', countedFrom: undefined, working: [] }) as HoldDecision;
/** As an entry has it: fields without a value left out. */
const plain = <T>(value: T): T => JSON.parse(JSON.stringify(value)) as T;

export function writeHistory(store: Store, script: Script): void {
  const { zone, firstDay } = script.place;
  let house: House = { counting: script.counting, marginDays: script.marginDays };
  const terms = new Map<string, LabelTerms>();
  const medicineOf = new Map([
    ['v0', 'm0'],
    ['v1', 'm0'],
    ['v2', 'm1'],
  ]);
  const animals = ['a0', 'a1', 'a2'];
  const lots = ['l0', 'l1', 'l2'];
  const classes = new Map<string, 'ewe' | 'lamb'>();
  const containers: { id: string; revision: string }[] = [];
  const holds: { hold: string; subject: string }[] = [];
  const courses: {
    course: string;
    subject: string;
    plannedLast: string;
    planned: string[];
    open: boolean;
  }[] = [];
  const unreads: Unread[] = [];
  const said: Kept[] = [];
  /** The lot treated last at a known time. */
  let lastLot: { lot: string; happened: Happened } | undefined;
  let request = '';
  let drafts: EntryDraft[] = [];

  const at = (of: When, side: 'start' | 'end' = 'start'): Happened => {
    const day = addDays(firstDay as Day, of.day);
    const local = of.odd ? script.place.odd : of.time === undefined ? day : `${day}T${of.time}`;
    return { local, zone, at: instantOf(local, zone, side) };
  };
  const base: Happened = at({ day: -30, time: '08:00', odd: false });
  const written: Happened = at({ day: 60, time: '08:00', odd: false });
  const add = <K extends KindName>(kind: K, data: DataOf<K>, happened: Happened) => {
    const clean = plain(data);
    drafts.push(draft(kind, 'p', happened, clean));
    said.push({ request, n: drafts.length, kind, data: clean, happened, house });
  };
  const call = (name: string, work: () => void) => {
    request = name;
    drafts = [];
    work();
    store.write(name, name, () => ({ entries: drafts, reply: null }));
  };
  const one = <T>(from: readonly T[], pick: number): T | undefined => from[pick % Math.max(1, from.length)];
  const subjects = () => [...animals.map((id) => `animal:${id}`), ...lots.map((id) => `lot:${id}`)];

  const setHolding = () =>
    add(
      'holding-set',
      {
        holding: 'h',
        name: 'Invented farm',
        number: '1',
        address: 'Nowhere',
        zone,
        law: 'other',
        weightUnit: 'kg',
        milk: true,
        certificates: [],
        places: [],
        paper: 'a4',
        ...house,
      },
      said.length === 0 ? base : written,
    );
  const setLabel = (revision: string, act: 'first' | 'new-insert' | 'typed-wrongly', from: LabelScript) => {
    const data = { medicine: medicineOf.get(revision) ?? '', revision, act, state: 'confirmed' as const };
    terms.set(revision, termsFrom(from));
    add('label-set', { ...data, terms: termsFrom(from) }, act === 'typed-wrongly' ? written : base);
  };
  const setLot = (lot: string, heads: number, happened: Happened) => {
    if (!classes.has(`lot:${lot}`)) classes.set(`lot:${lot}`, lot === 'l0' ? 'ewe' : 'lamb');
    const cls = classes.get(`lot:${lot}`) ?? 'lamb';
    add(
      'lot-set',
      { lot, holding: 'h', name: lot, class: cls, heads, milking: false, origin: 'own' },
      happened,
    );
  };
  const setAnimal = (animal: string, cls: 'ewe' | 'lamb', happened: Happened) => {
    classes.set(`animal:${animal}`, cls);
    const named = { animal, holding: 'h', shown: animal, keys: [animal], class: cls };
    add('animal-set', { ...named, milking: animal === 'a0', origin: 'own' }, happened);
  };
  const receive = (revision: string, amount: number, happened: Happened) => {
    const id = `c${containers.length}`;
    containers.push({ id, revision });
    add(
      'batch-received',
      {
        batch: `b${id}`,
        medicine: medicineOf.get(revision) ?? '',
        revision,
        number: id,
        expiry: { printed: '2028-01', lastDay: '2028-01-31' },
        containers: [{ container: id, label: id, amount: AMOUNT(amount), unusableFrom: '2028-02-01' }],
      },
      happened,
    );
  };
  const holdsFor = (data: Administered, happened: Happened, under: House): HoldDecision[] => {
    const revisions =
      data.source.kind === 'ours' ? data.source.draws.map((draw) => draw.revision) : [data.source.revision];
    const course = courses.find((each) => each.course === data.course?.course);
    const decisions = longestOf(
      revisions.map((revision) =>
        decideHolds(terms.get(revision) as LabelTerms, {
          class: data.class,
          route: data.route,
          doseLine: data.doseLine,
          milking: data.subject === 'animal:a0',
          happened: happened.local,
          zone,
          ...under,
          ...(course?.open ? { plannedLast: course.plannedLast } : {}),
        }),
      ),
    );
    if (data.deviations.length === 0) return decisions.map(kept);
    return decisions.map((each) => {
      const { until: _until, period: _period, wakes: _wakes, event: _event, ...rest } = each;
      return kept(each.state === 'life' ? each : { ...rest, state: 'unknown' });
    });
  };
  /** Every standing treatment that matches is decided anew, by the way of counting it was first decided by. */
  const reassess = (matches: (data: Administered) => boolean) => {
    for (const item of said.filter((each) => each.kind === 'administered')) {
      const data = item.data as Administered;
      if (!matches(data)) continue;
      const { administration, subject } = data;
      const anew = holdsFor(data, item.happened, item.house);
      add(
        'reassessed',
        { source: `administration:${administration}`, subject, holds: anew, why: 'decided anew' },
        written,
      );
    }
  };
  const underRevision = (revision: string) => (data: Administered) =>
    data.source.kind === 'ours'
      ? data.source.draws.some((draw) => draw.revision === revision)
      : data.source.revision === revision;

  call('base', () => {
    setHolding();
    script.labels.forEach((label, i) => {
      setLabel(`v${i}`, i === 1 ? 'new-insert' : 'first', label);
    });
    for (const [i, id] of animals.entries()) setAnimal(id, i === 2 ? 'lamb' : 'ewe', base);
    for (const id of lots) setLot(id, 10, base);
    for (const revision of ['v0', 'v1', 'v2']) receive(revision, 200, base);
  });

  function treat(step: Extract<StepScript, { do: 'treat' }>, id: string): void {
    const subject = one(subjects(), step.subject) ?? '';
    const drawn = [
      one(containers, step.container),
      step.second === undefined ? undefined : one(containers, step.second),
    ];
    const from = drawn.flatMap((each) => each ?? []);
    const happened = at(step.when);
    const heads = subject.startsWith('lot:') ? step.heads : 1;
    if (subject.startsWith('lot:') && happened.local.length > 10)
      lastLot = { lot: subject.slice(4), happened };
    let course: Administered['course'];
    if (step.course !== undefined) {
      const planned = [...Array(step.course + 1).keys()].map((day) =>
        addDays(happened.local.slice(0, 10) as Day, day),
      );
      const plannedLast = planned.at(-1) ?? happened.local;
      courses.push({ course: `k${id}`, subject, plannedLast, planned, open: true });
      const { course: name } = { course: `k${id}` };
      add(
        'course-set',
        { course: name, subject, medicine: 'm0', doseLine: step.line, planned, state: 'open' },
        happened,
      );
      course = { course: name, n: 1, of: planned.length, plannedLast };
    }
    const amount = step.units * heads * from.length;
    const data: Administered = {
      administration: id,
      holding: 'h',
      subject,
      heads,
      medicine: medicineOf.get(from[0]?.revision ?? '') ?? '',
      product: 'Ovimendol',
      doseLine: step.line,
      source: step.vets
        ? { kind: 'vet', revision: from[0]?.revision ?? '' }
        : {
            kind: 'ours',
            draws: from.map((each, i) => ({
              container: each.id,
              batch: each.id,
              revision: each.revision,
              amount: AMOUNT(step.units * heads),
              ...(i === 0 && step.lost !== undefined ? { lost: AMOUNT(step.lost), lostWhy: 'spill' } : {}),
            })),
          },
      class: classes.get(subject) ?? 'lamb',
      dose: AMOUNT(step.units * from.length),
      total: AMOUNT(amount),
      sites: [],
      route: ROUTE[step.line],
      reason: 'invented',
      givenBy: 'p',
      deviations: step.beyond ? [{ code: 'over-label', text: 'more than the label says' }] : [],
      holds: [],
      working: [],
      ...(course ? { course } : {}),
    };
    add('administered', { ...data, holds: holdsFor(data, happened, house) }, happened);
  }

  function move(step: Extract<StepScript, { do: 'move' }>, id: string): void {
    const met = step.meets ? lastLot : undefined;
    const from = met?.lot ?? one(lots, step.from) ?? '';
    const happened = met?.happened ?? at(step.when, 'end');
    if (step.to === 'tag') {
      setAnimal(id, classes.get(`lot:${from}`) ?? 'lamb', happened);
      animals.push(id);
      add('lot-moved', { from, to: `animal:${id}`, heads: 1, why: 'tagged' }, happened);
    } else if (step.to === 'new') {
      classes.set(`lot:${id}`, classes.get(`lot:${from}`) ?? 'lamb');
      setLot(id, 0, happened);
      lots.push(id);
      add('lot-moved', { from, to: `lot:${id}`, heads: step.heads, why: 'split' }, happened);
    } else {
      const to =
        one(
          lots.filter((each) => each !== from),
          step.which,
        ) ?? '';
      add('lot-moved', { from, to: `lot:${to}`, heads: step.heads, why: 'merge' }, happened);
    }
  }

  function unread(step: Extract<StepScript, { do: 'unread' }>, id: string): void {
    const [opens, closes] = [at(step.opens), at(step.closes)].sort((a, b) => (a.at < b.at ? -1 : 1)) as [
      Happened,
      Happened,
    ];
    const chosen = [...new Set(step.subjects.map((pick) => one(subjects(), pick) ?? ''))];
    const lines = step.lines.map(({ revision, line }, i) => ({
      line: `${i}`,
      medicine: 'm0',
      revision: `v${revision % 3}`,
      doseLine: line,
      source: 'ours' as const,
      containers: [],
      reason: 'invented',
    }));
    const doses = (i: number) => lines.map((_line, j) => (i === 1 && j === 1 ? null : AMOUNT(1)));
    const plan = chosen.map((subject, i) => ({ subject, heads: 1, doses: doses(i) }));
    add(
      'session-opened',
      { session: id, holding: 'h', name: id, mode: 'each', lines, subjects: plan, leftOut: [] },
      opens,
    );
    add(
      'session-closed',
      { session: id, headsThrough: 9, headsRecorded: 0, unread: chosen, used: [] },
      closes,
    );
    for (const { subject, doses } of plan) {
      const hold = `${id}.${subject}`;
      const got = lines.filter((_line, i) => doses[i] !== null);
      holds.push({ hold, subject });
      unreads.push({ hold, subject, lines: got, closed: closes.local });
      const decided = unreadHolds(subject, got, closes.local, house);
      add(
        'held',
        { hold, subject, cause: 'possibly-treated', session: id, holds: decided, why: 'no record' },
        opens,
      );
    }
  }

  function unreadHolds(
    subject: string,
    lines: Unread['lines'],
    closed: string,
    under: House,
  ): HoldDecision[] {
    const given = {
      class: classes.get(subject) ?? 'lamb',
      milking: false,
      happened: closed,
      zone,
      ...under,
    } as const;
    const decided = lines.map(({ revision, doseLine }) =>
      decideHolds(terms.get(revision) as LabelTerms, { ...given, route: ROUTE[doseLine], doseLine }),
    );
    return longestOf(decided).map(kept);
  }

  /** A label that was typed wrongly moves what may have been given by it too: the hold is corrected in its place. */
  function correctUnreads(revision: string): void {
    for (const { hold, subject, lines, closed } of unreads) {
      if (!lines.some((line) => line.revision === revision)) continue;
      const target = said.find((each) => each.kind === 'held' && (each.data as DataOf<'held'>).hold === hold);
      if (!target) continue;
      const data = target.data as DataOf<'held'>;
      target.data = plain({ ...data, holds: unreadHolds(subject, lines, closed, target.house) });
      putInPlace(target);
    }
  }

  function putInPlace({ request: of, n, kind, happened, data }: Kept): void {
    const content = { target: { request: of, n }, kind, v: 1, happened, data, reason: 'mistyped' };
    drafts.push({ kind: 'replaced', happened: written, by: 'p', data: content });
  }

  function hold(step: Extract<StepScript, { do: 'hold' }>, id: string): void {
    const subject = one(subjects(), step.subject) ?? '';
    holds.push({ hold: id, subject });
    const until = step.cause === 'other' ? at({ ...step.when, day: step.when.day + 3 }).at : undefined;
    const each = (produce: 'meat' | 'milk') => ({
      produce,
      market: 'domestic' as const,
      clock: 'food' as const,
      state: until === undefined ? ('unknown' as const) : ('until' as const),
      ...(until === undefined ? {} : { until }),
      says: 'invented',
      rule: 'invented',
      working: [],
    });
    add(
      'held',
      { hold: id, subject, cause: step.cause, holds: [each('meat'), each('milk')], why: 'invented' },
      at(step.when),
    );
  }

  function replace(step: Extract<StepScript, { do: 'replace' }>): void {
    const target = one(
      said.filter((each) => REPLACEABLE.has(each.kind)),
      step.pick,
    );
    if (!target) return;
    target.house = house;
    if (target.kind === 'administered') {
      const old = target.data as Administered;
      const lotAsked = one(subjects(), step.subject) ?? old.subject;
      const subject = old.course ? old.subject : lotAsked;
      const heads = subject.startsWith('lot:') ? step.heads : 1;
      const data = { ...old, subject, heads, class: classes.get(subject) ?? old.class, total: AMOUNT(1) };
      target.happened = at(step.when);
      target.data = plain({ ...data, holds: holdsFor(data, target.happened, house) });
    } else if (target.kind === 'lot-moved') {
      target.happened = at(step.when, 'end');
      const old = target.data as DataOf<'lot-moved'>;
      target.data = { ...old, heads: old.to.startsWith('animal:') ? 1 : step.heads };
    } else {
      target.happened = at(step.when);
      target.data = { ...(target.data as DataOf<'stock-moved'>), amount: AMOUNT(step.units) };
    }
    putInPlace(target);
  }

  function strike(pick: number): void {
    const place = one(
      said.flatMap((each, i) => (VOIDABLE.has(each.kind) && each.request !== 'base' ? [i] : [])),
      pick,
    );
    const target = place === undefined ? undefined : said.splice(place, 1)[0];
    if (!target) return;
    const { request: of, n } = target;
    drafts.push({
      kind: 'voided',
      happened: written,
      by: 'p',
      data: { target: { request: of, n }, reason: 'wrong' },
    });
  }

  function perform(step: StepScript, id: string): void {
    if (step.do === 'treat') treat(step, id);
    else if (step.do === 'move') move(step, id);
    else if (step.do === 'unread') unread(step, id);
    else if (step.do === 'hold') hold(step, id);
    else if (step.do === 'replace') replace(step);
    else if (step.do === 'void') strike(step.pick);
    else if (step.do === 'receive') receive(`v${step.revision % 3}`, step.units * 10, at(step.when));
    else if (step.do === 'count-lot') setLot(one(lots, step.lot) ?? '', step.heads, at(step.when));
    else if (step.do === 'house') {
      house = { counting: step.counting, marginDays: step.marginDays };
      setHolding();
    } else if (step.do === 'label') {
      const revision = `v${step.pick % 3}`;
      setLabel(revision, 'typed-wrongly', step.label);
      reassess(underRevision(revision));
      correctUnreads(revision);
    } else if (step.do === 'close-course') {
      const course = one(
        courses.filter((each) => each.open),
        step.pick,
      );
      if (!course) return;
      course.open = false;
      const { course: name, subject, planned } = course;
      add(
        'course-set',
        { course: name, subject, medicine: 'm0', doseLine: 'first', planned, state: 'finished' },
        written,
      );
      reassess((data) => data.course?.course === name);
    } else if (step.do === 'end-hold') {
      const ended = one(holds, step.pick);
      if (ended) add('hold-ended', { ...ended, how: 'finding', why: 'invented' }, at(step.when));
    } else if (step.do === 'depart') {
      const subject = one(subjects(), step.subject) ?? '';
      add(
        'departed',
        { subject, heads: subject.startsWith('lot:') ? step.heads : 1, how: 'sold' },
        at(step.when, 'end'),
      );
    } else moveContainer(step, id);
  }

  function moveContainer(step: Extract<StepScript, { do: 'stock' | 'make' | 'open' }>, id: string): void {
    const container = one(containers, step.container);
    if (!container) return;
    const happened = at(step.when);
    if (step.do === 'open')
      add('container-opened', { container: container.id, unusableFrom: '2027-01-01' }, happened);
    else if (step.do === 'make') {
      const { revision } = container;
      const made = {
        container: id,
        label: id,
        medicine: medicineOf.get(revision) ?? '',
        revision,
        strength: '1 %',
      };
      const from = [{ container: container.id, amount: AMOUNT(step.units) }];
      add(
        'container-made-up',
        { ...made, amount: AMOUNT(step.units * 5), unusableFrom: '2027-01-01', from },
        happened,
      );
      containers.push({ id, revision });
    } else {
      const cause = step.cause as DataOf<'stock-moved'>['cause'];
      const moves = cause !== 'quarantined' && cause !== 'released';
      add(
        'stock-moved',
        { container: container.id, cause, ...(moves ? { amount: AMOUNT(step.units) } : {}) },
        happened,
      );
    }
  }

  script.steps.forEach((step, i) => {
    call(`s${i}`, () => {
      perform(step, `t${i}`);
    });
  });
}
