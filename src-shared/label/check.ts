import { checkBands } from '../dose/bands.ts';
import { readBands } from '../dose/dose.ts';
import { labelNeedleOf } from '../needle/label-needle.ts';
import { baseOf, parseAmount } from '../quantity/amount.ts';
import { compare, fraction, ONE, toPlaces } from '../quantity/fraction.ts';
import { parsePeriod } from '../quantity/period.ts';
import { measureOf, type ParsedRate, parseRate, perKilogram, shortRate } from '../quantity/rate.ts';
import {
  checkPieces,
  type ParsedStrength,
  parseStrength,
  strengthMeasure,
  strengthOf,
  strengthPerUnit,
} from '../quantity/strength.ts';
import { kilograms, parseWeight } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import { checkNotIf, checkOther, checkPeriod, checkSuckling, rising, unknownLine } from './check-rows.ts';
import { labelCheck } from './statements.ts';
import type { DoseLine, LabelTerms } from './terms.ts';

export { plausibilityQuestions } from './plausible.ts';
export { labelCheck } from './statements.ts';

/** More than this for each kilogram is no dose of a medicine but a slip of the unit. */
const MOST_MG_PER_KG = fraction(5000);

/**
 * Reads every text of a label and refuses the first that cannot be read or that does not fit the rest, with the
 * exact path of its field ("doseLines.0.rate.text"). Beside what the readers refuse: `dose-line-twice`,
 * `dose-line-unknown`, `active-unknown`, `strength-missing`, `strength-unlikely`, `pieces-do-not-match`,
 * `units-do-not-match`, `rate-unlikely`, `statements-disagree`, `period-value-missing`, `period-value-unwanted`, `limits-crossed`, `bad-not-if`,
 * `unknown-gauge`, `unknown-length`.
 */
export function checkTerms(terms: LabelTerms): void {
  terms.actives.forEach((active, i) => {
    if (active.strength !== undefined) checkStrength(active.strength, `actives.${i}.strength`, terms);
  });
  const ids = new Set<string>();
  terms.doseLines.forEach((line, i) => {
    if (ids.has(line.id)) {
      throw new Refusal('dose-line-twice', 'Dose lines: two lines of this label have the same id.', {
        field: `doseLines.${i}.id`,
      });
    }
    ids.add(line.id);
  });
  for (const [i, line] of terms.doseLines.entries()) checkLine(terms, line, `doseLines.${i}`, ids);
  for (const [i, row] of terms.periods.entries()) checkPeriod(row, `periods.${i}`, ids);
  for (const [i, row] of (terms.others ?? []).entries()) checkOther(row, `others.${i}`);
  if (terms.sucklingMeat !== undefined) checkSuckling(terms.sucklingMeat, 'sucklingMeat');
  for (const [i, rule] of terms.notIf.entries()) checkNotIf(rule, `notIf.${i}`);
  if (terms.inUse !== undefined && !/^(none|at once)$/i.test(terms.inUse.trim()))
    parsePeriod(terms.inUse, 'inUse');
  labelNeedleOf(terms.needle);
  const { leastC, mostC } = terms.storage;
  if (leastC !== undefined && mostC !== undefined && leastC > mostC) {
    throw new Refusal('limits-crossed', 'Storage: the least temperature is above the most.', {
      field: 'storage.leastC',
    });
  }
}

function checkStrength(text: string, field: string, { kind, piece }: LabelTerms): void {
  const strength = parseStrength(text, field, { piece });
  if (kind === 'pieces') checkPieces(strength, piece, field);
  if (strength.unit === 'IU' || strength.unit === '%' || strength.inUnit !== 'g') return;
  if (compare(strengthPerUnit(strength, 'mass'), ONE) > 0) {
    throw new Refusal('strength-unlikely', 'Strength: no gram holds more than 1,000 mg; check the unit.', {
      field,
    });
  }
}

function checkLine(terms: LabelTerms, line: DoseLine, path: string, ids: ReadonlySet<string>): void {
  const { piece } = terms;
  if (line.rate.style === 'rate') {
    checkRate(terms, line.rate, `${path}.rate`);
  } else {
    const table = readBands(line.rate, `${path}.rate`, piece);
    try {
      checkBands(table, 'bands');
    } catch (thrown) {
      // The bands do not know where on the label they stand.
      if (!(thrown instanceof Refusal)) throw thrown;
      throw new Refusal(thrown.code, thrown.message, {
        field: `${path}.rate.${thrown.field}`,
        next: thrown.next,
      });
    }
    table.bands.forEach((band, i) => {
      if (band.dose.kind !== terms.kind) throw wrongKind(`${path}.rate.bands.${i}.dose`, 'Dose', terms);
    });
  }
  for (const name of ['mostPerSite', 'mostDose'] as const) {
    const text = line[name];
    if (text === undefined) continue;
    const amount = parseAmount(text, `${path}.${name}`, { piece });
    const says = name === 'mostDose' ? 'Most dose' : 'Most per site';
    if (amount.kind !== terms.kind) throw wrongKind(`${path}.${name}`, says, terms);
    if (baseOf(amount) === 0) {
      throw new Refusal('limits-crossed', `${says}: it must be above zero.`, { field: `${path}.${name}` });
    }
  }
  const least =
    line.leastWeight === undefined ? undefined : parseWeight(line.leastWeight, `${path}.leastWeight`);
  const most = line.mostWeight === undefined ? undefined : parseWeight(line.mostWeight, `${path}.mostWeight`);
  if (least !== undefined && most !== undefined && compare(kilograms(least), kilograms(most)) > 0) {
    throw new Refusal('limits-crossed', 'Least weight: it is above the most weight.', {
      field: `${path}.leastWeight`,
    });
  }
  rising(path, [
    ['leastAge', line.leastAge],
    ['mostAge', line.mostAge],
  ]);
  if (line.protects !== undefined) parsePeriod(line.protects, `${path}.protects`);
  if (line.repeats !== undefined) {
    rising(`${path}.repeats`, [
      ['earliest', line.repeats.earliest],
      ['due', line.repeats.due],
      ['latest', line.repeats.latest],
    ]);
  }
  if (line.followedBy !== undefined && !ids.has(line.followedBy)) throw unknownLine(`${path}.followedBy`);
}

