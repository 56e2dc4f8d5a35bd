import { settlements } from '../../src-main/answers/reading/settling.ts';
import type { Store } from '../../src-main/store/store.ts';
import { type DataOf, draft, type KindName } from '../../src-shared/entries/all.ts';
import type { EntryDraft, Happened } from '../../src-shared/entries/kind.ts';
import type { HoldDecision } from '../../src-shared/entries/parts.ts';
import type { LabelTerms, PeriodRow } from '../../src-shared/label/terms.ts';
import { labelTermsSchema } from '../../src-shared/label/terms.ts';
import { addDays, type Day } from '../../src-shared/time/day.ts';
import { instantOf } from '../../src-shared/time/zone.ts';
import type { Counting } from '../../src-shared/withdrawal/clearance.ts';
import { type Decision, decideHolds, type Given, longestOf } from '../../src-shared/withdrawal/holds.ts';
import { organicByLabel, organicRows } from '../../src-shared/withdrawal/organic.ts';
import { longestYoung, type Young, youngByLabel } from '../../src-shared/withdrawal/young.ts';
import type { LabelScript, Script, When } from './script.ts';

export type Administered = DataOf<'administered'>;
export type House = {
  counting: Counting;
  marginDays: number;
  /** Organic certificates of the holding, as they were known. */
  organic: readonly { from: string; until: string | undefined }[];
};
export type Unread = {
  hold: string;
  subject: string;
  lines: { revision: string; doseLine: 'first' | 'second' }[];
  closed: string;
};
export type Kept = {
  request: string;
  n: number;
  kind: KindName;
  data: unknown;
  happened: Happened;
  house: House;
};

const VOIDABLE: ReadonlySet<string> = new Set([
  'administered',
  'stock-moved',
  'lot-moved',
  'lot-set',
  'animal-set',
  'held',
  'hold-ended',
  'event-noted',
  'at-foot-set',
  'needle-lost',
  'departed',
  'container-opened',
  'batch-received',
  'container-made-up',
]);
export const AMOUNT = (microlitres: number) => ({ kind: 'volume' as const, microlitres });
export const ROUTE = { first: 'oral', second: 'subcutaneous' } as const;

function termsFrom(script: LabelScript): LabelTerms {
  const plain = (produce: string, value: string | undefined, from: object = {}) =>
    value === undefined ? [] : [{ produce, says: value === '0 d' ? 'zero' : 'value', value, ...from }];
  const milkFrom = { countedFrom: script.milkFrom, valueFromDose: script.milkFromDose };
  return labelTermsSchema.parse({
    name: 'Ovimendol',
    form: 'drench',
    kind: 'volume',
    purpose: script.purpose,
    doseLines: [
      { id: 'first', route: 'oral', rate: { style: 'rate', text: '1 mL per head' } },
      { id: 'second', route: 'subcutaneous', rate: { style: 'rate', text: '1 mL per head' } },
    ],
    periods: [...plain('meat', script.meat), ...plain('milk', script.milk, milkFrom), ...script.rows],
    // By the milk, so that the histories stay those they were: one label in three has no word on sucking lambs.
    ...(script.milkFromDose === '3 d'
      ? {}
      : {
          sucklingMeat: script.milkFromDose === '7 d' ? { says: 'value', value: '5 d' } : { says: 'zero' },
        }),
  });
}

/** A farm that goes by the label's word on lambs at foot: one that counts in one way, so that the histories stay. */
const byYoungWord = ({ counting }: Pick<House, 'counting'>) => counting !== 'later';
const kept = (decision: Decision): HoldDecision =>
  ({ ...decision, clock: 'food', countedFrom: undefined, working: [] }) as HoldDecision;
/** Whether the holding was certified on a day, as far as was known. */
const isCertified = ({ organic }: House, local: string) =>
  organic.some(
    ({ from, until }) => from <= local.slice(0, 10) && (until === undefined || local.slice(0, 10) <= until),
  );
/** As an entry has it: fields without a value left out. */
export const plain = <T>(value: T): T => JSON.parse(JSON.stringify(value)) as T;

