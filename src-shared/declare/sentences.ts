import { type Instant, printInstant } from '../time/zone.ts';
import type { Destination } from '../withdrawal/verdict.ts';
import { PURPOSE_RULES, type Purpose } from './purposes.ts';

/** What the sentences are derived from: the lines as they are frozen. */
export type SaidLine = {
  shown: string;
  class: string;
  heads: number;
  clearSince?: string | undefined;
  runs?: readonly string[] | undefined;
  treatments: readonly unknown[];
};

export type Saying = {
  purpose: Purpose;
  destination: Destination;
  lines: readonly SaidLine[];
  zone: string;
  /** UTC now, and the instant from which it is reckoned. */
  now: string;
  at: string;
  /** The time an abattoir agreed to, with whom. */
  notBefore?: { at: string; agreedWith: string } | undefined;
  relevantDays?: number | undefined;
};

/** The paper in sentences, each of them derived from the lines. */
export function sentencesOf(said: Saying): string[] {
  const { lines, purpose } = said;
  const heads = headsOf(lines);
  if (heads === 0) return [];
  const classes = new Map<string, number>();
  for (const each of lines) classes.set(each.class, (classes.get(each.class) ?? 0) + each.heads);
  const counts = [...classes].map(([cls, n]) => `${n} ${plural(cls.replace('-', ' '), n)}`).join(', ');
  const are = heads === 1 ? 'is' : 'are';
  const first =
    purpose === 'milk'
      ? `The milk is from ${heads} head: ${counts}.`
      : purpose === 'shearing'
        ? `${heads} head ${are} to be shorn: ${counts}.`
        : `${heads} head ${are} declared: ${counts}.`;
  const { clearOf } = PURPOSE_RULES[purpose];
  return [
    first,
    ...(clearOf === undefined ? runningSentences(said, heads) : clearSentences(said, heads, clearOf)),
    ...(said.relevantDays === undefined
      ? []
      : [
          `Treatments are listed whose period ended within ${said.relevantDays} days before, and every one that still runs.`,
        ]),
  ];
}

function clearSentences(said: Saying, heads: number, produce: 'meat' | 'milk'): string[] {
  const { lines, zone, now, at, notBefore, destination } = said;
  const sentences: string[] = [];
  const free = headsOf(lines.filter((each) => each.treatments.length === 0));
  const last = lines.reduce<string | undefined>(
    (latest, each) =>
      each.clearSince !== undefined && (latest === undefined || each.clearSince > latest)
        ? each.clearSince
        : latest,
    undefined,
  );
  if (free > 0) {
    const listed = said.relevantDays === undefined ? '' : ' to list';
    sentences.push(
      `For ${free === heads ? (heads === 1 ? 'it' : 'all of them') : `${free} head`} the book has no treatment with a withdrawal period for ${produce}${listed}.`,
    );
  }
  if (free < heads) {
    const when = last === undefined ? '' : `, the last on ${printInstant(last as Instant, zone)}`;
    const end =
      last === undefined || last <= now
        ? 'has ended'
        : last > at && notBefore !== undefined
          ? 'ends before they may be slaughtered'
          : produce === 'milk'
            ? 'ends before this milk is taken'
            : 'ends before they leave';
    const have =
      free > 0
        ? `For ${heads - free} head it has such treatments`
        : `For ${heads === 1 ? 'it' : 'all of them'} the book has treatments with a withdrawal period for ${produce}`;
    sentences.push(`${have}, listed below; every period for ${produce} ${end}${when}.`);
  }
  if (destination === 'export')
    sentences.push('The periods that the labels print for export are reckoned with as well.');
  if (destination === 'organic') sentences.push('The periods for organic produce are reckoned with as well.');
  if (notBefore !== undefined) {
    sentences.push(
      `Not to be slaughtered before ${printInstant(notBefore.at as Instant, zone)}: so agreed with ${notBefore.agreedWith}.`,
    );
  }
  return sentences;
}

function runningSentences({ lines, purpose }: Saying, heads: number): string[] {
  const running = lines.filter((each) => (each.runs ?? []).length > 0);
  const held = headsOf(running);
  const what = purpose === 'shearing' ? 'for shearing or for handling wool' : 'for meat or milk';
  const sentences: string[] = [];
  if (held < heads) {
    const who = held === 0 ? (heads === 1 ? 'it' : 'all of them') : `${heads - held} head`;
    sentences.push(`For ${who} nothing runs ${what} by the book.`);
  }
  if (held > 0) {
    sentences.push(
      `For ${held} head something still runs: what, and until when, stands beside each of them below.`,
    );
  }
  if (purpose === 'shearing')
    sentences.push('Only labels that say something of shearing or of wool are reckoned with.');
  if (purpose === 'transfer')
    sentences.push('What runs goes along with each animal: it ends on the holding they come to, not here.');
  return sentences;
}

function headsOf(lines: readonly SaidLine[]): number {
  return lines.reduce((sum, each) => sum + each.heads, 0);
}

function plural(word: string, n: number): string {
  return n === 1 ? word : `${word}s`;
}
