import { type DataOf, KINDS_OF_ENTRY } from '../../../src-shared/entries/all.ts';
import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import { printDay } from '../../../src-shared/time/day.ts';
import type { Instant } from '../../../src-shared/time/zone.ts';
import { dayOf } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import {
  barring,
  begunBy,
  type DeclarationLine,
  declarationLines,
  holdsBySubject,
} from '../declare/lines.ts';
import { namesOf } from '../declare/told.ts';
import { holdingOf } from './holding.ts';
import { type HoldRow, kinOf } from './holds.ts';
import { printLocal } from './labels.ts';
import { untilText } from './say-hold.ts';
import { subjectsOf } from './subjects.ts';

type Declared = DataOf<'declared'>;
export type Notice = { declaration: string; number: number; to: string; text: string };
type Standing = { id: string; seq: number; data: string };

/** Kinds of entry that can make what was declared untrue. A weighing or a departure cannot. */
const TELLING = new Set([
  'administered',
  'reassessed',
  'held',
  'hold-ended',
  'needle-lost',
  'lot-moved',
  'lot-set',
  'voided',
  'replaced',
]);

export type NoticeScope = {
  /** Instead of what is in the book, these holds of these administrations: what a correction would do. */
  changed?: ReadonlyMap<string, readonly HoldDecision[]>;
  /** Only declarations that name one of these, or somebody who came from one of these lots. */
  about?: readonly string[];
};

/**
 * Standing declarations that are no longer so: what was written later changed the treatments or holds of somebody
 * on them. The frozen lines are compared with what would be said now of the same moment. Newest declaration first.
 */
export function noticesOf(tx: Reader, scope: NoticeScope = {}): Notice[] {
  return candidates(tx, scope).flatMap((row) => noticesFor(tx, row, scope.changed));
}

/** The texts of the notices of each touched declaration. */
export function noticesByDeclaration(tx: Reader): ReadonlyMap<string, string[]> {
  const found = new Map<string, string[]>();
  for (const { declaration, text } of noticesOf(tx)) {
    found.set(declaration, [...(found.get(declaration) ?? []), text]);
  }
  return found;
}

/** Declarations with somebody on them, or a lot somebody came from, about whom something was written later. */
function candidates(tx: Reader, { changed, about }: NoticeScope): Standing[] {
  const later = `JOIN subject_entry AS later ON later.subject = kin.who AND later.seq > kin.seq`;
  return tx.all<Standing>(
    `WITH RECURSIVE kin(declaration, seq, who) AS (
       SELECT declaration.id, declaration.seq, line.declared_subject
       FROM declaration JOIN declared_line AS line ON line.subject = 'declaration:' || declaration.id
       WHERE declaration.state = 'standing'
       UNION
       SELECT kin.declaration, kin.seq, lineage.parent FROM kin JOIN lineage ON lineage.subject = kin.who
     )
     SELECT id, seq, data FROM declaration WHERE id IN (
       SELECT kin.declaration FROM kin ${changed === undefined ? later : ''}
       ${about === undefined ? '' : 'WHERE kin.who IN (SELECT value FROM json_each(?))'}
     ) ORDER BY seq DESC`,
    ...(about === undefined ? [] : [JSON.stringify(about)]),
  );
}

