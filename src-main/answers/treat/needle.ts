import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { whereCalls } from '../../../src-shared/calls/where.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import type { DoseLine, LabelTerms } from '../../../src-shared/label/terms.ts';
import { type Advice, adviceFor, needleRouteOf, usesNeedle } from '../../../src-shared/needle/advice.ts';
import type { NeedleChoice, Reason } from '../../../src-shared/needle/choose.ts';
import { type Needle, printNeedle } from '../../../src-shared/needle/needle.ts';
import type { Conflict } from '../../../src-shared/needle/rule.ts';
import { RULES } from '../../../src-shared/needle/rules.ts';
import { siteForBook } from '../../../src-shared/needle/site-words.ts';
import type { LastGiven, SitesPlan } from '../../../src-shared/needle/sites.ts';
import type { Gun, NeedleRoute, Technique } from '../../../src-shared/needle/situation.ts';
import { type Amount, amountOf, parseAmount, printAmount } from '../../../src-shared/quantity/amount.ts';
import { parseWeight, type Weight } from '../../../src-shared/quantity/weight.ts';
import type { Fault } from '../../../src-shared/refusal.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';
import type { Answers, Context } from '../context.ts';
import { optional } from '../optional.ts';
import { drawerOf, needlesAtHand } from '../reading/drawer.ts';
import { equipmentOf } from '../reading/equipment.ts';
import { holdingOf, recordOf } from '../reading/holding.ts';
import { newestRevision } from '../reading/revision.ts';
import { sitesBefore } from '../reading/sites-before.ts';
import { type SubjectRow, subjectOfName, weightOf } from '../reading/subjects.ts';
import { ageOn, lineFor } from './core.ts';
import { whenIn } from './when.ts';

type Answer = Reply<'needle-for'>;
type Shown = NonNullable<Answer['needle']>;

/** One dose of one animal, as the rules of needle and place want it. */
export type Injected = {
  row: SubjectRow;
  terms: LabelTerms;
  line: DoseLine;
  volume: Amount;
  weight: Weight | undefined;
  local: string;
  equipment?: string | undefined;
  condition?: 'thin' | 'fair' | 'fat' | undefined;
  fleece?: 'short' | 'full' | undefined;
  technique?: Technique | undefined;
  inStock?: readonly Needle[] | undefined;
  /** Only from the needles in the drawer; `inStock` goes before it. */
  fromDrawer?: boolean | undefined;
  /** Places the same treatment has used already. */
  besides?: readonly { site: LastGiven['site']; side: 'left' | 'right' }[] | undefined;
};

/** Where it goes and with which needle, by the animal's record, the farm's gun and the farm's own rules. */
export function advised(tx: Reader, asked: Injected): Advice {
  const { row, terms, line, volume, weight, local, condition } = asked;
  const today = local.slice(0, 10) as Day;
  const now = (asked.besides ?? []).map(({ site, side }) => ({ site, side, on: today }));
  return adviceFor({
    class: row.class,
    weight,
    ageDays: ageOn(row.born, local),
    condition,
    fleece: asked.fleece,
    technique: asked.technique,
    gun: gunOf(tx, asked.equipment),
    inStock: asked.inStock ?? (asked.fromDrawer === true ? needlesAtHand(drawerOf(tx)) : undefined),
    terms,
    line,
    volume,
    house: houseOf(tx, row.holding, needleRouteOf(line.route)),
    last: usesNeedle(line.route) ? [...now, ...sitesBefore(tx, row.subject)] : [],
    today,
  });
}

/** Only a gun is asked whether it can draw back; a syringe can. */
function gunOf(tx: Reader, equipment: string | undefined): Gun | undefined {
  if (equipment === undefined) return undefined;
  const { what, drawsBack } = equipmentOf(tx, equipment);
  return what === 'gun' ? { drawsBack } : undefined;
}

function houseOf(tx: Reader, holding: string, route: NeedleRoute | undefined) {
  const rules = recordOf<DataOf<'house-rules-set'>>(tx, 'house-rules', holding);
  if (rules === undefined) return undefined;
  const { maxPerSite, spacingIn, skin, muscle } = rules;
  return {
    ...(route === 'im' ? muscle : skin),
    spacingIn,
    maxPerSite: maxPerSite && amountOf(maxPerSite.kind, unitsOf(maxPerSite)),
  };
}

