import { PURPOSE_RULES } from '../../../src-shared/declare/purposes.ts';
import { type DataOf, KINDS_OF_ENTRY } from '../../../src-shared/entries/all.ts';
import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import { printDay } from '../../../src-shared/time/day.ts';
import type { Instant } from '../../../src-shared/time/zone.ts';
import { dayOf } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import type { DeclarationLine } from '../declare/lines.ts';
import { barsFor, linesFor, namesOf } from '../declare/told.ts';
import { declarationLines } from '../declare/treated.ts';
import { holdingOf } from './holding.ts';
import { type HoldRow, kinOf } from './holds.ts';
import { printLocal } from './labels.ts';
import { untilText } from './say-hold.ts';
import { subjectsOf } from './subjects.ts';
import { toldOf } from './told.ts';

type Declared = DataOf<'declared'>;
export type Notice = { declaration: string; number: number; to: string; text: string };
/** A notice with what differs, of whom: what was told once is known by it. */
export type NoticeAbout = Notice & { about: { subject: string; so: string }[] };
type Standing = { id: string; seq: number; data: string };

/** Kinds of entry that can make what was declared untrue. A weighing or a departure cannot. */
const TELLING = new Set([
  'administered',
  'animal-set',
  'course-set',
  'certificate-set',
  'organic-excepted',
  'reassessed',
  'held',
  'hold-ended',
  'event-noted',
  'hold-settled',
  'at-foot-set',
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
  /** Without what whoever was given the declaration has been told already. */
  untold?: boolean;
};

/**
 * Standing declarations that are no longer so: what was written later changed the treatments or holds of somebody
 * on them. The frozen lines are compared with what would be said now of the same moment. Newest declaration first.
 */
export function noticesOf(tx: Reader, scope: NoticeScope = {}): Notice[] {
  return noticesAbout(tx, scope).map(({ about: _about, ...notice }) => notice);
}

/** The same, each with what differs, of whom. */
export function noticesAbout(tx: Reader, scope: NoticeScope = {}): NoticeAbout[] {
  const told = scope.untold === true ? toldOf(tx) : undefined;
  return candidates(tx, scope).flatMap((row) =>
    noticesFor(
      tx,
      row,
      scope.changed,
      new Set(
        (told?.get(row.id) ?? []).flatMap(({ about }) => about.map(({ subject, so }) => `${subject} ${so}`)),
      ),
    ),
  );
}

/** The texts of the notices of each touched declaration that nobody was told of yet. */
export function noticesByDeclaration(tx: Reader): ReadonlyMap<string, string[]> {
  const found = new Map<string, string[]>();
  for (const { declaration, text } of noticesOf(tx, { untold: true })) {
    found.set(declaration, [...(found.get(declaration) ?? []), text]);
  }
  return found;
}

/** What the subjects of entries begin with that say what is organic, whoever the animals are. */
const RULES_OF_ORGANIC = ['certificate:', 'organic-excepted:'] as const;

/** Entries about such a thing that were written after another, in SQL. A range, because an index answers it. */
function laterRule(seq: string): string {
  const ranges = RULES_OF_ORGANIC.map(
    (of) => `(rule.subject >= '${of}' AND rule.subject < '${of.slice(0, -1)};')`,
  );
  return `SELECT rule.seq FROM subject_entry AS rule WHERE (${ranges.join(' OR ')}) AND rule.seq > ${seq}`;
}

/** Declarations with somebody on them, or a lot or a dam somebody came from, about whom something was written later. */
function candidates(tx: Reader, { changed, about }: NoticeScope): Standing[] {
  // What was declared as organic hangs on certificates, and on which treatments count as courses.
  const isRule = about?.some((subject) => RULES_OF_ORGANIC.some((of) => subject.startsWith(of)));
  const byRules =
    changed === undefined && isRule !== false
      ? `OR (state = 'standing' AND data ->> '$.destination' = 'organic' AND EXISTS (${laterRule('declaration.seq')}))`
      : '';
  const later = `JOIN subject_entry AS later ON later.subject = kin.who AND later.seq > kin.seq`;
  return tx.all<Standing>(
    `WITH RECURSIVE kin(declaration, seq, who) AS (
       SELECT declaration.id, declaration.seq, line.declared_subject
       FROM declaration JOIN declared_line AS line ON line.subject = 'declaration:' || declaration.id
       WHERE declaration.state = 'standing'
       UNION
       SELECT kin.declaration, kin.seq, lineage.parent FROM kin JOIN lineage ON lineage.subject = kin.who
       UNION
       SELECT kin.declaration, kin.seq, at_foot.dam FROM kin JOIN at_foot ON at_foot.subject = kin.who
     )
     SELECT id, seq, data FROM declaration WHERE id IN (
       SELECT kin.declaration FROM kin ${changed === undefined ? later : ''}
       ${about === undefined ? '' : 'WHERE kin.who IN (SELECT value FROM json_each(?))'}
     ) ${byRules} ORDER BY seq DESC`,
    ...(about === undefined ? [] : [JSON.stringify(about)]),
  );
}

function noticesFor(
  tx: Reader,
  standing: Standing,
  changed: ReadonlyMap<string, readonly HoldDecision[]> | undefined,
  told: ReadonlySet<string>,
): NoticeAbout[] {
  const declared = JSON.parse(standing.data) as Declared;
  const { zone } = holdingOf(tx, declared.holding);
  const what = { ...linesFor(declared, zone), changed };
  const subjects = subjectsOf(
    tx,
    declared.lines.map((line) => line.subject),
  );
  const now = new Map(
    declarationLines(
      tx,
      subjects.map((subject) => ({ row: subject, heads: subject.heads })),
      what,
    ).map((line) => [line.subject, line]),
  );
  const { clearOf } = PURPOSE_RULES[declared.purpose];
  const barsOf = clearOf === undefined ? undefined : barsFor(tx, subjects, clearOf, what);
  const rows = new Map(subjects.map((subject) => [subject.subject, subject]));
  const said = new Map<string, { names: string[]; about: NoticeAbout['about'] }>();
  for (const frozen of declared.lines) {
    const line = now.get(frozen.subject);
    const row = rows.get(frozen.subject);
    const bars = (row === undefined ? [] : (barsOf?.(row) ?? [])).filter(
      // Whoever went accompanied was declared with this hold.
      ({ source }) => frozen.accompanied?.holds.includes(source) !== true,
    );
    const ends = [
      ...new Set(bars.map((hold) => (hold.says === undefined ? endOf(hold, zone) : `(${hold.says})`))),
    ].join('; ');
    const isStatus = bars.length > 0 && bars.every(({ source }) => source === 'organic-status');
    const so =
      bars.length > 0
        ? isStatus
          ? `its ${clearOf} may not go as organic now ${ends}`
          : `its ${clearOf} is now held ${ends}`
        : line === undefined
          ? 'the book does not know it any more'
          : lineDiffers(frozen, line);
    if (so === undefined || told.has(`${frozen.subject} ${so}`)) continue;
    const because =
      changed === undefined ? causeOf(tx, frozen.subject, standing.seq, zone, isStatus) : 'with this change';
    const text = `${because} ${so}`;
    const one = said.get(text) ?? { names: [], about: [] };
    said.set(text, one);
    one.names.push(frozen.shown);
    one.about.push({ subject: frozen.subject, so });
  }
  const as = clearOf === undefined ? 'listed' : 'declared clear';
  return [...said].map(([different, { names, about }]) => ({
    declaration: standing.id,
    number: declared.number,
    to: declared.to,
    about,
    text:
      `To ${declared.to} on ${printLocal(declared.departs)} (no. ${declared.number}): ${namesOf(names)} ` +
      `${names.length === 1 ? 'was' : 'were'} ${as}; ${different}.`,
  }));
}

/** What one line says now that it did not say then: its number, what still runs, its treatments. */
function lineDiffers(frozen: DeclarationLine, now: DeclarationLine): string | undefined {
  const words = [
    frozen.shown === now.shown ? undefined : `it is called ${now.shown} now`,
    runsDiffer(frozen.runs ?? [], now.runs ?? []),
    treatmentsDiffer(frozen, now),
  ].filter((text) => text !== undefined);
  return words.length === 0 ? undefined : words.join('; ');
}

function runsDiffer(then: readonly string[], now: readonly string[]): string | undefined {
  const more = now.filter((text) => !then.includes(text)).map((text) => `not said on it: ${text}`);
  const less = then.filter((text) => !now.includes(text)).map((text) => `not so any more: ${text}`);
  return more.length + less.length === 0 ? undefined : [...more, ...less].join('; ');
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
function causeOf(
  tx: Reader,
  subject: string,
  after: number,
  zone: string,
  /** What counts as organic may have changed as well. */
  withRules: boolean,
): string {
  const kin = kinOf(tx, subject).map(({ ancestor }) => ancestor);
  const rows = tx.all<Later>(
    `SELECT journal.line ->> '$.kind' AS kind, journal.line ->> '$.data' AS data, journal.line ->> '$.recorded' AS recorded
     FROM subject_entry JOIN journal ON journal.seq = subject_entry.seq
     WHERE (subject_entry.subject IN (SELECT value FROM json_each(?)) AND subject_entry.seq > ?)
       ${withRules ? `OR journal.seq IN (${laterRule('?')})` : ''}
     ORDER BY subject_entry.seq DESC`,
    JSON.stringify(kin),
    after,
    ...(withRules ? [after] : []),
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