function noticesFor(
  tx: Reader,
  row: Standing,
  changed: ReadonlyMap<string, readonly HoldDecision[]> | undefined,
): Notice[] {
  const declared = JSON.parse(row.data) as Declared;
  const { zone } = holdingOf(tx, declared.holding);
  const subjects = subjectsOf(
    tx,
    declared.lines.map((line) => line.subject),
  );
  const now = new Map(
    declarationLines(
      tx,
      subjects.map((subject) => ({ row: subject, heads: subject.heads })),
      declared.departsAt,
      zone,
      changed,
    ).map((line) => [line.subject, line]),
  );
  const holds = holdsBySubject(tx, [...now.keys()], changed);
  const said = new Map<string, string[]>();
  for (const frozen of declared.lines) {
    const line = now.get(frozen.subject);
    const bars = barring(
      holds.get(frozen.subject) ?? [],
      'meat',
      declared.departsAt,
      begunBy(declared.departs, zone),
    ).filter(
      // Whoever went accompanied was declared with this hold.
      ({ source }) => frozen.accompanied?.holds.includes(source) !== true,
    );
    const difference =
      line === undefined ? 'the book does not know it any more' : treatmentsDiffer(frozen, line);
    if (bars.length === 0 && difference === undefined) continue;
    const ends = [...new Set(bars.map((hold) => endOf(hold, zone)))].join('; ');
    const so = bars.length > 0 ? `its meat is now held ${ends}` : difference;
    const because = changed === undefined ? causeOf(tx, frozen.subject, row.seq, zone) : 'with this change';
    const text = `${because} ${so}`;
    said.set(text, [...(said.get(text) ?? []), frozen.shown]);
  }
  return [...said].map(([what, names]) => ({
    declaration: row.id,
    number: declared.number,
    to: declared.to,
    text:
      `To ${declared.to} on ${printLocal(declared.departs)} (no. ${declared.number}): ${namesOf(names)} ` +
      `${names.length === 1 ? 'was' : 'were'} declared clear; ${what}.`,
  }));
}

function endOf(hold: HoldRow, zone: string): string {
  const text = untilText(hold, zone);
  return hold.state === 'until' || hold.state === 'dormant' ? `until ${text}` : text;
}

/** What the treatments of one line say now that they did not say then; nothing when they say the same. */
function treatmentsDiffer(frozen: DeclarationLine, now: DeclarationLine): string | undefined {
  const then = new Map(frozen.treatments.map((each) => [each.administration, each]));
  const today = new Map(now.treatments.map((each) => [each.administration, each]));
  const words: string[] = [];
  for (const [id, each] of today) {
    const before = then.get(id);
    if (before === undefined) {
      words.push(
        `${each.product} on ${printLocal(each.local)} (${each.period}, held until ${each.until}) is missing on it`,
      );
    } else if (!sameTreatment(before, each)) {
      words.push(
        `${each.product} reads now: ${printLocal(each.local)}, ${each.quantity}, ${each.period}, held until ${each.until}`,
      );
    }
  }
  for (const [id, each] of then) {
    if (!today.has(id)) words.push(`${each.product} on ${printLocal(each.local)} does not stand any more`);
  }
  return words.length === 0 ? undefined : words.join('; ');
}

type Line = DeclarationLine['treatments'][number];

function sameTreatment(a: Line, b: Line): boolean {
  return (
    a.product === b.product &&
    a.batch === b.batch &&
    a.local === b.local &&
    a.quantity === b.quantity &&
    a.period === b.period &&
    a.until === b.until
  );
}

type Later = { kind: string; data: string; recorded: string };

/** The latest telling entry on the subject or on a lot it came from, in words: "after the treatment …". */
function causeOf(tx: Reader, subject: string, after: number, zone: string): string {
  const kin = kinOf(tx, subject).map(({ ancestor }) => ancestor);
  const rows = tx.all<Later>(
    `SELECT journal.line ->> '$.kind' AS kind, journal.line ->> '$.data' AS data, journal.line ->> '$.recorded' AS recorded
     FROM subject_entry JOIN journal ON journal.seq = subject_entry.seq
     WHERE subject_entry.subject IN (SELECT value FROM json_each(?)) AND subject_entry.seq > ?
     ORDER BY subject_entry.seq DESC`,
    JSON.stringify(kin),
    after,
  );
  const cause = rows.find((row) => TELLING.has(row.kind));
  if (!cause) return 'by what was written since,';
  const line = lineOf(cause.kind, JSON.parse(cause.data));
  return `after what was written on ${printDay(dayOf(cause.recorded as Instant, zone))} (${line})`;
}

function lineOf(kind: string, data: unknown): string {
  for (const [name, spec] of Object.entries(KINDS_OF_ENTRY)) {
    if (name === kind) return spec.line(data as never);
  }
  return kind;
}
