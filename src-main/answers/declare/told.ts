import {
  type Content,
  contentFor,
  contentOf,
  FACT_RULES,
  type Fact,
} from '../../../src-shared/declare/contents.ts';
import { PURPOSE_RULES, type Purpose, questionOf } from '../../../src-shared/declare/purposes.ts';
import { sentencesOf } from '../../../src-shared/declare/sentences.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { listed } from '../../../src-shared/list-words.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { dayOf, type Instant, instantOf, printInstant } from '../../../src-shared/time/zone.ts';
import type { Destination } from '../../../src-shared/withdrawal/verdict.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import { type Holding, holdingOf } from '../reading/holding.ts';
import { type SubjectRow, shownOf, subjectOfName } from '../reading/subjects.ts';
import { type AccompaniedAsk, accompaniedBy, sayAccompanied } from './accompanied.ts';
import { silentOnExport } from './export.ts';
import { begunBy, type DeclarationLine, type HeldRow, heldRows, holdsBySubject } from './lines.ts';
import { openWork } from './open-work.ts';
import { barsOn } from './organic.ts';
import { declarationLines, type LinesFor } from './treated.ts';

type Ask = {
  holding: string;
  purpose: Purpose;
  content?: Content | undefined;
  destination: Destination;
  to: string;
  toHolding?: string | undefined;
  departs: string;
  notBefore?: { at: string; agreedWith: string; agreedOn: string } | undefined;
  relevantDays?: number | undefined;
  facts: Readonly<Partial<Record<Fact, string>>>;
  subjects: readonly { subject: string; heads?: number | undefined }[];
  accompanied: readonly AccompaniedAsk[];
};

/** What a declaration would say, and everything that stands against saying it. */
export type Told = {
  holding: Holding;
  purpose: Purpose;
  content: Content;
  destination: Destination;
  to: string;
  departsAt: Instant;
  notBefore?: DataOf<'declared'>['notBefore'];
  lines: DeclarationLine[];
  refused: HeldRow[];
  openSessions: string[];
  /** What is asked by the content and not said yet. */
  missing: Fact[];
  facts: Readonly<Partial<Record<Fact, string>>>;
  sentences: string[];
  question: string;
};

const MOST_NAMED = 5;

/** "A, B and 3 more", so that a sentence stays one. */
export function namesOf(names: readonly string[]): string {
  const shown = names.slice(0, MOST_NAMED);
  const more = names.length - shown.length;
  if (more > 0) return `${shown.join(', ')} and ${more} more`;
  return shown.length < 2 ? shown.join('') : `${shown.slice(0, -1).join(', ')} and ${shown.at(-1)}`;
}

/**
 * Works out a declaration from the book as it stands. A day alone means its start: who is not clear then is not
 * clear on that day. Where an abattoir agreed not to slaughter before a time, that time is reckoned from.
 * @throws Refusal `no-such-holding`, `no-such-animal`, `listed-twice`, `too-many-heads`, `departs-in-the-past`,
 * `not-before-departure`, `agreed-later`, `only-to-slaughter`, `same-holding`, `holding-missing`
 */
