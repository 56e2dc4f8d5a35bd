import type { DataOf } from '../../src-shared/entries/all.ts';
import type { LabelTerms } from '../../src-shared/label/terms.ts';
import { type Fact, type FactOf, factsOf } from './facts.ts';
import { type Clear, type Dose, type Event, type House, labelsClear, passes } from './periods.ts';
import type { Bar, Rules } from './rules.ts';
import type { MayHave } from './unread.ts';
import { wallClock } from './zones.ts';

/** Deviations after which the label's own periods do not speak for what was done. */
const BEYOND_LABEL = new Set([
  'class-not-on-label',
  'dose-line-unknown',
  'too-light',
  'too-heavy',
  'too-young',
  'too-old',
  'over-label',
  'over-most',
  'below-first-band',
  'above-last-band',
  'weight-missing',
  'strength-missing',
  'made-up-by-volume',
  'other-route',
  'repeated-early',
  'more-doses',
  'not-for-sheep',
  'not-if',
]);
const PRODUCE = ['meat', 'milk', 'wool-harvest', 'wool-handling'];

/** What the label of a revision says, as last typed by then. */
function labelsOf(facts: readonly Fact[], corrected: boolean): Map<string, LabelTerms> {
  const labels = new Map<string, LabelTerms>();
  for (const { data } of factsOf(facts, 'label-set')) {
    if (corrected || !labels.has(data.revision)) labels.set(data.revision, data.terms);
  }
  return labels;
}

/** House settings as they stood when a line was written. */
function houseAt(facts: readonly Fact[], holding: string, seq: number): House {
  const said = factsOf(facts, 'holding-set').filter(
    (fact) => fact.data.holding === holding && fact.seq < seq,
  );
  const last = said.at(-1);
  if (!last) throw new Error(`the model knows no holding ${holding}`);
  const organic = factsOf(facts, 'certificate-set')
    .filter((fact) => fact.seq < seq && fact.data.rules === 'eu-organic')
    .map(({ data }) => ({ from: data.from, until: data.until }));
  return {
    counting: last.data.counting ?? 'later',
    marginDays: last.data.marginDays ?? 0,
    organic,
    byYoungWord: last.data.atFoot === 'as-the-label',
  };
}

type Labelled = { terms: LabelTerms; dose: Dose };

/** What labels say of the meat of lambs that suck; where one has no word, the ewe's end counts as well. */
function youngOf(
  labels: readonly Labelled[],
  local: string,
  { isOrganic, isInDoubt }: { isOrganic: boolean; isInDoubt: boolean },
  rules: Rules,
): Bar['young'] {
  const purpose = labels.some(({ terms }) => terms.purpose !== 'vaccine') ? 'other' : 'vaccine';
  const clears = labels.flatMap(({ terms, dose }) => {
    const word = terms.sucklingMeat;
    if (word === undefined || word.says === 'as-the-ewe') return [];
    const period = word.says === 'zero' ? '0 d' : (word.value ?? '0 d');
    const all = isOrganic ? rules.organicOf(period, purpose) : [period];
    return [Math.max(...all.map((each) => passes(each, local, dose, rules)))];
  });
  if (clears.length === 0 || !rules.youngIsHeard) return undefined;
  const isRule = labels.every(({ dose }) => dose.house.byYoungWord === true);
  const instead = !isInDoubt && clears.length === labels.length && rules.youngInstead(isRule);
  return { instead, clear: Math.max(...clears) };
}

/** Of several that may all have been given: the longest, and in the ewe's place only if all are. */
function youngOfAll(each: readonly Bar['young'][]): Bar['young'] {
  const said = each.flatMap((one) => one ?? []);
  if (said.length === 0) return undefined;
  return {
    instead: said.length === each.length && said.every(({ instead }) => instead),
    clear: Math.max(...said.map(({ clear }) => clear)),
  };
}