/** The book, and all that was said so far: what a clerk with a good memory has on the desk. */
export function penOn(store: Store, script: Script) {
  const { zone, firstDay } = script.place;
  let house: House = { counting: script.counting, marginDays: script.marginDays, organic: [] };
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
    store.write(name, name, (tx) => ({ entries: [...drafts, ...settlements(tx, drafts)], reply: null }));
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
        counting: house.counting,
        marginDays: house.marginDays,
        ...(byYoungWord(house) ? { atFoot: 'as-the-label' as const } : {}),
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
    const decided = bothClocks(
      revisions,
      {
        class: data.class,
        route: data.route,
        doseLine: data.doseLine,
        milking: data.subject === 'animal:a0',
        happened: happened.local,
        zone,
        counting: under.counting,
        marginDays: under.marginDays,
        ...(course?.open ? { plannedLast: course.plannedLast } : {}),
      },
      isCertified(under, happened.local),
      byYoungWord(under) && data.deviations.length === 0,
    );
    if (data.deviations.length === 0) return decided;
    return decided.map((each) => {
      const { until: _until, period: _period, wakes: _wakes, event: _event, ...rest } = each;
      return each.state === 'life' ? each : { ...rest, state: 'unknown' };
    });
  };
  /** What the labels say of lambs that suck, by the real rules, line by line. */
  function youngOf(lines: readonly (readonly (readonly [LabelTerms, Given])[])[], instead: boolean) {
    return (organic: boolean) =>
      longestYoung(
        lines.map((labels) => {
          const purpose = labels.some(([label]) => label.purpose !== 'vaccine') ? 'parasites' : 'vaccine';
          const rowsOf = organic ? (row: PeriodRow) => organicRows(purpose, row) : undefined;
          return longestYoung(labels.map(([label, given]) => youngByLabel(label, given, instead, rowsOf)));
        }),
      );
  }
  const withYoung = (holds: HoldDecision[], young: Young | undefined): HoldDecision[] =>
    holds.map((hold) => {
      if (young === undefined || hold.produce !== 'meat') return hold;
      return {
        ...hold,
        young: { ...young, working: [], instead: young.instead && hold.market === 'domestic' },
      };
    });
  /** By the real rules: the food clock, and the organic one under a certificate. */
  function bothClocks(
    revisions: readonly string[],
    given: Given,
    organic: boolean,
    instead: boolean,
  ): HoldDecision[] {
    const labels = revisions.map((revision) => terms.get(revision) as LabelTerms);
    const food = longestOf(labels.map((label) => decideHolds(label, given))).map(kept);
    const young = youngOf([labels.map((label) => [label, given] as const)], instead);
    if (!organic) return withYoung(food, young(false));
    const second = longestOf(labels.map((label) => organicByLabel('eu-organic', label, given))).map(kept);
    return [
      ...withYoung(food, young(false)),
      ...withYoung(second, young(true)).map((hold) => ({ ...hold, clock: 'organic' as const })),
    ];
  }
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
      counting: under.counting,
      marginDays: under.marginDays,
    } as const;
    const of = ({ revision, doseLine }: Unread['lines'][number]) =>
      [terms.get(revision) as LabelTerms, { ...given, route: ROUTE[doseLine], doseLine }] as const;
    const young = youngOf(
      lines.map((line) => [of(line)]),
      byYoungWord(under),
    );
    const food = longestOf(lines.map((line) => decideHolds(...of(line)))).map(kept);
    if (!isCertified(under, closed)) return withYoung(food, young(false));
    const second = longestOf(lines.map((line) => organicByLabel('eu-organic', ...of(line)))).map(kept);
    return [
      ...withYoung(food, young(false)),
      ...withYoung(second, young(true)).map((hold) => ({ ...hold, clock: 'organic' as const })),
    ];
  }

  /** A label that was typed wrongly moves what may have been given by it too. */
  const reassessUnreads = (revision: string) => {
    for (const { hold, subject, lines, closed } of unreads) {
      if (!lines.some((line) => line.revision === revision)) continue;
      const target = said.find((each) => each.kind === 'held' && (each.data as DataOf<'held'>).hold === hold);
      if (!target) continue;
      const anew = unreadHolds(subject, lines, closed, target.house);
      add('reassessed', { source: `hold:${hold}`, subject, holds: anew, why: 'decided anew' }, written);
    }
  };

  function putInPlace({ request: of, n, kind, happened, data }: Kept): void {
    const content = { target: { request: of, n }, kind, v: 1, happened, data, reason: 'mistyped' };
    drafts.push({ kind: 'replaced', happened: written, by: 'p', data: content });
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

  return {
    one,
    at,
    add,
    call,
    said,
    animals,
    lots,
    classes,
    containers,
    holds,
    courses,
    unreads,
    written,
    medicineOf,
    subjects,
    setLabel,
    setLot,
    setAnimal,
    receive,
    holdsFor,
    unreadHolds,
    reassess,
    reassessUnreads,
    underRevision,
    putInPlace,
    strike,
    house: () => house,
    setHouse(to: Omit<House, 'organic'>) {
      house = { ...house, ...to };
      setHolding();
    },
    certify(certificate: string, from: string, until: string | undefined) {
      const of = 'holding:h';
      add(
        'certificate-set',
        { certificate, of, rules: 'eu-organic', name: 'Invented', from, until },
        written,
      );
      house = { ...house, organic: [...house.organic, { from, until }] };
    },
    zone,
    begin() {
      setHolding();
      script.labels.forEach((label, i) => {
        setLabel(`v${i}`, i === 1 ? 'new-insert' : 'first', label);
      });
      for (const [i, id] of animals.entries()) setAnimal(id, i === 2 ? 'lamb' : 'ewe', base);
      for (const id of lots) setLot(id, 10, base);
      for (const revision of ['v0', 'v1', 'v2']) receive(revision, 200, base);
    },
  };
}
