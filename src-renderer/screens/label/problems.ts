import { checkTerms, plausibilityQuestions } from '../../../src-shared/label/check.ts';
import { type LabelTerms, PRODUCE } from '../../../src-shared/label/terms.ts';
import { PRODUCE_WORDS } from '../../../src-shared/label/words.ts';
import { parseAmount } from '../../../src-shared/quantity/amount.ts';
import { parsePeriod } from '../../../src-shared/quantity/period.ts';
import { parseRate } from '../../../src-shared/quantity/rate.ts';
import { parseStrength } from '../../../src-shared/quantity/strength.ts';
import { parseWeight } from '../../../src-shared/quantity/weight.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import type { Problem } from '../../hooks/use-form.ts';
import { isBlank, isInjected, type LabelDraft, type LineDraft, type RuleDraft, shapeOf } from './draft.ts';
import { inFormWords } from './field-words.ts';
import { pieceOf } from './reading.ts';

export type ReadLabel =
  | { readonly terms: LabelTerms; readonly questions: readonly { code: string; text: string }[] }
  | { readonly problems: readonly Problem[] };

type Find = {
  say(field: string, message: string): void;
  need(field: string, text: string, message: string): void;
  /** Tries a reader on a text that is there. */
  read(text: string, work: () => unknown): void;
};

/**
 * Everything that is still missing or cannot be read, in the order of the form, each with its field; or the terms
 * with what there is to ask about, also against the `earlier` labels of the medicine. What does not fit together is only looked for once each field can be read.
 */
export function readDraft(draft: LabelDraft, earlier: readonly LabelTerms[] = []): ReadLabel {
  const problems: Problem[] = [];
  const find: Find = {
    say: (field, message) => problems.push({ field, message }),
    need: (field, text, message) => {
      if (text.trim() === '') problems.push({ field, message });
    },
    read: (text, work) => {
      if (text.trim() === '') return;
      const outcome = attempt(work);
      if (!outcome.ok) problems.push(inFormWords(outcome.error));
    },
  };
  findMedicine(draft, find);
  for (const [n, line] of draft.doseLines.entries()) findLine(draft, line, `doseLines.${n}`, find);
  findPeriods(draft, find);
  findOthers(draft, find);
  for (const [n, rule] of draft.notIf.entries()) findRule(rule, `notIf.${n}`, find);
  findKeeping(draft, find);
  if (problems.length > 0) return { problems };
  const shape = shapeOf(draft);
  if (!shape.success) {
    return {
      problems: shape.error.issues.map((issue) => ({
        field: issue.path.map(String).join('.'),
        message: 'This cannot be taken as it stands: it is missing, too long or out of bounds.',
      })),
    };
  }
  const checked = attempt(() => checkTerms(shape.data));
  if (!checked.ok) return { problems: [inFormWords(checked.error)] };
  return { terms: shape.data, questions: plausibilityQuestions(shape.data, earlier) };
}

function findMedicine(draft: LabelDraft, find: Find): void {
  find.need('name', draft.name, 'Write the name of the medicine as it is printed.');
  find.need('form', draft.form, 'Choose what it is.');
  find.need('kind', draft.kind, 'Choose how it is measured.');
  if (draft.kind === 'pieces')
    find.need('piece', draft.piece, 'Write what one piece is called, as in bolus or tablet.');
  find.need('purpose', draft.purpose, 'Choose what it is for.');
  for (const [n, active] of draft.actives.entries()) {
    if (draft.actives.length === 1 && isBlank(active)) continue;
    const path = `actives.${n}`;
    find.need(`${path}.substance`, active.substance, 'Write the active substance, or take this line out.');
    find.read(active.strength, () => parseStrength(active.strength, `${path}.strength`, pieceOf(draft)));
  }
}

