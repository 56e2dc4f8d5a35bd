import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import type { DoseLine, LabelTerms } from '../../../src-shared/label/terms.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { type Day, daysBetween, printDay } from '../../../src-shared/time/day.ts';
import { dayOf, type Instant, isoWithOffset, startOfDay } from '../../../src-shared/time/zone.ts';
import { clearsAt } from '../../../src-shared/withdrawal/verdict.ts';
import type { Reader } from '../../store/store.ts';
import type { Answer } from '../context.ts';
import { type Holding, holdingOf } from '../reading/holding.ts';
import { instructionOf } from '../reading/instructions.ts';
import { medicineOf, medicinesOf } from '../reading/labels.ts';
import { newestRevision, type Revision, revisionOf } from '../reading/revision.ts';
import { usableContainers } from '../reading/stock.ts';
import { membersOf, type SubjectRow, subjectsOf } from '../reading/subjects.ts';
import { lineFor } from '../treat/core.ts';
import { decided } from '../treat/holds.ts';
import { statedBy } from '../treat/instructed.ts';
import { courseDays } from '../treat/plan-course.ts';
import { whenIn } from '../treat/when.ts';

type Late = Reply<'clears-before-away'>['late'][number];
type Said = Late['this'];
type Due = { group: string; name: string; due: Day; members: SubjectRow[] };
/** Whoever is treated, told apart by what a period hangs on. */
type Kind = Pick<SubjectRow, 'class' | 'milking'>;

const MOST_SOONER = 5;

/**
 * Answers `clears-before-away`: for each group due away, whether a medicine given now would hold its meat beyond that
 * day, by how much, and which of the farm's other medicines for the same purpose would clear sooner.
 */
export const clearsBeforeAway: Answer<'clears-before-away'> = (context, asked) => {
  const tx = context.store.read;
  const subjects = [
    ...subjectsOf(tx, asked.subjects),
    ...asked.groups.flatMap((group) => membersOf(tx, group)),
  ].filter((row) => row.present === 1);
  const [first] = subjects;
  if (first === undefined) return { late: [] };
  const holding = holdingOf(tx, first.holding);
  const when = whenIn(context, holding, asked.happened);
  const groups = dueAway(tx, new Map(subjects.map((row) => [row.subject, row])), when);
  if (groups.length === 0) return { late: [] };
  const reckon = reckoner(tx, holding, when);
  const { purpose } = newestRevision(tx, medicineOf(tx, asked.medicine).id).terms;
  const late = groups.flatMap((due): Late[] => {
    const kinds = [...new Map(due.members.map((row) => [`${row.class} ${row.milking}`, row])).values()];
    const own = reckon(asked.medicine, kinds, due, asked.doseLine, asked.instruction);
    if (own === undefined || own.ms <= Date.parse(startOfDay(due.due, when.zone))) return [];
    const sooner = medicinesOf(tx)
      .filter((row) => row.id !== asked.medicine && row.purpose === purpose && row.state === 'confirmed')
      .flatMap((row) => reckon(row.id, kinds, due) ?? [])
      .filter((other) => other.ms < own.ms)
      .toSorted((a, b) => a.ms - b.ms)
      .slice(0, MOST_SOONER);
    return [
      {
        group: due.group,
        name: due.name,
        dueFrom: due.due,
        heads: due.members.reduce((sum, row) => sum + row.heads, 0),
        this: own.said,
        sooner: sooner.map(({ said }) => said),
      },
    ];
  });
  return { late };
};

/** Groups with a day on which they are due away that is still to come, and who of these is in them. */
function dueAway(tx: Reader, asked: ReadonlyMap<string, SubjectRow>, when: Happened): Due[] {
  const today = when.local.slice(0, 10);
  const rows = tx.all<{ id: string; name: string; dates: string }>(
    'SELECT id, name, dates FROM flock_group WHERE active = 1 ORDER BY name_key, id',
  );
  return rows.flatMap((row) => {
    const { dueAwayFrom, dueAwayTo } = JSON.parse(row.dates) as DataOf<'group-set'>['dates'];
    const due = dueAwayFrom ?? dueAwayTo;
    // Once the first may go, the last day is what is left to be reckoned with.
    const still = due !== undefined && due < today && (dueAwayTo ?? '') >= today ? today : due;
    if (still === undefined || still < today) return [];
    const members = tx
      .all<{ member: string }>('SELECT member FROM member WHERE subject = ?', `group:${row.id}`)
      .flatMap(({ member }) => asked.get(member) ?? []);
    return members.length === 0 ? [] : [{ group: row.id, name: row.name, due: still as Day, members }];
  });
}

