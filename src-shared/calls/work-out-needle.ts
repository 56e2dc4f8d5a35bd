import { z } from 'zod';
import { CLASSES, FLOW_CLASSES } from '../label/terms.ts';
import { chooseNeedle, type NeedleChoice } from '../needle/choose.ts';
import { forceRange, printForceWorking } from '../needle/force-range.ts';
import { HUB_COLOURS, HUB_NOTE } from '../needle/hubs.ts';
import { lengthMm, printNeedle, readLength } from '../needle/needle.ts';
import { SITE_IDS } from '../needle/places.ts';
import { RULES } from '../needle/rules.ts';
import { type Condition, type NeedleAsk, TECHNIQUES } from '../needle/situation.ts';
import { BARRELS, readGauge } from '../needle/tubing.ts';
import { inDoseUnits, parseAmount } from '../quantity/amount.ts';
import { compare, fraction, parseDecimal, toDecimal } from '../quantity/fraction.ts';
import { parseWeight, weightQuestion } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import type { WorkingLine } from '../working.ts';
import { topic, typedText } from './work-out-topic.ts';

/** A plain number: its text, or a JSON number for whoever writes JSON by hand. */
const plain = z.preprocess((given) => (typeof given === 'number' ? String(given) : given), typedText);
const needle = z.strictObject({ gauge: plain, lengthIn: plain });
const stated = { gauge: plain.optional(), lengthIn: plain.optional(), maxPerSite: typedText.optional() };

const askSchema = z.strictObject({
  route: z.enum(['sc', 'im']),
  class: z.enum(CLASSES),
  weight: typedText,
  flowClass: z.enum(FLOW_CLASSES),
  volume: typedText,
  stains: z.boolean().optional(),
  irritates: z.boolean().optional(),
  leaks: z.boolean().optional(),
  /** thin, fair or fat, or a score from 1 to 5. */
  condition: plain.optional(),
  fleece: z.enum(['short', 'full']).optional(),
  technique: z.enum(TECHNIQUES).optional(),
  site: z.enum(SITE_IDS).optional(),
  gun: z.strictObject({ drawsBack: z.boolean().optional() }).optional(),
  label: z.strictObject({ ...stated, mostLengthMm: plain.optional() }).optional(),
  house: z.strictObject(stated).optional(),
  inStock: z.array(needle).max(200).optional(),
});
type Typed = z.output<typeof askSchema>;

export const needleTopic = topic('Which needle to take, by a table of rules.', askSchema, (typed) => {
  const ask = readAsk(typed);
  const found = chooseNeedle(ask);
  const question = ask.weight && weightQuestion(ask.weight);
  return {
    choice: found.choice,
    ranked: found.ranked,
    out: found.out,
    rules: found.rules,
    technique: found.technique.says,
    conflicts: found.conflicts,
    perSite: {
      mostMl: toDecimal(inDoseUnits(found.perSite.most)),
      places: found.perSite.each.length,
      sites: found.perSite.each.map((one) => ({ ml: toDecimal(inDoseUnits(one)) })),
    },
    hub: { word: HUB_COLOURS[found.choice.gauge].word, note: HUB_NOTE },
    working: workingOf(ask, found),
    warnings: [...(question === undefined ? [] : [question]), ...found.warnings],
  };
});

function readAsk({ label, house, inStock, condition, weight, volume, ...typed }: Typed): NeedleAsk {
  const most = label?.mostLengthMm;
  return {
    ...typed,
    weight: parseWeight(weight, 'weight'),
    volume: parseAmount(volume, 'volume'),
    condition: condition === undefined ? undefined : readCondition(condition),
    label: {
      ...readStated(label, 'label'),
      mostLengthMm: most === undefined ? undefined : parseDecimal(most, 'label.mostLengthMm'),
    },
    house: readStated(house, 'house'),
    inStock: inStock?.map(({ gauge, lengthIn }, i) => ({
      gauge: readGauge(gauge, `inStock.${i}.gauge`),
      lengthIn: readLength(lengthIn, `inStock.${i}.lengthIn`),
    })),
  };
}

function readStated(given: Typed['house'], field: 'label' | 'house') {
  const { gauge, lengthIn, maxPerSite } = given ?? {};
  return {
    gauge: gauge === undefined ? undefined : readGauge(gauge, `${field}.gauge`),
    lengthIn: lengthIn === undefined ? undefined : readLength(lengthIn, `${field}.lengthIn`),
    maxPerSite: maxPerSite === undefined ? undefined : parseAmount(maxPerSite, `${field}.maxPerSite`),
  };
}

const LEAST_SCORE = fraction(1);
const MOST_SCORE = fraction(5);
/** Up to a score of 2 an animal is thin, from 4 on it is fat (practice). */
const THIN_SCORE = fraction(2);
const FAT_SCORE = fraction(4);

function readCondition(text: string): Condition {
  const word = text.trim().toLowerCase();
  if (word === 'thin' || word === 'fair' || word === 'fat') return word;
  const isNumber = /^\d(\.\d{1,2})?$/.test(word);
  const score = isNumber ? parseDecimal(word, 'condition') : undefined;
  if (score === undefined || compare(score, LEAST_SCORE) < 0 || compare(score, MOST_SCORE) > 0) {
    throw new Refusal('bad-condition', 'Condition: write thin, fair or fat, or a score from 1 to 5.', {
      field: 'condition',
    });
  }
  if (compare(score, THIN_SCORE) <= 0) return 'thin';
  return compare(score, FAT_SCORE) >= 0 ? 'fat' : 'fair';
}

function workingOf(ask: NeedleAsk, found: NeedleChoice): WorkingLine[] {
  const decided = RULES.filter(({ id }) => found.rules.includes(id));
  const [best] = found.ranked;
  return [
    ...found.out.flatMap(({ why }) => why.map(({ rule, text }) => ({ code: rule, text, ...sourceOf(rule) }))),
    ...(best?.for ?? []).map(({ rule, text }) => ({
      code: rule,
      text: `${printNeedle(found.choice)}: ${text}`,
      ...sourceOf(rule),
    })),
    ...decided
      .filter(({ kind }) => kind === 'most')
      .map(({ id, source }) => ({ code: id, text: found.perSite.says, source })),
    ...forceLines(ask, found),
  ];

  function sourceOf(rule: string) {
    const row = decided.find(({ id }) => id === rule);
    return row === undefined ? {} : { source: `${row.source} (${row.mark})` };
  }
}

/** A remedy that is not watery: what it takes to push it, which explains the bore and never chooses it. */
function forceLines({ flowClass }: NeedleAsk, { choice }: NeedleChoice): WorkingLine[] {
  const barrelMm = BARRELS.get('10');
  if (flowClass === 'watery' || barrelMm === undefined) return [];
  const force = forceRange({
    thickness: flowClass,
    gauge: choice.gauge,
    lengthMm: lengthMm(choice.lengthIn),
    barrelMm,
    mlPerS: fraction(1),
    temperature: 'warm',
  });
  return [
    {
      code: 'force-explains',
      text: 'To explain the bore, and no reason of the choice: 1 mL a second from a 10 mL syringe.',
    },
    ...printForceWorking(force.working),
    ...force.warnings,
  ];
}
