import { parseAmount, printAmount } from '../quantity/amount.ts';
import { parseRate, printRate } from '../quantity/rate.ts';
import { periodWords, stop, upper } from './say-text.ts';
import type { DoseLine, LabelTerms } from './terms.ts';
import { classList, ROUTE_WORDS } from './words.ts';

/**
 * One dose line in full words: "For lambs and ewes, under the skin: 0.2 milligrams for each kilogram. At most 10 mL in
 * one place."
 */
export function sayDoseLine(terms: LabelTerms, line: DoseLine): string {
  const who = line.classes.length === 0 ? 'any sheep' : classList(line.classes);
  const against = line.against === undefined ? '' : `, against ${line.against}`;
  const title = line.title === undefined ? '' : `${line.title}. `;
  const said = [`${title}For ${who}, ${ROUTE_WORDS[line.route]}${against}: ${sayRate(terms, line)}.`];
  const limits: string[] = [];
  if (line.leastWeight !== undefined) limits.push(`not under ${line.leastWeight}`);
  if (line.mostWeight !== undefined) limits.push(`not over ${line.mostWeight}`);
  if (line.leastAge !== undefined) limits.push(`not younger than ${periodWords(line.leastAge)}`);
  if (line.mostAge !== undefined) limits.push(`not older than ${periodWords(line.mostAge)}`);
  if (limits.length > 0) said.push(`${upper(limits.join(', '))}.`);
  if (line.mostPerSite !== undefined) said.push(`At most ${amount(terms, line.mostPerSite)} in one place.`);
  if (line.mostDose !== undefined) said.push(`At most ${amount(terms, line.mostDose)} in all.`);
  if (line.rounding !== undefined && line.rounding !== 'nearest')
    said.push(`Round the dose ${line.rounding}.`);
  if (line.repeats !== undefined) {
    const { doses, earliest, due, latest, whenLate } = line.repeats;
    const between = [
      ...(earliest === undefined ? [] : [`not before ${periodWords(earliest)}`]),
      ...(latest === undefined ? [] : [`not after ${periodWords(latest)}`]),
    ];
    said.push(
      `${doses} doses in all, ${periodWords(due)} apart${between.length > 0 ? ` (${between.join(', ')})` : ''}.`,
    );
    if (whenLate !== undefined) said.push(`When a dose is late: ${stop(whenLate)}`);
  }
  if (line.protects !== undefined) said.push(`Complete, it protects for ${periodWords(line.protects)}.`);
  if (line.followedBy !== undefined) {
    const next = terms.doseLines.find((each) => each.id === line.followedBy);
    said.push(`Then go on with: ${next?.title ?? (next ? sayRate(terms, next) : line.followedBy)}.`);
  }
  return said.join(' ');
}

/** The rate or the table of a dose line in full words, without its limits. */
export function sayRate(terms: LabelTerms, line: DoseLine): string {
  const { piece } = terms;
  const { rate } = line;
  if (rate.style === 'rate') {
    const of = terms.actives.length > 1 ? ofSubstance(terms, rate.of, rate.text) : '';
    const main = printRate(parseRate(rate.text, 'rate', { piece }));
    const second =
      rate.perVolume === undefined
        ? ''
        : `, printed also as ${printRate(parseRate(rate.perVolume, 'perVolume', { piece }))}`;
    return `${of}${main}${second}`;
  }
  const bands = rate.bands.map((band) => `up to and with ${band.upTo} ${amount(terms, band.dose)}`);
  const from = rate.from === undefined ? '' : `from ${rate.from}; `;
  const further =
    rate.furtherStep === undefined
      ? '; above that no dose'
      : `; above that ${amount(terms, rate.furtherStep.dose)} more for each further ${rate.furtherStep.each} or part of it`;
  return `${from}${bands.join('; ')}${further}`;
}

/** "alphazol, ", where a rate counts one substance of several. */
function ofSubstance(terms: LabelTerms, of: number, text: string): string {
  const { unit } = parseRate(text, 'rate', { piece: terms.piece });
  const substance = terms.actives[of]?.substance;
  return substance === undefined || unit === 'mL' || unit === 'piece' ? '' : `${substance}, `;
}

function amount(terms: LabelTerms, text: string): string {
  return printAmount(parseAmount(text, 'amount', { piece: terms.piece }), terms.piece);
}