function wrongKind(field: string, name: string, terms: LabelTerms): Refusal {
  const unit = { volume: 'mL', mass: 'g or mg', pieces: `pieces (${terms.piece ?? 'such as bolus'})` }[
    terms.kind
  ];
  return new Refusal('units-do-not-match', `${name}: this medicine is measured in ${unit}, so write it so.`, {
    field,
  });
}

function checkRate(
  terms: LabelTerms,
  rate: Extract<DoseLine['rate'], { style: 'rate' }>,
  path: string,
): void {
  const { piece } = terms;
  const parsed = parseRate(rate.text, `${path}.text`, { piece });
  const active = terms.actives[rate.of];
  if (active === undefined && rate.of > 0) {
    throw new Refusal('active-unknown', 'Rate: the label has no such active substance.', {
      field: `${path}.of`,
    });
  }
  const measure = measureOf(parsed.unit);
  const strengthPath = `actives.${rate.of}.strength`;
  const strength =
    active?.strength === undefined ? undefined : parseStrength(active.strength, strengthPath, { piece });
  const ofProduct = measure === terms.kind && !(measure === 'mass' && strength !== undefined);
  if (measure === 'volume' || measure === 'pieces') {
    if (measure !== terms.kind) throw wrongKind(`${path}.text`, 'Rate', terms);
  } else if (!ofProduct) {
    if (strength === undefined) {
      throw new Refusal(
        'strength-missing',
        'Strength: a rate that counts substance needs the strength of the medicine.',
        {
          field: strengthPath,
          next: 'Enter the strength from the label, as in 10 mg/mL.',
        },
      );
    }
    if (strengthMeasure(strength) !== measure) {
      throw new Refusal(
        'units-do-not-match',
        'Strength: write it in the unit of the rate, both mg or both IU.',
        {
          field: strengthPath,
        },
      );
    }
    if (strengthOf(strength) !== terms.kind && !(strength.unit === '%' && terms.kind === 'mass')) {
      throw wrongKind(strengthPath, 'Strength', terms);
    }
  }
  checkSane(parsed, `${path}.text`);
  if (rate.perVolume !== undefined)
    checkSecond(terms, { parsed, strength, path, strengthPath }, rate.perVolume);
}

/** Holds the second statement to the first, whichever of the two counts the substance. */
function checkSecond(
  terms: LabelTerms,
  {
    parsed: first,
    strength,
    path,
    strengthPath,
  }: { parsed: ParsedRate; strength: ParsedStrength | undefined; path: string; strengthPath: string },
  text: string,
): void {
  const { piece } = terms;
  const field = `${path}.perVolume`;
  const second = parseRate(text, field, { piece });
  const measure = measureOf(second.unit);
  const isTurned =
    terms.kind !== 'mass' &&
    measureOf(first.unit) === terms.kind &&
    (measure === 'mass' || measure === 'activity');
  if (!isTurned && measure !== terms.kind) throw wrongKind(field, 'Per volume', terms);
  checkSane(second, field, 'Per volume');
  const fields = { rate: `${path}.text`, perVolume: field, strength: strengthPath };
  const { agree, differencePercent } = isTurned
    ? labelCheck({ rate: second, perVolume: first, strength }, fields)
    : labelCheck({ rate: first, perVolume: second, strength }, fields);
  if (!agree) {
    throw new Refusal(
      'statements-disagree',
      `Per volume: “${shortRate(first)}” and “${shortRate(second)}” are not the same dose at this strength, they differ by ${toPlaces(differencePercent, 1)} %.`,
      { field, next: 'Check the rate, the volume and the strength against the insert.' },
    );
  }
}

function checkSane(rate: ParsedRate, field: string, name = 'Rate'): void {
  if (measureOf(rate.unit) !== 'mass' || rate.perUnit === 'head') return;
  if (compare(perKilogram(rate), MOST_MG_PER_KG) > 0) {
    throw new Refusal(
      'rate-unlikely',
      `${name}: that is more than 5,000 mg for each kilogram; check the unit.`,
      { field },
    );
  }
}
