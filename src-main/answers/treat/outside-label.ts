import type { Happened } from '../../../src-shared/entries/kind.ts';
import type { DoseLine, LabelTerms } from '../../../src-shared/label/terms.ts';
import { ROUTE_WORDS } from '../../../src-shared/label/words.ts';
import { isNotForSheep } from '../../../src-shared/withdrawal/off-label-printed.ts';
import { repeatDeviations } from '../../../src-shared/withdrawal/off-label-repeats.ts';
import type { Reader } from '../../store/store.ts';
import { type DoseBefore, dosesAfter, dosesBefore, type Moved } from './doses-before.ts';

type Deviation = { code: string; text: string };

/** How a treatment departs from its label beside the dose, the class and what the label rules out. */
export type Departing = {
  administration: string;
  subjects: readonly string[];
  medicine: string;
  route: DoseLine['route'];
  heads: number;
  happened: Pick<Happened, 'local' | 'at'>;
  /** Heads that are only now said to have come to it. */
  moved?: readonly Moved[] | undefined;
};

/** Route, species and repeats against a label; each departure by name, with its own sentence. */
export function labelDeviations(tx: Reader, terms: LabelTerms, line: DoseLine, of: Departing): Deviation[] {
  return [
    ...routeDeviations(line, of.route),
    ...(isNotForSheep(terms) ? [{ code: 'not-for-sheep', text: 'the label has no row for sheep' }] : []),
    ...repeats(tx, terms, line, of),
  ];
}

function routeDeviations(line: DoseLine, route: DoseLine['route']): Deviation[] {
  if (route === line.route) return [];
  return [
    {
      code: 'other-route',
      text: `given ${ROUTE_WORDS[route]}; this line of the label says ${ROUTE_WORDS[line.route]}`,
    },
  ];
}

function repeats(tx: Reader, terms: LabelTerms, line: DoseLine, of: Departing): Deviation[] {
  if (line.repeats === undefined) return [];
  const asked = {
    subjects: of.subjects,
    medicine: of.medicine,
    doseLine: line.id,
    at: of.happened.at,
    except: of.administration,
    heads: of.heads,
    moved: of.moved,
  };
  const isVaccine = terms.purpose === 'vaccine';
  const before = dosesBefore(tx, asked);
  const own = repeatDeviations(line, isVaccine, of.happened, before);
  return isVaccine || own.length > 0 ? own : repeatsAfter(line, of, before, dosesAfter(tx, asked));
}

/**
 * What a dose that is written late makes of those after it, which did not know of it: too soon, or one too many. It
 * stands with the late one, so that one of the two always says it; what the others said themselves is not said again.
 */
function repeatsAfter(
  line: DoseLine,
  { happened }: Departing,
  before: readonly DoseBefore[],
  after: ReturnType<typeof dosesAfter>,
): Deviation[] {
  const without = [...before];
  const all = [happened, ...before];
  for (const next of after) {
    const known = new Set(
      [...repeatDeviations(line, false, next, without), ...deviationsIn(next.data)].map(({ code }) => code),
    );
    const found = repeatDeviations(line, false, next, all).filter(({ code }) => !known.has(code));
    if (found.length > 0) return found;
    without.unshift(next);
    all.unshift(next);
  }
  return [];
}

const deviationsIn = (data: string) =>
  (JSON.parse(data) as { deviations: readonly { code: string }[] }).deviations;

/** An entry holds 20 deviations at most, and a label may have more rows than that. */
const MOST_NOT_IF = 8;

/** The "not if" rows of a label that applied. */
export function notIfDeviations(barring: readonly { text: string }[]): Deviation[] {
  const said = barring.slice(0, MOST_NOT_IF).map(({ text }) => ({ code: 'not-if', text }));
  const rest = barring.slice(MOST_NOT_IF);
  if (rest.length === 0) return said;
  return [...said, { code: 'not-if', text: rest.map(({ text }) => text).join('. ') }];
}