export function treatmentBars(
  fact: FactOf<'administered'>,
  facts: readonly Fact[],
  known: Known,
  rules: Rules,
): Bar[] {
  const { data, happened } = fact;
  const house = houseAt(facts, data.holding, fact.saidSeq);
  const dose: Dose = {
    class: data.class,
    route: data.route,
    doseLine: data.doseLine,
    zone: happened.zone,
    house,
  };
  const revisions =
    data.source.kind === 'ours' ? data.source.draws.map((draw) => draw.revision) : [data.source.revision];
  const labels = rules
    .boxes(revisions.flatMap((revision) => known.labels.get(revision) ?? []))
    .map((terms) => ({ terms, dose }));
  const open =
    data.course && known.courses.get(data.course.course) !== 'closed' ? data.course.plannedLast : undefined;
  const last = rules.lastDose(happened.local, open, happened.zone);
  const beyond = (data.deviations ?? []).some(({ code }) => BEYOND_LABEL.has(code));
  const vet = data.instruction === undefined ? undefined : known.instructions.get(data.instruction);
  return PRODUCE.flatMap((produce) =>
    ['domestic', 'export'].flatMap((market) => {
      const label = labelsClear(labels, produce, market, last, rules);
      if (label === undefined) return [];
      const stated = vet?.get(produce);
      let clear = beyond ? rules.notStated : label;
      if (stated !== undefined) {
        // The vet may lengthen what the labels state, never shorten it; where they are silent his word is the only one.
        const silentCounts = { ...rules, notStated: Number.NEGATIVE_INFINITY };
        const printed = labelsClear(labels, produce, market, last, silentCounts) ?? Number.NEGATIVE_INFINITY;
        clear = Math.max(printed, passes(stated, last, dose, rules));
      }
      const source = `administration:${data.administration}`;
      const base = { source, put: data.subject, produce, market, from: fact.order, isOfMedicine: true };
      const isWaiting = !beyond && stated === undefined && clear === Number.POSITIVE_INFINITY;
      const clockOf = (isOrganic: boolean) => (event?: Event) =>
        labelsClear(labels, produce, market, last, rules, { event, isOrganic }) ?? Number.POSITIVE_INFINITY;
      const young = (isOrganic: boolean) =>
        produce !== 'meat'
          ? undefined
          : youngOf(
              labels,
              last,
              { isOrganic, isInDoubt: beyond || stated !== undefined || market === 'export' },
              rules,
            );
      const food = {
        ...base,
        clock: 'food' as const,
        clear,
        after: isWaiting ? clockOf(false) : undefined,
        young: young(false),
      };
      if (!hasSecondClock(produce, market) || !rules.isCertified(house, happened.local.slice(0, 10)))
        return [food];
      let second = beyond ? rules.notStated : clockOf(true)();
      if (stated !== undefined) {
        // Every period is doubled by itself: the vet's too.
        const purpose = labels.some(({ terms }) => terms.purpose !== 'vaccine') ? 'other' : 'vaccine';
        const silentCounts = { ...rules, notStated: Number.NEGATIVE_INFINITY };
        const printed = labelsClear(labels, produce, market, last, silentCounts, { isOrganic: true });
        const vets = rules.organicOf(stated, purpose).map((each) => passes(each, last, dose, rules));
        second = Math.max(printed ?? Number.NEGATIVE_INFINITY, ...vets);
      }
      return [
        food,
        {
          ...base,
          clock: 'organic' as const,
          clear: second,
          after: isWaiting ? clockOf(true) : undefined,
          young: young(true),
        },
      ];
    }),
  );
}

const hasSecondClock = (produce: string, market: string) =>
  market === 'domestic' && (produce === 'meat' || produce === 'milk');

export function heldBars(fact: FactOf<'held'>, facts: readonly Fact[], rules: Rules): Bar[] {
  const { data } = fact;
  const base = { source: `hold:${data.hold}`, put: data.subject, from: fact.order };
  // Bought in, a needle not found, a word by hand: facts without a clock, or with the end that a person named.
  return data.holds
    .filter((hold) => hold.clock === 'food' && hold.state !== 'none')
    .map((hold) => ({
      ...base,
      produce: hold.produce,
      market: hold.market,
      clock: 'food' as const,
      isOfMedicine: false,
      clear: rules.wordsDate ? wordedEnd(fact, hold, facts, rules) : Number.POSITIVE_INFINITY,
    }));
}