export function tellDeclaration(tx: Reader, asked: Ask, now: string): Told {
  const holding = holdingOf(tx, asked.holding);
  const { zone } = holding;
  const departsAt = instantOf(asked.departs, zone, 'start', 'departs');
  if (asked.departs.slice(0, 10) < dayOf(now as Instant, zone)) {
    throw new Refusal('departs-in-the-past', 'A declaration cannot be made for a day that is over.', {
      field: 'departs',
      next: 'Give the day on which they leave.',
    });
  }
  const notBefore = agreedTime(asked, departsAt, zone, now);
  const what = linesFor({ ...asked, departsAt, notBefore }, zone);
  const listed = listedSubjects(tx, asked);
  const refused: HeldRow[] = [];
  const going: { row: SubjectRow; heads: number }[] = [];
  const accompanied = new Map<string, NonNullable<DeclarationLine['accompanied']>>();
  const { clearOf } = PURPOSE_RULES[asked.purpose];
  const barsOf =
    clearOf === undefined
      ? () => []
      : barsFor(
          tx,
          listed.map(({ row }) => row),
          clearOf,
          what,
        );
  const heldRow = heldRows(zone);
  for (const each of listed) {
    if (each.row.present !== 1 || each.row.holding !== holding.holding) {
      const why = each.row.present === 1 ? 'is on another holding' : 'is not there any more';
      refused.push({ ...shownOf(each.row), why, holds: [] });
      continue;
    }
    const bad = barsOf(each.row);
    const ask =
      asked.purpose === 'slaughter'
        ? asked.accompanied.find(({ subject }) => subject === each.row.subject)
        : undefined;
    const withNeedle = ask && accompaniedBy(tx, each.row, bad, ask);
    if (withNeedle !== undefined) accompanied.set(each.row.subject, withNeedle);
    if (bad.length > 0 && withNeedle === undefined) refused.push(heldRow(each.row, bad));
    else going.push(each);
  }
  const lines = declarationLines(tx, going, what).map((line) => ({
    ...line,
    ...optional('accompanied', accompanied.get(line.subject)),
  }));
  const content = asked.content ?? contentFor(holding.law);
  const { facts } = contentOf(asked.purpose, content);
  return {
    holding,
    purpose: asked.purpose,
    content,
    destination: asked.destination,
    to: recipientOf(tx, asked),
    departsAt,
    ...optional('notBefore', notBefore),
    lines,
    refused,
    openSessions: openWork(tx, listed),
    missing: facts.filter((fact) => (asked.facts[fact] ?? '') === ''),
    // Only what this content asks for is declared.
    facts: Object.fromEntries(
      facts.flatMap((fact) => (asked.facts[fact] ? [[fact, asked.facts[fact]]] : [])),
    ),
    sentences: [
      ...sentencesOf({
        purpose: asked.purpose,
        destination: asked.destination,
        lines,
        zone,
        now,
        at: departsAt,
        notBefore,
        relevantDays: asked.relevantDays,
      }),
      ...sayAccompanied(lines),
      ...saySilent(tx, going, asked, what),
    ],
    question: questionOf(asked.purpose, notBefore && printInstant(notBefore.at as Instant, zone)),
  };
}

/** For export: which labels say nothing of it, so that whoever takes them can ask for more than was counted. */
function saySilent(
  tx: Reader,
  going: readonly { row: SubjectRow }[],
  { purpose, destination }: Pick<Ask, 'purpose' | 'destination'>,
  what: LinesFor,
): string[] {
  const { clearOf } = PURPOSE_RULES[purpose];
  if (destination !== 'export' || clearOf === undefined) return [];
  const holds = holdsBySubject(
    tx,
    going.map(({ row }) => row.subject),
    { produce: clearOf },
  );
  const silent = new Set([...holds.values()].flatMap((own) => silentOnExport(own, clearOf, what)));
  if (silent.size === 0) return [];
  const named = [...silent].toSorted((a, b) => a.localeCompare(b));
  const labels = named.length === 1 ? 'The label' : 'The labels';
  const say = named.length === 1 ? 'says' : 'say';
  return [
    `${labels} of ${listed(named)} ${say} nothing of export: for it the period for people here is counted.`,
  ];
}

/** What bars each of them from being declared clear of a produce. */
export function barsFor(
  tx: Reader,
  rows: readonly SubjectRow[],
  produce: string,
  { at, begun, zone, destination, changed }: LinesFor,
): ReturnType<typeof barsOn> {
  const holds = holdsBySubject(
    tx,
    rows.map(({ subject }) => subject),
    { changed, produce },
  );
  return barsOn(tx, rows, holds, { produce, destination, at, begun, zone });
}

/** From what instant and for what produce the lines of a declaration are worked out: when it is made and ever after. */
export function linesFor(
  declared: {
    purpose: Purpose;
    destination?: Destination | undefined;
    departs: string;
    departsAt: string;
    notBefore?: { local: string; at: string } | undefined;
    relevantDays?: number | undefined;
  },
  zone: string,
): LinesFor {
  const { says, clearOf } = PURPOSE_RULES[declared.purpose];
  return {
    at: declared.notBefore?.at ?? declared.departsAt,
    begun: begunBy(declared.notBefore?.local ?? declared.departs, zone),
    zone,
    says,
    destination: declared.destination ?? 'domestic',
    isRunning: clearOf === undefined,
    relevantDays: declared.relevantDays,
  };
}

