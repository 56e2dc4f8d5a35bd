import type { DataOf } from '../../src-shared/entries/all.ts';
import type { LabelTerms } from '../../src-shared/label/terms.ts';
import { type FactOf, factsOf, type Line, standing } from './facts.ts';
import { RULES } from './model.ts';
import { type Clear, PERIOD_RULES, type PeriodRules, passes, readPeriod } from './periods.ts';

/**
 * The second model of treatments outside their label: worked out plainly from the lines of the journal. It reads no
 * deviation, no state, no period out of a treatment: it finds by itself what was outside the label, which instruction
 * holds, and the least by law.
 */
export type OutsideRules = PeriodRules & {
  /** Whether a dose, a way in, a class or the species is outside the label. */
  isOutside(given: Given, terms: LabelTerms, sameDay: readonly Given[]): boolean;
  /** Whether a dose of this local day counts with one of that, and which of them, by what it was for. */
  isSameDay(a: string, b: string): boolean;
  isSameAnimal(a: string, b: string): boolean;
  /** Whether a treatment is judged by what the book held when it was judged, or by what it holds now. */
  sumsAsOfThen: boolean;
  /** The day whose law counts. */
  lawDay(local: string): string;
  lawOf(law: string): string;
  /** Days of a longest period of so many hours, times one and a half. */
  oneAndAHalf(hours: number): number;
  /** Whether a law leaves it to the vet where the label has a period for sheep. */
  exceptsSpecies(law: string): boolean;
  lawCounts: boolean;
  labelCounts: boolean;
  vetCounts: boolean;
  /** Until when an instruction may be followed, for which animals and medicine. */
  stillGood(until: string | undefined, day: string): boolean;
  isForAnimal(subjects: readonly string[], subject: string): boolean;
  isForMedicine(medicine: string | undefined, given: string): boolean;
  /** Rows for other animals. */
  othersOf(terms: LabelTerms): NonNullable<LabelTerms['others']>;
};

type Given = DataOf<'administered'>;
type Printed = { sheep: number | undefined; longest: number | undefined; text: string; foreign: boolean };

const NEVER = Number.POSITIVE_INFINITY;
const hoursOf = (text: string): number => {
  const read = readPeriod(text);
  return 'hours' in read ? read.hours : read.days * 24;
};
const microlitres = (amount: Given['dose']) => (amount.kind === 'volume' ? amount.microlitres : 0);

/** These labels say 1 mL for each 10 kg: 100 µL for each kg. More than a tenth over it on one day is outside. */
function isOver({ dose, weight }: Given, sameDay: readonly Given[]): boolean {
  const kg = weight === undefined ? 0 : Number(weight.value) * (weight.unit === 'kg' ? 1 : 0.45359237);
  return sameDay.reduce((sum, other) => sum + microlitres(other.dose), microlitres(dose)) > kg * 110;
}

function isOutside(given: Given, terms: LabelTerms, sameDay: readonly Given[]): boolean {
  const line = terms.doseLines.find(({ id }) => id === given.doseLine);
  if (line === undefined) return true;
  const isForClass = line.classes.length === 0 || line.classes.includes(given.class);
  const isForSheep =
    (terms.others ?? []).length === 0 || terms.periods.some(({ says }) => says !== 'not-stated');
  return isOver(given, sameDay) || given.route !== line.route || !isForClass || !isForSheep;
}

export const OUTSIDE_RULES: OutsideRules = {
  ...PERIOD_RULES,
  isOutside,
  isSameDay: (a, b) => a.slice(0, 10) === b.slice(0, 10),
  isSameAnimal: (a, b) => a === b,
  sumsAsOfThen: true,
  lawDay: (local) => local.slice(0, 10),
  lawOf: (law) => law,
  oneAndAHalf: (hours) => Math.ceil((hours * 3) / 48),
  exceptsSpecies: (law) => law === 'eu' || law === 'ni',
  lawCounts: true,
  labelCounts: true,
  vetCounts: true,
  stillGood: (until, day) => until === undefined || day <= until,
  isForAnimal: (subjects, subject) => subjects.length === 0 || subjects.includes(subject),
  isForMedicine: (medicine, given) => medicine === undefined || medicine === given,
  othersOf: (terms) => terms.others ?? [],
};

function printedFor(terms: LabelTerms, produce: string, rules: OutsideRules): Printed {
  const values = (rows: readonly { says: string; value?: string | undefined }[]) =>
    rows.flatMap(({ says, value }) => (says === 'zero' ? ['0 d'] : says === 'value' && value ? [value] : []));
  const longest = (texts: readonly string[]) => texts.toSorted((a, b) => hoursOf(b) - hoursOf(a))[0];
  const sheep = values(terms.periods.filter((row) => row.produce === produce && row.market === 'domestic'));
  const others = rules.othersOf(terms).filter((row) => row.produce === produce);
  const withPeriod = others.filter(({ says }) => says !== 'not-for-this-produce');
  const text = longest([...sheep, ...values(others)]);
  const own = longest(sheep);
  return {
    sheep: own === undefined ? undefined : hoursOf(own),
    longest: text === undefined ? undefined : hoursOf(text),
    text: text ?? '',
    foreign: own === undefined && withPeriod.length > 0 && withPeriod.every((row) => row.otherFamily),
  };
}