/** What one is barred by that may have been given something of a session and has no record of it. */
export function unreadBars(
  { opened, closed, subject, got, held }: MayHave,
  facts: readonly Fact[],
  known: Known,
  rules: Rules,
): Bar[] {
  const { session } = opened.data;
  const source = held === undefined ? `nothing written of ${session}` : `hold:${held.data.hold}`;
  const base = { source, put: subject, from: held?.order ?? opened.order };
  const house = houseAt(facts, opened.data.holding, held?.seq ?? closed.seq);
  const { local, zone } = closed.happened;
  const byLine = got.map(({ line, boxes }) =>
    boxes.flatMap((revision) => {
      const terms = known.labels.get(revision);
      const route = terms?.doseLines.find((each) => each.id === line.doseLine)?.route;
      if (!terms || route === undefined) return [];
      return {
        terms,
        dose: { class: known.classes.get(subject) ?? '', route, doseLine: line.doseLine, zone, house },
      };
    }),
  );
  const labels = byLine.flat();
  return PRODUCE.flatMap((produce) =>
    ['domestic', 'export'].flatMap((market) => {
      const clockOf = (isOrganic: boolean) => (event?: Event) =>
        labelsClear(labels, produce, market, local, rules, { event, isOrganic }) ?? Number.POSITIVE_INFINITY;
      if (labelsClear(labels, produce, market, local, rules) === undefined) return [];
      const isCertified = hasSecondClock(produce, market) && rules.isCertified(house, local.slice(0, 10));
      return [false, ...(isCertified ? [true] : [])].map((isOrganic) => {
        const clear = clockOf(isOrganic)();
        const after = clear === Number.POSITIVE_INFINITY ? clockOf(isOrganic) : undefined;
        const clock = isOrganic ? ('organic' as const) : ('food' as const);
        const isInDoubt = market === 'export';
        const young =
          produce === 'meat'
            ? youngOfAll(byLine.map((of) => youngOf(of, local, { isOrganic, isInDoubt }, rules)))
            : undefined;
        return { ...base, produce, market, clock, clear, after, young, isOfMedicine: true };
      });
    }),
  );
}

/**
 * The end that a person named, when the hold was put on or in a later word: a day or time as stated, or whole days from
 * when it came, counted by the farm's way.
 */
function wordedEnd(
  fact: FactOf<'held'>,
  hold: DataOf<'held'>['holds'][number],
  facts: readonly Fact[],
  rules: Rules,
): Clear {
  const word = factsOf(facts, 'reassessed')
    .filter(({ data }) => data.source === `hold:${fact.data.hold}`)
    .toSorted((a, b) => a.seq - b.seq)
    .at(-1);
  const said = word?.data.holds.find((each) => each.produce === hold.produce) ?? hold;
  if (word !== undefined && said.says === 'stand-down' && said.period !== undefined) {
    const { zone } = fact.happened;
    const house = { ...houseAt(facts, 'h', word.seq), marginDays: 0 };
    const dose = { class: '', route: '', doseLine: '', zone, house };
    return passes(said.period, wallClock(fact.order, zone), dose, rules);
  }
  return said.state === 'until' && said.until ? Date.parse(said.until) : Number.POSITIVE_INFINITY;
}

/** A needle nobody found is in the meat for good, of everybody who may carry it. A needle does not come into milk. */
export function needleBars(fact: FactOf<'needle-lost'>): Bar[] {
  const { data } = fact;
  if (data.found === 'found-whole') return [];
  return data.held.map((subject) => ({
    source: `hold:${data.loss}`,
    put: subject,
    produce: 'meat',
    market: 'domestic',
    clock: 'food',
    isOfMedicine: false,
    from: fact.order,
    clear: Number.POSITIVE_INFINITY,
  }));
}

export type Known = {
  labels: Map<string, LabelTerms>;
  courses: Map<string, 'open' | 'closed'>;
  instructions: Map<string, Map<string, string>>;
  classes: Map<string, string>;
};

export function knownOf(facts: readonly Fact[], rules: Rules): Known {
  return {
    labels: labelsOf(facts, rules.labelAsCorrected),
    courses: new Map(
      factsOf(facts, 'course-set').map(
        ({ data }) => [data.course, data.state === 'open' ? 'open' : 'closed'] as const,
      ),
    ),
    instructions: new Map(
      factsOf(facts, 'instruction-given').map(({ data }) => [
        data.instruction,
        new Map((data.periods ?? []).map((row) => [row.produce, row.period] as const)),
      ]),
    ),
    classes: new Map([
      ...factsOf(facts, 'animal-set').map(({ data }) => [`animal:${data.animal}`, data.class] as const),
      ...factsOf(facts, 'lot-set').map(({ data }) => [`lot:${data.lot}`, data.class] as const),
    ]),
  };
}