/** Works out when the last of some animals would clear, given a medicine by its label: the cautious reading throughout. */
function reckoner(tx: Reader, holding: Holding, when: Happened) {
  const days = courseDays(tx, when, undefined);
  return (
    medicine: string,
    kinds: readonly Kind[],
    { due }: Due,
    doseLine?: string,
    instruction?: string,
  ): { ms: number; said: Said } | undefined => {
    const bottles = usableContainers(tx, medicine, when.local);
    const revisions: Revision[] =
      bottles.length === 0
        ? [newestRevision(tx, medicine)]
        : [...new Set(bottles.map((row) => row.revision))].map((id) => revisionOf(tx, id));
    const [{ terms }] = revisions as [Revision];
    const stated = instruction === undefined ? undefined : statedBy(instructionOf(tx, instruction), []);
    const holds = kinds.flatMap((kind) => {
      const lines = linesOf(terms, doseLine, kind);
      return lines.map((line) => {
        const last = days.after('', medicine, line, undefined).at(-1);
        return decided(
          {
            holding,
            subject: kind,
            happened: when,
            stated,
            ...(last === undefined ? {} : { course: { plannedLast: last } }),
          },
          revisions,
          line,
          [],
        ).filter(
          ({ produce, market, clock }) => produce === 'meat' && market === 'domestic' && clock === 'food',
        );
      });
    });
    // No line of its label is for them: it says nothing of when they would clear.
    if (holds.length === 0 || holds.some((list) => list.length === 0)) return undefined;
    const rows = holds.flat().map((hold) => ({ ...hold, until: hold.until ?? null, from_at: when.at }));
    const clear = clearsAt(rows);
    const isStuck = rows.some(({ state }) => state !== 'none' && state !== 'until');
    const name = `${terms.name}${bottles.length === 0 ? ' (none in the cabinet)' : ''}`;
    const against = againstOf(terms, doseLine);
    if (isStuck) {
      return {
        ms: Number.POSITIVE_INFINITY,
        said: {
          medicine,
          name,
          text: `${name}${against} has no date on which they would clear: nobody could say they may go on ${printDay(due)}.`,
        },
      };
    }
    const at = clear ?? when.at;
    const day = dayOf(at as Instant, when.zone);
    const after = daysBetween(due, day);
    const isInTime = at <= startOfDay(due, when.zone);
    const text = isInTime
      ? `${name}${against} clears on ${printDay(day)}, before they are due away.`
      : after === 0
        ? `${name}${against} clears during the very day they are due away (${printDay(due)}).`
        : `${name}${against} clears ${after} ${after === 1 ? 'day' : 'days'} after they are due away (${printDay(due)}): on ${printDay(day)}.`;
    return {
      ms: Date.parse(at),
      said: { medicine, name, text, daysAfter: after, clear: isoWithOffset(at as Instant, when.zone) },
    };
  };
}

/** The line that was named, or every line that fits: the latest end of them counts. */
function linesOf(terms: LabelTerms, doseLine: string | undefined, kind: Kind): DoseLine[] {
  if (doseLine !== undefined) {
    const found = attempt(() => lineFor(terms, doseLine, kind.class));
    return found.ok ? [found.value] : [];
  }
  return terms.doseLines.filter(({ classes }) => classes.length === 0 || classes.includes(kind.class));
}

/** What it is against by its lines, in brackets: a person must see whether it is for the same thing. */
function againstOf(terms: LabelTerms, doseLine: string | undefined): string {
  const lines = terms.doseLines.filter(({ id }) => doseLine === undefined || id === doseLine);
  const said = [...new Set(lines.flatMap(({ against }) => against ?? []))];
  return said.length === 0 ? '' : ` (against ${said.join('; ')})`;
}
