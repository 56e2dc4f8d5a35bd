import { plannedDose } from '../../../src-shared/dose/coverage.ts';
import { sayPlanned, sayTooEarly } from '../../../src-shared/dose/coverage-words.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';
import type { SubjectRow } from '../reading/subjects.ts';
import { type VaccineDoses, vaccineDoses } from '../reading/vaccine-doses.ts';
import { lineFor } from './core.ts';

type Line = {
  asked: { medicine: string; doseLine?: string | undefined };
  revision: { terms: LabelTerms };
};

/** Which dose of a vaccine's course a planned one is. */
export type VaccineTurn = {
  /** Why it must wait: it comes before the first day that the label allows. */
  tooEarly?: string;
  /** Which dose of its line it is; the earliest it may be, where not all heads had the same. */
  n: number;
  /** "Dose 2 of 2, after 1 Mar 2026", with what is to be minded. */
  says: string;
};

/**
 * Which dose of its course each animal would get, for lines that are vaccines. Too early is for planning to leave out;
 * late is said in the label's words. A lot of which not all heads had the same waits for the last of them.
 */
export function vaccineTurns(tx: Reader, lines: readonly Line[], when: Happened) {
  const day = when.local.slice(0, 10) as Day;
  const read = new Map<string, VaccineDoses>();
  return {
    of(
      row: SubjectRow,
      { asked: { medicine, doseLine }, revision: { terms } }: Line,
    ): VaccineTurn | undefined {
      if (terms.purpose !== 'vaccine') return undefined;
      // A line that cannot be chosen is refused, with its own words, where the dose is worked out.
      const line = attempt(() => lineFor(terms, doseLine, row.class));
      if (!line.ok) return undefined;
      const doses = read.get(medicine) ?? vaccineDoses(tx, medicine);
      read.set(medicine, doses);
      const turns = doses.of(row.subject).map((had) => plannedDose(had, line.value, terms.doseLines, day));
      const early = turns
        .filter(({ mayFrom }) => mayFrom !== undefined)
        .toSorted((a, b) => ((a.mayFrom ?? '') > (b.mayFrom ?? '') ? -1 : 1))
        .map((turn) => sayTooEarly(turn))[0];
      const said = turns.map((turn) => {
        const { text, mind } = sayPlanned(turn);
        return mind === undefined ? text : `${text}: ${mind}`;
      });
      const distinct = [...new Set(said)];
      const says =
        distinct.length === 1
          ? (distinct[0] ?? '')
          : `Not all heads had the same doses: ${distinct.join('; or ')}`;
      const n = turns.reduce((least, turn) => Math.min(least, turn.n), turns[0]?.n ?? 1);
      return { n, says, ...(early === undefined ? {} : { tooEarly: early }) };
    },
    hasVaccine: lines.some(({ revision }) => revision.terms.purpose === 'vaccine'),
  };
}
