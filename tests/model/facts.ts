import type { DataOf, KindName } from '../../src-shared/entries/all.ts';

/** One line of the journal, as its JSON says. */
export type Line = {
  seq: number;
  request: string;
  n: number;
  kind: string;
  happened: { local: string; zone: string; at: string };
  data: unknown;
};

/** A line that counts, with its content as last corrected and the instant it is ordered by. */
export type Fact = Line & {
  /** Milliseconds. */
  order: number;
  /** Number of the line that said what now counts. */
  saidSeq: number;
};

/** A fact held to be of one kind. */
export type FactOf<K extends KindName> = Omit<Fact, 'data'> & { data: DataOf<K> };

export function factsOf<K extends KindName>(facts: readonly Fact[], kind: K): FactOf<K>[] {
  return facts.filter((fact) => fact.kind === kind) as FactOf<K>[];
}

type Named = { target: { request: string; n: number } };
type NewContent = Named & { happened: Line['happened']; data: unknown };

/** How facts are ordered and which count; a deliberate fault replaces one of these. */
export type OrderRules = {
  orderOf(line: Line): number;
  struckCounts: boolean;
  correctionCounts: boolean;
};

/**
 * The facts that count, in the order they happened; at one instant in the order they were written. A line struck out
 * is gone; a line corrected says what its latest correction says, and stands where that says it happened.
 */
export function standing(lines: readonly Line[], rules: OrderRules): Fact[] {
  const names = new Map(lines.map((line) => [`${line.request} ${line.n}`, line.seq]));
  const struck = new Set<number>();
  const content = new Map<number, { seq: number; happened: Line['happened']; data: unknown }>();
  for (const line of lines.toSorted((a, b) => a.seq - b.seq)) {
    if (line.kind !== 'voided' && line.kind !== 'replaced') continue;
    const { target } = line.data as Named;
    const seq = names.get(`${target.request} ${target.n}`);
    if (seq === undefined) continue;
    if (line.kind === 'voided') {
      if (rules.struckCounts) struck.add(seq);
    } else if (rules.correctionCounts) {
      const { happened, data } = line.data as NewContent;
      content.set(seq, { seq: line.seq, happened, data });
    }
  }
  const facts: Fact[] = [];
  for (const line of lines) {
    if (line.kind === 'voided' || line.kind === 'replaced' || struck.has(line.seq)) continue;
    const fresh = content.get(line.seq);
    const now = fresh ? { ...line, happened: fresh.happened, data: fresh.data } : line;
    facts.push({ ...now, order: rules.orderOf(now), saidSeq: fresh?.seq ?? line.seq });
  }
  return facts.sort((a, b) => a.order - b.order || a.seq - b.seq);
}