function agreedTime(asked: Ask, departsAt: Instant, zone: string, now: string): Told['notBefore'] {
  if (asked.notBefore === undefined) return undefined;
  if (asked.purpose !== 'slaughter') {
    throw new Refusal(
      'only-to-slaughter',
      'Only for slaughter can a time be agreed before which it is not done.',
      {
        field: 'notBefore',
        next: 'Leave that time out, or choose a declaration for slaughter.',
      },
    );
  }
  const { at: local, agreedWith, agreedOn } = asked.notBefore;
  const at = instantOf(local, zone, 'start', 'notBefore');
  if (at < departsAt) {
    throw new Refusal(
      'not-before-departure',
      'The time before which they are not slaughtered is before they leave.',
      {
        field: 'notBefore',
        next: 'Give the time that was agreed with the abattoir, or leave it out.',
      },
    );
  }
  if (instantOf(agreedOn, zone, 'start', 'agreedOn') > now) {
    throw new Refusal('agreed-later', 'The day on which the abattoir agreed is still to come.', {
      field: 'agreedOn',
      next: 'Give the day on which it was agreed; what is not agreed yet cannot be counted on.',
    });
  }
  return { local, at, agreedWith, agreedOn };
}

/** Who it is made out to: on a transfer the other holding as the book knows it. */
function recipientOf(tx: Reader, asked: Ask): string {
  if (asked.purpose !== 'transfer') return asked.to;
  if (asked.toHolding === undefined) {
    throw new Refusal('holding-missing', 'It is not said to which holding they go.', {
      field: 'toHolding',
      next: 'Choose one of the holdings of this book.',
    });
  }
  if (asked.toHolding === asked.holding) {
    throw new Refusal('same-holding', 'They are on this holding already.', {
      field: 'toHolding',
      next: 'Choose the other holding.',
    });
  }
  const { name, number } = holdingOf(tx, asked.toHolding);
  return `${name}, ${number}`.slice(0, 120);
}

function listedSubjects(tx: Reader, asked: Ask): { row: SubjectRow; heads: number }[] {
  const seen = new Set<string>();
  return asked.subjects.map(({ subject, heads }) => {
    const row = subjectOfName(tx, subject, 'subjects');
    if (seen.has(subject)) {
      throw new Refusal('listed-twice', `${row.shown} is on the list twice.`, { field: 'subjects' });
    }
    seen.add(subject);
    if (heads !== undefined && row.present === 1 && heads > row.heads) {
      throw new Refusal('too-many-heads', `${row.shown} has ${row.heads} heads, not ${heads}.`, {
        field: 'subjects',
        next: 'Give the number that leaves, or recount the lot under Flock.',
      });
    }
    return { row, heads: heads ?? Math.max(1, row.heads) };
  });
}

/**
 * Refuses by name whoever may not be declared, work that is still open, and what the content asks and nobody said.
 * @throws Refusal `held`, `session-open`, `facts-missing`
 */
export function checkTold(told: Told): void {
  if (told.refused.length > 0) {
    const named = told.refused.slice(0, MOST_NAMED).map((row) => `${row.shown}: ${row.why}`);
    const more = told.refused.length - named.length;
    throw new Refusal('held', `${named.join('. ')}${more > 0 ? `. And ${more} more` : ''}.`, {
      field: 'subjects',
      next:
        told.purpose === 'slaughter'
          ? 'Take them off the list, choose a later departure, or agree a time with the abattoir.'
          : 'Take them off the list, or choose a later day.',
    });
  }
  if (told.openSessions.length > 0) {
    const named = told.openSessions.slice(0, MOST_NAMED);
    const more = told.openSessions.length - named.length;
    throw new Refusal('session-open', `${named.join('. ')}${more > 0 ? `. And ${more} more` : ''}.`, {
      field: 'subjects',
      next: 'Record or close the session first, so that nothing given today is left out.',
    });
  }
  const [first] = told.missing;
  if (first !== undefined) {
    const names = told.missing.map((fact) => FACT_RULES[fact].name).join('; ');
    throw new Refusal('facts-missing', `This declaration must say more: ${names}.`, {
      field: `fact-${first}`,
      next: 'Write what is so, also where there is nothing to report.',
    });
  }
}
