import type { Store } from '../../src-main/store/store.ts';
import type { DataOf } from '../../src-shared/entries/all.ts';
import type { Happened } from '../../src-shared/entries/kind.ts';
import { needleHolds } from '../../src-shared/needle/lost.ts';
import { addDays, type Day } from '../../src-shared/time/day.ts';
import { localOf, parseInstant } from '../../src-shared/time/zone.ts';
import { clearAt } from '../../src-shared/withdrawal/clearance.ts';
import { type Administered, AMOUNT, penOn, plain, ROUTE } from './pen.ts';
import type { Script, StepScript } from './script.ts';
import { unreadOn } from './write-unread.ts';

const REPLACEABLE: ReadonlySet<string> = new Set(['administered', 'stock-moved', 'lot-moved']);

/**
 * Writes a made-up history into a book, entry by entry, with the decisions a desk would write: holds come from the
 * real decideHolds under the label and house settings of the moment of writing.
 */
export function writeHistory(store: Store, script: Script): void {
  const pen = penOn(store, script);
  const { add, at, one, animals, lots, classes, containers, courses, holds, medicineOf, subjects, written } =
    pen;
  /** The lot treated last at a known time. */
  let lastLot: { lot: string; happened: Happened } | undefined;
  let lastTreated: string | undefined;
  const unread = unreadOn(store, pen);
  pen.call('base', pen.begin);

  function treat(step: Extract<StepScript, { do: 'treat' }>, id: string): void {
    const subject = one(subjects(), step.subject) ?? '';
    const drawn = [
      one(containers, step.container),
      step.second === undefined ? undefined : one(containers, step.second),
    ];
    const from = drawn.flatMap((each) => each ?? []);
    const happened = at(step.when);
    const heads = subject.startsWith('lot:') ? step.heads : 1;
    lastTreated = subject;
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
    add('administered', { ...data, holds: pen.holdsFor(data, happened, pen.house()) }, happened);
  }

  function move(step: Extract<StepScript, { do: 'move' }>, id: string): void {
    const met = step.meets ? lastLot : undefined;
    const from = met?.lot ?? one(lots, step.from) ?? '';
    const happened = met?.happened ?? at(step.when, 'end');
    if (step.to === 'tag') {
      pen.setAnimal(id, classes.get(`lot:${from}`) ?? 'lamb', happened);
      animals.push(id);
      add('lot-moved', { from, to: `animal:${id}`, heads: 1, why: 'tagged' }, happened);
    } else if (step.to === 'new') {
      classes.set(`lot:${id}`, classes.get(`lot:${from}`) ?? 'lamb');
      pen.setLot(id, 0, happened);
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

  function foot(step: Extract<StepScript, { do: 'foot' }>, id: string): void {
    const subject = one(subjects(), step.lamb) ?? '';
    const dam = one(
      subjects().filter((each) => each !== subject),
      step.dam,
    );
    if (dam === undefined) return;
    const [from, until] = [at(step.from), step.until && at(step.until, 'end')];
    const isSpan = until !== undefined && until.at >= from.at;
    add(
      'at-foot-set',
      {
        foot: id,
        subject,
        dam,
        from: { local: from.local, at: from.at },
        ...(isSpan ? { until: { local: until.local, at: until.at } } : {}),
      },
      written,
    );
  }

  /** A word that gives a hold by hand or of one bought in an end: stated, or so many days from when it came. */
  function dateHold(step: Extract<StepScript, { do: 'date-hold' }>): void {
    const target = one(
      pen.said.filter((each) => each.kind === 'held' && (each.data as DataOf<'held'>).session === undefined),
      step.pick,
    );
    if (!target) return;
    const data = target.data as DataOf<'held'>;
    const period = step.days === undefined ? undefined : `${step.days} d`;
    const until =
      step.days === undefined
        ? at(step.when, 'end').at
        : clearAt({
            lastDose: localOf(parseInstant(target.happened.at, 'at'), pen.zone),
            zone: pen.zone,
            period: { value: step.days, unit: 'd' },
            counting: pen.house().counting,
          }).clearAt;
    const holds = data.holds.map((hold) => ({
      ...hold,
      state: 'until' as const,
      until,
      says: period === undefined ? 'statement' : 'stand-down',
      ...(period === undefined ? {} : { period }),
    }));
    add('reassessed', { source: `hold:${data.hold}`, subject: data.subject, holds, why: 'a word' }, written);
  }

  function needle(step: Extract<StepScript, { do: 'needle' }>, id: string): void {
    const suspects = [...new Set(step.subjects.map((pick) => one(subjects(), pick) ?? ''))];
    const happened = at(step.when);
    for (const subject of step.found ? [] : suspects) holds.push({ hold: id, subject });
    add(
      'needle-lost',
      {
        loss: id,
        needles: 1,
        found: step.found ? 'found-whole' : 'not-found',
        noticed: { local: happened.local, at: happened.at },
        held: step.found ? [] : suspects,
        holds: step.found ? [] : needleHolds(),
      },
      happened,
    );
  }

  function replace(step: Extract<StepScript, { do: 'replace' }>): void {
    const target = one(
      pen.said.filter((each) => REPLACEABLE.has(each.kind)),
      step.pick,
    );
    if (!target) return;
    target.house = pen.house();
    if (target.kind === 'administered') {
      const old = target.data as Administered;
      const lotAsked = one(subjects(), step.subject) ?? old.subject;
      const subject = old.course ? old.subject : lotAsked;
      const heads = subject.startsWith('lot:') ? step.heads : 1;
      const data = { ...old, subject, heads, class: classes.get(subject) ?? old.class, total: AMOUNT(1) };
      target.happened = at(step.when);
      target.data = plain({ ...data, holds: pen.holdsFor(data, target.happened, pen.house()) });
    } else if (target.kind === 'lot-moved') {
      target.happened = at(step.when, 'end');
      const old = target.data as DataOf<'lot-moved'>;
      target.data = { ...old, heads: old.to.startsWith('animal:') ? 1 : step.heads };
    } else {
      target.happened = at(step.when);
      target.data = { ...(target.data as DataOf<'stock-moved'>), amount: AMOUNT(step.units) };
    }
    pen.putInPlace(target);
  }

  function perform(step: StepScript, id: string): void {
    if (step.do === 'treat') treat(step, id);
    else if (step.do === 'move') move(step, id);
    else if (step.do === 'unread') unread.open(step, id);
    else if (step.do === 'hold') hold(step, id);
    else if (step.do === 'needle') needle(step, id);
    else if (step.do === 'replace') replace(step);
    else if (step.do === 'void') pen.strike(step.pick);
    else if (step.do === 'receive') pen.receive(`v${step.revision % 3}`, step.units * 10, at(step.when));
    else if (step.do === 'count-lot') pen.setLot(one(lots, step.lot) ?? '', step.heads, at(step.when));
    else if (step.do === 'house') {
      pen.setHouse({ counting: step.counting, marginDays: step.marginDays });
    } else if (step.do === 'label') {
      const revision = `v${step.pick % 3}`;
      pen.setLabel(revision, 'typed-wrongly', step.label);
      pen.reassess(pen.underRevision(revision));
      pen.reassessUnreads(revision);
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
      pen.reassess((data) => data.course?.course === name);
    } else if (step.do === 'event') {
      const subject = (step.meets ? lastTreated : undefined) ?? one(subjects(), step.subject) ?? '';
      // After most of the treatments, so that there is something it may end.
      const when = step.meets ? { ...step.when, day: step.when.day + 8 } : step.when;
      add('event-noted', { event: id, subject, what: step.what as 'lambing' }, at(when));
    } else if (step.do === 'foot') foot(step, id);
    else if (step.do === 'certify') {
      const day = addDays(script.place.firstDay as Day, step.day);
      pen.certify(id, day, step.days === undefined ? undefined : addDays(day, step.days));
    } else if (step.do === 'date-hold') dateHold(step);
    else if (step.do === 'end-hold') {
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
      const moves = cause !== 'quarantined' && cause !== 'released' && cause !== 'carried';
      add(
        'stock-moved',
        {
          container: container.id,
          cause,
          ...(moves ? { amount: AMOUNT(step.units) } : {}),
          ...(cause === 'carried' ? { store: `Shed ${step.units % 3}` } : {}),
        },
        happened,
      );
    }
  }

  script.steps.forEach((step, i) => {
    pen.call(`s${i}`, () => {
      perform(step, `t${i}`);
    });
    if (step.do === 'unread') pen.call(`s${i}c`, () => unread.close(step, `t${i}`));
  });
}
