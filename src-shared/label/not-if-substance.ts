import { searchKey } from '../search-key.ts';
import { daysBetween, printDay } from '../time/day.ts';
import { daysOf } from './not-if-breeding.ts';
import type { GivenBefore, Judgement, NotIfGiven, OtherMedicine } from './not-if-facts.ts';
import { NO } from './not-if-facts.ts';
import type { Active, LabelTerms, NotIf } from './terms.ts';

/** The rows about what else the animal had or gets, judged by active substance and not by the name of the product. */

/** Names of the active substances of a label, with the form each is given in. */
export function substancesOf(terms: { actives: readonly Pick<Active, 'substance' | 'salt'>[] }): string[] {
  return terms.actives.flatMap(({ substance, salt }) =>
    salt === undefined ? [substance] : [substance, salt],
  );
}

/** One name stands as whole words in the other: "calverol" and "Calverol acetate" are the same substance. */
function isSame(a: string, b: string): boolean {
  const [one, two] = [` ${searchKey(a)} `, ` ${searchKey(b)} `];
  return one.trim() !== '' && two.trim() !== '' && (one.includes(two) || two.includes(one));
}

const inCommon = (mine: readonly string[], other: OtherMedicine): string | undefined =>
  mine.find((substance) => other.substances.some((each) => isSame(substance, each)));

function ago({ on }: GivenBefore, given: NotIfGiven): string {
  const days = daysBetween(on, given.day);
  return days === 0 ? 'the same day' : `${days} ${days === 1 ? 'day' : 'days'} before`;
}

function had(before: GivenBefore, what: string, given: NotIfGiven): string {
  const verb = before.how === 'given' ? 'it had' : 'it may have had, and counts as treated with,';
  return `${verb} ${before.name}${what} on ${printDay(before.on)}, ${ago(before, given)}`;
}

/** The last treatments, newest first, that lie not longer ago than so many days. */
function lately(given: NotIfGiven, within: number): GivenBefore[] {
  return given.given.filter(({ on }) => on <= given.day && daysBetween(on, given.day) <= within).toReversed();
}

/** Why nobody can say what it had in that time, when the book has it for less long. */
function notKnownSoLong(given: NotIfGiven, within: number): string | undefined {
  const { knownSince, born, day } = given;
  if (knownSince === undefined) return 'the book does not say since when it is here';
  if (daysBetween(knownSince, day) > within || (born !== undefined && born >= knownSince)) return undefined;
  return `the book has it since ${printDay(knownSince)}, and not what it had before`;
}

/** The same substance within so many days, by any product; the last of those days counts as well. */
export function sameSubstance(row: NotIf, terms: LabelTerms, given: NotIfGiven): Judgement {
  const mine = substancesOf(terms);
  if (mine.length === 0) return { applies: 'check', why: 'its label names no active substance' };
  const beside = given.together.find((other) => inCommon(mine, other) !== undefined);
  if (beside)
    return { applies: 'yes', why: `given together with ${beside.name} (${inCommon(mine, beside)})` };
  const within = daysOf(row.value);
  const recent = lately(given, within);
  const before = recent.find((each) => inCommon(mine, each) !== undefined);
  if (before) return { applies: 'yes', why: had(before, ` (${inCommon(mine, before)})`, given) };
  const silent = [...given.together, ...recent].find((each) => each.substances.length === 0);
  if (silent) return { applies: 'check', why: `the label of ${silent.name} names no active substance` };
  const why = notKnownSoLong(given, within);
  return why === undefined ? NO : { applies: 'check', why };
}

/**
 * Not together with another medicine or substance: given at the same time, on the same day, or within the row's days
 * (`to`) where it has any. What the label means by its own words ("other drenches") only a person can say.
 */
export function notWith(row: NotIf, given: NotIfGiven): Judgement {
  const value = row.value ?? '';
  const isIt = (other: OtherMedicine) =>
    isSame(value, other.name) || other.substances.some((each) => isSame(value, each));
  const beside = given.together.find(isIt);
  if (beside) return { applies: 'yes', why: `given together with ${beside.name}` };
  const within = row.to === undefined ? 0 : daysOf(row.to);
  const recent = lately(given, within);
  const before = recent.find(isIt);
  if (before) return { applies: 'yes', why: had(before, '', given) };
  const other = given.together[0] ?? recent[0];
  if (other) return { applies: 'check', why: `it is given beside ${other.name}` };
  const why = within === 0 ? undefined : notKnownSoLong(given, within);
  return why === undefined ? NO : { applies: 'check', why };
}
