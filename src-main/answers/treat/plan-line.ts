import type { z } from 'zod';
import type { treatCalls } from '../../../src-shared/calls/treat.ts';
import { roundingOf } from '../../../src-shared/dose/dose.ts';
import { groupingRefused } from '../../../src-shared/dose/group-offer.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { parseAmount } from '../../../src-shared/quantity/amount.ts';
import type { Fraction } from '../../../src-shared/quantity/fraction.ts';
import { attempt, Refusal } from '../../../src-shared/refusal.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import type { Holding } from '../reading/holding.ts';
import { newestRevision, type Revision } from '../reading/revision.ts';
import type { StockRow } from '../reading/stock.ts';
import type { SubjectRow } from '../reading/subjects.ts';
import { lineFor } from './core.ts';
import { type Candidate, type Grouped, groupLine } from './grouping.ts';
import type { Shelf } from './shelf.ts';
import { syringeFor } from './syringe-choice.ts';

export type PlanAsk = Pick<
  z.output<(typeof treatCalls)['plan-session']['request']>,
  'holding' | 'mode' | 'subjects' | 'groups' | 'lines'
>;
export type LineAsk = PlanAsk['lines'][number];
export type SessionLine = DataOf<'session-opened'>['lines'][number];

/** What a line of a session is dosed by: the box its bottle came in, or the newest label when it is not our bottle. */
export function revisionForLine(
  tx: Reader,
  shelf: Shelf,
  line: LineAsk | SessionLine,
  when: Happened,
): {
  revision: Revision;
  strength: string | null;
  /** What the dose is measured in: the bottle's kind, which is not the label's where it was made up on the farm. */
  kind: StockRow['kind'];
} {
  const bottle = line.source === 'ours' ? shelf.first(line.medicine, when) : undefined;
  const revision = bottle?.revision ?? newestRevision(tx, line.medicine);
  return {
    revision,
    strength: bottle?.row.strength ?? null,
    kind: bottle?.row.kind ?? revision.terms.kind,
  };
}

export type WorkLine = { asked: LineAsk } & ReturnType<typeof revisionForLine>;

/** How a line doses its animals together, when it does. All of them are dosed by one line of the label. */
export function groupOf(
  line: WorkLine,
  i: number,
  may: readonly Candidate[],
  when: Happened,
  holding: Holding,
): Grouped | undefined {
  const { grouping, doseLine, syringe } = line.asked;
  const { terms } = line.revision;
  const first = may[0];
  if (grouping === undefined || first === undefined) return undefined;
  const field = `lines.${i}.grouping`;
  const used = doseLine ?? oneLineOf(terms, may, field);
  return groupLine(
    {
      terms,
      line: lineFor(terms, used, first.row.class),
      kind: line.kind,
      strength: line.strength,
      syringe,
      local: when.local,
      unit: holding.weightUnit,
      field,
    },
    grouping,
    may,
  );
}

function oneLineOf(terms: LabelTerms, may: readonly Candidate[], field: string): string | undefined {
  const used = linesUsed(
    terms,
    may.map(({ row }) => row),
  );
  if (used.size < 2) return [...used][0];
  throw new Refusal(
    'choose-dose-line',
    'A group is dosed by one line of the label, and these need several.',
    {
      field,
      next: 'Choose the dose line, and plan the others by themselves.',
    },
  );
}

function linesUsed(terms: LabelTerms, rows: readonly SubjectRow[]): ReadonlySet<string> {
  const classes = new Set(rows.map((row) => row.class));
  return new Set(
    [...classes].flatMap((cls) => {
      const found = attempt(() => lineFor(terms, undefined, cls).id);
      return found.ok ? [found.value] : [];
    }),
  );
}

/** A line of work with the dose line that fits everybody planned, where none was named and only one does. */
export function withDoseLine(line: LineAsk, terms: LabelTerms, rows: readonly SubjectRow[]): LineAsk {
  const [only, second] = line.doseLine === undefined ? linesUsed(terms, rows) : [];
  return only === undefined || second !== undefined ? line : { ...line, doseLine: only };
}

/** What else is said of a line: its parts, why everyone is dosed by its own weight, and what to draw it up in. */
export function besideLine(
  line: WorkLine,
  group: Grouped | undefined,
  exacts: readonly Fraction[],
  own: Parameters<typeof syringeFor>[0],
) {
  const { terms } = line.revision;
  const doseLine = terms.doseLines.find(({ id }) => id === line.asked.doseLine) ?? terms.doseLines[0];
  const refused = doseLine && groupingRefused(terms, doseLine);
  const typed = line.asked.equipment === undefined && line.asked.syringe !== undefined;
  const drawn =
    typed || line.kind !== 'volume' || doseLine === undefined
      ? { warnings: [] }
      : syringeFor(
          own,
          {
            exacts,
            rounding: group === undefined ? roundingOf(terms, doseLine) : 'up',
            maxPerSite:
              doseLine.mostPerSite === undefined
                ? undefined
                : parseAmount(doseLine.mostPerSite, 'mostPerSite', { piece: terms.piece }),
          },
          line.asked.equipment,
        );
  return {
    ...optional('grouping', group?.shown),
    ...optional('eachBecause', refused?.message),
    ...optional('drawnUp', 'shown' in drawn ? drawn.shown : undefined),
    warnings: [...(group?.warnings ?? []), ...drawn.warnings],
  };
}
