import type { VaccineDose } from '../../../src-shared/dose/coverage.ts';
import { daysOfPeriod } from '../../../src-shared/dose/coverage.ts';
import { headsHad, type LotEvent } from '../../../src-shared/flock/heads-had.ts';
import type { DoseLine } from '../../../src-shared/label/terms.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';
import { termsReader } from './labels.ts';

type Row = {
  subject: string;
  id: string;
  at: string;
  seq: number;
  local: string;
  heads: number;
  revision: string | null;
  line: string;
  course: string | null;
  deviations: string | null;
  draws: string | null;
};
type Lineage = { subject: string; parent: string; at: string; seq: number; heads: number };
type Dosed = { at: string; seq: number; heads: number; dose: VaccineDose };

export type VaccineDoses = {
  /**
   * The doses of a subject. More than one list: its heads, or those of the lot it came out of, did not all have the
   * same, and nobody knows which had which.
   */
  of(subject: string): VaccineDose[][];
};

/**
 * Every dose of one vaccine, by whom: its own, and those of the lots it came out of up to the moment it did. Doses of
 * another medicine are no doses of this one, and a struck-out dose is none.
 */
export function vaccineDoses(tx: Reader, medicine: string): VaccineDoses {
  const termsOf = termsReader(tx);
  const bySubject = new Map<string, Dosed[]>();
  const byId = new Map<string, VaccineDose>();
  for (const row of dosesOf(tx, medicine)) {
    const dose = doseOf(row, termsOf);
    if (dose === undefined) continue;
    const { subject, at, seq, heads, id } = row;
    byId.set(id, dose);
    const list = bySubject.get(subject);
    const dosed = { at, seq, heads, dose };
    if (list) list.push(dosed);
    else bySubject.set(subject, [dosed]);
  }
  const idOf = new Map([...byId].map(([id, dose]) => [dose, id]));
  const lineage = byChild(tx);
  const known = new Map<string, string[][]>();

  /** What the heads of a lot had had just before an entry. */
  function hadBy(lot: string, at: string, seq: number): string[][] {
    const key = `${lot} ${at} ${seq}`;
    const found = known.get(key);
    if (found) return found;
    const isBefore = (one: { at: string; seq: number }) => one.at < at || (one.at === at && one.seq < seq);
    const events: { at: string; seq: number; event: LotEvent }[] = [
      ...countsOf(tx, lot).filter(isBefore),
      ...(lineage.get(lot) ?? []).filter(isBefore).map((line) => ({
        ...line,
        event: { what: 'in' as const, heads: line.heads, had: hadBy(line.parent, line.at, line.seq) },
      })),
      ...(bySubject.get(lot) ?? []).filter(isBefore).map(({ at: on, seq: n, heads, dose }) => ({
        at: on,
        seq: n,
        event: { what: 'dose' as const, heads, id: idOf.get(dose) ?? '' },
      })),
    ];
    events.sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.seq - b.seq));
    const had = headsHad(events.map(({ event }) => event));
    known.set(key, had);
    return had;
  }

  const dosesNamed = (ids: readonly string[]) => ids.flatMap((id) => byId.get(id) ?? []);

  return {
    of(subject) {
      if (subject.startsWith('lot:')) {
        const had = hadBy(subject, '9999', Number.MAX_SAFE_INTEGER);
        return had.length === 0 ? [[]] : had.map(dosesNamed);
      }
      const own = (bySubject.get(subject) ?? []).map(({ dose }) => dose);
      const from = lineage.get(subject);
      if (from === undefined) return [own];
      const had = from.flatMap((line) => hadBy(line.parent, line.at, line.seq));
      return had.length === 0 ? [own] : had.map((ids) => [...dosesNamed(ids), ...own]);
    },
  };
}

function dosesOf(tx: Reader, medicine: string): Row[] {
  return tx.all<Row>(
    `SELECT subject, id, at, seq, local, heads, revision, data ->> '$.doseLine' AS line,
       data ->> '$.course.course' AS course,
       CASE WHEN json_array_length(data, '$.deviations') > 0 THEN data -> '$.deviations' END AS deviations,
       CASE WHEN json_array_length(data, '$.source.draws') > 1 THEN data -> '$.source.draws' END AS draws
     FROM administration WHERE medicine = ? ORDER BY at, seq`,
    medicine,
  );
}

/** A dose by the label in its box. From two boxes with different labels it is the one that protects shorter. */
function doseOf(row: Row, termsOf: ReturnType<typeof termsReader>): VaccineDose | undefined {
  const draws = row.draws === null ? [] : (JSON.parse(row.draws) as { revision: string }[]);
  const revisions = new Set([
    ...(row.revision === null ? [] : [row.revision]),
    ...draws.map((draw) => draw.revision),
  ]);
  const labels = [...revisions].flatMap((revision) => {
    const lines = termsOf(revision)?.doseLines;
    const line = lines?.find((each) => each.id === row.line);
    return lines && line ? [{ lines, line }] : [];
  });
  const [label] = labels.toSorted((a, b) => protectsFor(a.line) - protectsFor(b.line));
  if (label === undefined) return undefined;
  const said = row.deviations === null ? [] : (JSON.parse(row.deviations) as { text: string }[]);
  return {
    on: row.local.slice(0, 10) as Day,
    ...label,
    ...(row.course === null ? {} : { course: row.course }),
    ...(said.length === 0 ? {} : { otherwise: said.map(({ text }) => text).join('; ') }),
  };
}

/** Days; a label that does not say comes first. */
function protectsFor(line: DoseLine): number {
  return line.protects === undefined ? -1 : daysOfPeriod(line.protects, 'down');
}

function byChild(tx: Reader): Map<string, Lineage[]> {
  const found = new Map<string, Lineage[]>();
  for (const line of tx.all<Lineage>(
    'SELECT subject, parent, at, seq, heads FROM lineage ORDER BY at, seq',
  )) {
    const list = found.get(line.subject);
    if (list) list.push(line);
    else found.set(line.subject, [line]);
  }
  return found;
}

type Counted = { at: string; seq: number; kind: string; data: string };

/** How the heads of a lot were counted, and what went out of it; what came in stands in its lineage. */
function countsOf(tx: Reader, lot: string): { at: string; seq: number; event: LotEvent }[] {
  const rows = tx.all<Counted>(
    `SELECT e.at, e.seq, j.line ->> '$.kind' AS kind, j.line -> '$.data' AS data
     FROM subject_entry AS e JOIN journal AS j ON j.seq = e.seq
     WHERE e.subject = ? AND e.correction = 0 AND j.line ->> '$.kind' IN ('lot-set', 'lot-moved', 'departed')
       -- The last correction decides whether it stands.
       AND (SELECT what FROM correction WHERE target = e.seq ORDER BY correction.seq DESC LIMIT 1) IS NOT 'voided'
     ORDER BY e.at, e.seq`,
    lot,
  );
  return rows.flatMap(({ at, seq, kind, data }): { at: string; seq: number; event: LotEvent }[] => {
    const { heads = 1, from } = JSON.parse(data) as { heads?: number; from?: string };
    if (kind === 'lot-set') return [{ at, seq, event: { what: 'counted', heads } }];
    if (kind === 'lot-moved' && `lot:${from}` !== lot) return [];
    return [{ at, seq, event: { what: 'out', heads } }];
  });
}