/** The least by law as a period, or nothing where the law has no number and the label no period. */
function leastByLaw(
  law: string,
  local: string,
  produce: 'meat' | 'milk',
  printed: Printed,
  rules: OutsideRules,
): string | undefined {
  const { longest, sheep, text, foreign } = printed;
  const floor = longest === undefined ? undefined : text;
  const bare = produce === 'meat' ? 28 : 7;
  if (!['eu', 'ni', 'gb'].includes(law)) return floor;
  if (law === 'gb' && rules.lawDay(local) < '2024-05-17') {
    return longest === undefined || longest <= bare * 24 ? `${bare} d` : floor;
  }
  if (sheep !== undefined && rules.exceptsSpecies(law)) return `${sheep} h`;
  if (longest === undefined) return `${bare} d`;
  if (longest > 0) return `${rules.oneAndAHalf(longest)} d`;
  return produce === 'milk' || foreign ? '1 d' : '0 d';
}

/** When a produce of one treatment is clear. */
function clearOf(
  fact: FactOf<'administered'>,
  produce: 'meat' | 'milk',
  known: Known,
  rules: OutsideRules,
): Clear {
  const { data, happened } = fact;
  const revision = data.source.kind === 'ours' ? '' : data.source.revision;
  const terms = known.labels.get(revision);
  if (terms === undefined) throw new Error(`the model knows no label ${revision}`);
  const dose = {
    class: data.class,
    route: data.route,
    doseLine: data.doseLine,
    zone: happened.zone,
    house: known.house,
  };
  const count = (period: string) => passes(period, happened.local, dose, rules);
  const rows = terms.periods.filter((row) => row.produce === produce && row.market === 'domestic');
  const mine = rows.filter((row) => rules.matches(row, dose));
  const isFor = (says: string, of = mine) => of.some((row) => row.says === says);
  const outside = rules.isOutside(data, terms, sameDayOf(fact, known.lines, rules));
  const stated = statedFor(data, happened.local, produce, known, rules);
  const valued = (of: typeof rows) =>
    of.flatMap((row) => (row.says === 'zero' ? ['0 d'] : row.value === undefined ? [] : [row.value]));
  const isSilent = mine.length === 0 || isFor('not-stated');
  const never = isFor('for-life') || isFor('not-for-this-produce') || isSilent;
  if (stated === undefined) return outside || never ? NEVER : Math.max(...valued(mine).map(count));
  if (isFor('for-life')) return NEVER;
  const isNotForIt = isFor('not-for-this-produce');
  const byVet = outside || isNotForIt;
  if (byVet && isFor('for-life', rows)) return NEVER;
  const least = leastByLaw(
    rules.lawOf(known.law),
    happened.local,
    produce,
    printedFor(terms, produce, rules),
    rules,
  );
  const candidates = [
    ...(rules.vetCounts ? [stated] : []),
    ...(byVet && rules.lawCounts && least !== undefined ? [least] : []),
    ...(rules.labelCounts
      ? valued(byVet || isSilent ? rows.filter(({ says }) => says === 'value') : mine)
      : []),
    ...(isSilent || isNotForIt || !rules.labelCounts ? [] : valued(mine)),
  ];
  return Math.max(...candidates.map(count));
}

/** The other doses of its day that the book held when it was written, or corrected last. */
function sameDayOf(fact: FactOf<'administered'>, lines: readonly Line[], rules: OutsideRules): Given[] {
  const { data, happened } = fact;
  const then = rules.sumsAsOfThen ? lines.filter(({ seq }) => seq < fact.saidSeq) : lines;
  return factsOf(standing(then, RULES), 'administered')
    .filter(
      (other) =>
        other.data.administration !== data.administration &&
        other.data.medicine === data.medicine &&
        rules.isSameAnimal(other.data.subject, data.subject) &&
        rules.isSameDay(other.happened.local, happened.local),
    )
    .map((other) => other.data);
}

/** The vet's period for a produce of this treatment, by an instruction that holds for it. */
function statedFor(
  data: Given,
  local: string,
  produce: string,
  known: Known,
  rules: OutsideRules,
): string | undefined {
  const said = data.instruction === undefined ? undefined : known.instructions.get(data.instruction);
  if (said === undefined) return undefined;
  const holds =
    rules.isForMedicine(said.medicine, data.medicine) &&
    rules.isForAnimal(said.subjects ?? [], data.subject) &&
    rules.stillGood(said.validUntil, local.slice(0, 10));
  return holds ? said.periods?.find((row) => row.produce === produce)?.period : undefined;
}

type Known = {
  lines: readonly Line[];
  labels: Map<string, LabelTerms>;
  instructions: Map<string, DataOf<'instruction-given'>>;
  law: string;
  house: { counting: '24-hour' | 'whole-days' | 'later'; marginDays: number };
};

/** When meat and milk of each treatment are clear by themselves: "administration produce" to milliseconds or never. */
export function outsideModel(
  lines: readonly Line[],
  rules: OutsideRules = OUTSIDE_RULES,
): Map<string, Clear> {
  const facts = standing(lines, RULES);
  const holding = factsOf(facts, 'holding-set').at(-1)?.data;
  if (holding === undefined) throw new Error('the model knows no holding');
  const known: Known = {
    lines,
    labels: new Map(factsOf(facts, 'label-set').map(({ data }) => [data.revision, data.terms] as const)),
    instructions: new Map(
      factsOf(facts, 'instruction-given').map(({ data }) => [data.instruction, data] as const),
    ),
    law: holding.law,
    house: { counting: holding.counting ?? 'later', marginDays: holding.marginDays ?? 0 },
  };
  return new Map(
    factsOf(facts, 'administered').flatMap((fact) =>
      (['meat', 'milk'] as const).map(
        (produce) =>
          [`${fact.data.administration} ${produce}`, clearOf(fact, produce, known, rules)] as const,
      ),
    ),
  );
}