/** What will stand in the book when it is done as suggested; nothing where no place is suggested. */
export function whereOf({ sites, needle }: Advice): Answer['where'] {
  if (sites === undefined || !sites.ok) return undefined;
  return {
    ...siteForBook(sites.value.spots.map(({ place, side }) => ({ site: place.site, side }))),
    ...optional('needle', needle?.ok === true ? printNeedle(needle.value.choice) : undefined),
  };
}

/** Answers `needle-for`. */
function needleFor(context: Context, asked: Asked<'needle-for'>): Answer {
  const tx = context.store.read;
  const row = subjectOfName(tx, asked.subject);
  const holding = holdingOf(tx, row.holding);
  const { terms } = newestRevision(tx, asked.medicine);
  const line = lineFor(terms, asked.doseLine, row.class);
  const advice = advised(tx, {
    row,
    terms,
    line,
    volume: parseAmount(asked.volume, 'volume', { piece: terms.piece }),
    weight:
      asked.weight === undefined
        ? weightOf(row)
        : parseWeight(asked.weight, 'weight', { unit: holding.weightUnit }),
    local: whenIn(context, holding, asked.on).local,
    equipment: asked.equipment,
    condition: asked.condition,
    fleece: asked.fleece,
    technique: asked.technique,
    inStock: asked.inStock,
    fromDrawer: asked.fromDrawer,
    besides: asked.besides,
  });
  const { sites, needle, guidance } = advice;
  const route = needleRouteOf(line.route);
  return {
    route: line.route,
    usesNeedle: usesNeedle(line.route),
    ...optional('guidance', guidance && { steps: [...guidance.steps], source: guidance.source }),
    ...(sites?.ok === true && route !== undefined
      ? { sites: shownSites(sites.value, route, asked.parts ?? []) }
      : {}),
    ...(sites?.ok === false ? { noSites: said(sites.error) } : {}),
    ...(needle?.ok === true ? { needle: shownNeedle(needle.value) } : {}),
    ...(needle?.ok === false ? { noNeedle: said(needle.error) } : {}),
    ...optional('where', whereOf(advice)),
  };
}

const said = ({ code, message, next }: Fault) => ({ code, text: message, ...optional('next', next) });

function shownSites(
  plan: SitesPlan,
  route: NeedleRoute,
  parts: readonly string[],
): NonNullable<Answer['sites']> {
  // The dose may be split already, on the marks of the syringe.
  const isSame = parts.length === plan.spots.length;
  return {
    route,
    offered: plan.offered.map(({ place, isFirst, why }) => ({
      site: place.site,
      name: place.name,
      landmarks: place.landmarks,
      animals: place.animals,
      isFirst,
      why,
      avoid: place.avoid.map((one) => ({ ...one })),
      source: `${place.source} (${place.mark})`,
    })),
    spots: plan.spots.map(({ place, side, amount }, n) => ({
      site: place.site,
      side,
      amount: (isSame ? parts[n] : undefined) ?? printAmount(amount),
    })),
    perSite: plan.perSite.says,
    ...optional('spacing', plan.spots.length > 1 ? plan.spacingSays : undefined),
    last: plan.lastSays,
    drawBack: plan.drawBack,
    conflicts: plan.conflicts.map(shownConflict),
    warnings: [...plan.warnings],
  };
}

/** As many other needles as a person looks at. */
const MOST_OTHERS = 4;

function shownNeedle(found: NeedleChoice): Shown {
  const [first, ...others] = found.ranked;
  return {
    ...found.choice,
    text: printNeedle(found.choice),
    reasons: (first?.for ?? []).map(withSource),
    technique: { says: found.technique.says, source: found.technique.source },
    others: others.slice(0, MOST_OTHERS).map((one) => ({
      text: printNeedle(one),
      against: one.against.map(withSource),
    })),
    out: found.out.map((one) => ({ text: printNeedle(one), why: one.why.map(withSource) })),
    conflicts: found.conflicts.filter(({ topic }) => topic !== 'per-site').map(shownConflict),
    warnings: [...found.warnings],
  };
}

function withSource({ rule, text }: Reason): Shown['reasons'][number] {
  const row = RULES.find(({ id }) => id === rule);
  // A rule that names its source in its own words need not say it twice.
  const isNamed = row === undefined || row.mark === 'stated' || text.includes(row.source);
  return { rule, text, ...(isNamed ? {} : { source: `${row.source} (${row.mark})` }) };
}

const shownConflict = ({ topic, sides, taken }: Conflict) => ({
  topic,
  sides: sides.map((one) => ({ ...one })),
  taken,
});

export const whereAnswers: Answers<keyof typeof whereCalls> = { 'needle-for': needleFor };