function findLine(draft: LabelDraft, line: LineDraft, path: string, find: Find): void {
  const more = pieceOf(draft);
  const { rate, repeats } = line;
  find.need(`${path}.route`, line.route, 'Choose how this dose is given.');
  if (rate.style === 'bands') {
    for (const [n, band] of rate.bands.entries()) {
      const at = `${path}.rate.bands.${n}`;
      find.need(`${at}.upTo`, band.upTo, 'Write up to which weight this band reaches, as in 20 kg.');
      find.read(band.upTo, () => parseWeight(band.upTo, `${at}.upTo`));
      find.need(`${at}.dose`, band.dose, 'Write the dose of this band, as in 2 mL.');
      find.read(band.dose, () => parseAmount(band.dose, `${at}.dose`, more));
    }
    find.read(rate.from, () => parseWeight(rate.from, `${path}.rate.from`));
    const { each, dose } = rate.furtherStep;
    if (each !== '' || dose !== '') {
      const at = `${path}.rate.furtherStep`;
      find.need(`${at}.each`, each, 'Write for how much more weight, as in 10 kg.');
      find.read(each, () => parseWeight(each, `${at}.each`));
      find.need(`${at}.dose`, dose, 'Write how much more, as in 1 mL.');
      find.read(dose, () => parseAmount(dose, `${at}.dose`, more));
    }
  } else {
    find.need(`${path}.rate.text`, rate.text, 'Write the dose as it is printed, as in 0.2 mg/kg.');
    find.read(rate.text, () => parseRate(rate.text, `${path}.rate.text`, more));
    find.read(rate.perVolume, () => parseRate(rate.perVolume, `${path}.rate.perVolume`, more));
  }
  for (const name of ['leastWeight', 'mostWeight'] as const)
    find.read(line[name], () => parseWeight(line[name], `${path}.${name}`));
  for (const name of ['leastAge', 'mostAge'] as const)
    find.read(line[name], () => parsePeriod(line[name], `${path}.${name}`));
  if (isInjected(line))
    find.read(line.mostPerSite, () => parseAmount(line.mostPerSite, `${path}.mostPerSite`, more));
  find.read(line.mostDose, () => parseAmount(line.mostDose, `${path}.mostDose`, more));
  find.read(line.protects, () => parsePeriod(line.protects, `${path}.protects`));
  if (isBlank(repeats)) return;
  const at = `${path}.repeats`;
  if (!/^\d{1,2}$/.test(repeats.doses.trim()) || Number(repeats.doses) < 2)
    find.say(`${at}.doses`, 'Write how many doses there are in all, from 2 up.');
  find.need(`${at}.due`, repeats.due, 'Write how long after one dose the next is due, as in 28 d.');
  for (const name of ['earliest', 'due', 'latest'] as const)
    find.read(repeats[name], () => parsePeriod(repeats[name], `${at}.${name}`));
}

function findPeriods(draft: LabelDraft, find: Find): void {
  for (const [n, row] of draft.periods.entries()) {
    const path = `periods.${n}`;
    const produce = PRODUCE.find((one) => one === row.produce);
    const of = produce === undefined ? 'Period' : PRODUCE_WORDS[produce];
    find.need(`${path}.says`, row.says, `${of}: choose what the label says, even if it says nothing.`);
    if (row.says !== 'value') continue;
    find.need(`${path}.value`, row.value, 'Write the period, as in 28 d or 72 h.');
    find.read(row.value, () => parsePeriod(row.value, `${path}.value`));
    if (row.countedFrom !== 'later-of-two') continue;
    find.need(`${path}.valueFromDose`, row.valueFromDose, 'Write the period from the last dose as well.');
    find.read(row.valueFromDose, () => parsePeriod(row.valueFromDose, `${path}.valueFromDose`));
  }
}

function findOthers(draft: LabelDraft, find: Find): void {
  for (const [n, row] of draft.others.entries()) {
    const path = `others.${n}`;
    find.need(`${path}.animal`, row.animal, 'Write which animals, or take this row out.');
    find.need(`${path}.says`, row.says, 'Choose what the insert says for these animals.');
    if (row.says !== 'value') continue;
    find.need(`${path}.value`, row.value, 'Write the period, as in 28 d or 72 h.');
    find.read(row.value, () => parsePeriod(row.value, `${path}.value`));
  }
}

const periodCodes = ['younger-than', 'older-than', 'before-lambing', 'shorn-within', 'same-substance-within'];
const weightCodes = ['lighter-than', 'heavier-than'];

/** What a rule of the label needs beside itself. */
export function ruleNeeds(code: string): 'period' | 'weight' | 'class' | 'text' | 'two-periods' | 'nothing' {
  if (periodCodes.includes(code)) return 'period';
  if (weightCodes.includes(code)) return 'weight';
  if (code === 'class') return 'class';
  if (code === 'condition-under' || code === 'not-with') return 'text';
  return code === 'pregnant-from-to' ? 'two-periods' : 'nothing';
}

function findRule(rule: RuleDraft, path: string, find: Find): void {
  find.need(`${path}.code`, rule.code, 'Choose when it must not be given, or take this rule out.');
  const needs = ruleNeeds(rule.code);
  if (needs === 'two-periods') {
    for (const name of ['from', 'to'] as const) {
      find.need(`${path}.${name}`, rule[name], 'Write the days, as in 35 d.');
      find.read(rule[name], () => parsePeriod(rule[name], `${path}.${name}`));
    }
    return;
  }
  if (needs === 'nothing') return;
  find.need(`${path}.value`, rule.value, 'Write what the label says here.');
  if (needs === 'period') find.read(rule.value, () => parsePeriod(rule.value, `${path}.value`));
  if (needs === 'weight') find.read(rule.value, () => parseWeight(rule.value, `${path}.value`));
}

function findKeeping(draft: LabelDraft, find: Find): void {
  if (draft.inUseHow === 'period') {
    find.need('inUse', draft.inUse, 'Write how long it keeps once opened, as in 28 d.');
    find.read(draft.inUse, () => parsePeriod(draft.inUse, 'inUse'));
  }
  for (const name of ['leastC', 'mostC'] as const) {
    const typed = draft.storage[name].trim();
    if (typed !== '' && !/^-?\d{1,3}(?:\.\d)?$/.test(typed))
      find.say(`storage.${name}`, 'Write degrees Celsius as a figure, as in 8.');
  }
}
