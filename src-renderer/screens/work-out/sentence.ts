import type { ChoiceOption } from '../../parts/field.tsx';

/** What was typed, by the name of the blank; and which way a turn stands, by "?" and the name of the turn. */
export type Typed = Readonly<Record<string, string>>;

/**
 * A blank in a sentence. Its name is the field of the topic it answers, so that a refusal finds it:
 * "syringe.capacity". A star stands for the number of a row: "bands.*.upTo".
 */
export type Blank = {
  /** What belongs here, shown while it is empty and said by a screen reader: "weight". */
  readonly says: string;
  /** How many characters are usual. */
  readonly size: number;
  /** May stay empty. */
  readonly optional?: true;
  /** Reads it back in full words, or nothing worth saying. Refuses what cannot be read. */
  readonly reads?: (text: string, field: string) => string | undefined;
  /** One of these and nothing else. */
  readonly options?: readonly ChoiceOption[];
  /** Several values under one another. */
  readonly isLong?: true;
  /** What stands here at the start. */
  readonly start?: () => string;
  /** What the topic is asked, where that is not the text itself. */
  readonly ask?: (text: string) => unknown;
};

/** One way a sentence can go on. Without `text` the word itself is what stands there. */
export type Way = {
  readonly id: string;
  /** The word that opens it. */
  readonly word: string;
  readonly text?: string;
  /** What it says to the topic by itself. */
  readonly ask?: Readonly<Record<string, unknown>>;
};

/** What a sentence says once its blanks are filled. */
export type Told = {
  /** The words for its gaps. */
  readonly gaps: Readonly<Record<string, string>>;
  /** What the large answer is: "Draw up". */
  readonly label: string;
  readonly big: string;
  /** What is worth a line beneath it. */
  readonly lines?: readonly string[];
  /** A syringe to draw, in whole microlitres. */
  readonly syringe?: { readonly capacity: number; readonly graduation: number; readonly draw: number };
};

export type Reply = Readonly<Record<string, unknown>>;

/**
 * One thing that can be worked out, as a sentence. In `text` and in the ways stand `{blank}`, `[turn]`, `<gap>` and
 * `*rows*`; a gap is what the answer fills.
 */
export type TopicSentence = {
  readonly topic: string;
  /** Under which head it stands in the list. */
  readonly head: string;
  readonly question: string;
  readonly text: string;
  readonly blanks: Readonly<Record<string, Blank>>;
  readonly turns?: Readonly<Record<string, readonly [Way, Way, ...Way[]]>>;
  /** Rows that go on as long as they are filled: the sentence of one row, between the names of its blanks. */
  readonly rows?: Readonly<Record<string, string>>;
  /** Figures to try it with; published ones where there are any. */
  readonly example: Typed;
  readonly tell: (reply: Reply, typed: Typed) => Told;
};

export type Part = {
  /** Part of the empty row that waits after those with something in them. */
  readonly isSpare?: true;
} & (
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'blank'; readonly name: string; readonly blank: Blank; readonly isNeeded: boolean }
  | { readonly kind: 'gap'; readonly name: string }
  | { readonly kind: 'turn'; readonly name: string; readonly way: Way; readonly next: Way }
);

const MARKS = /\{([^}]+)\}|\[([^\]]+)\]|<([^>]+)>|\*(\w+)\*/g;
const MOST_ROWS = 40;

/** The way a turn stands: the one that was chosen, else the first. */
export function wayOf(sentence: TopicSentence, turn: string, typed: Typed): Way {
  const ways = sentence.turns?.[turn];
  if (ways === undefined) throw new Error(`${sentence.topic} has no turn ${turn}`);
  return ways.find((way) => way.id === typed[`?${turn}`]) ?? ways[0];
}

function nextWay(sentence: TopicSentence, turn: string, now: Way): Way {
  const ways: readonly Way[] = sentence.turns?.[turn] ?? [];
  return ways[(ways.indexOf(now) + 1) % ways.length] ?? now;
}

/** The blank behind a name, where a number stands for any row. */
function blankOf(sentence: TopicSentence, name: string): Blank {
  const blank = sentence.blanks[name.replace(/\.\d+(?=\.|$)/g, '.*')];
  if (blank === undefined) throw new Error(`${sentence.topic} has no blank ${name}`);
  return blank;
}

/** The sentence as it stands now, part by part. Throws when the definition names something that it does not have. */
export function partsOf(sentence: TopicSentence, typed: Typed): readonly Part[] {
  return expand(sentence, sentence.text, typed, '', true);
}

function expand(
  sentence: TopicSentence,
  text: string,
  typed: Typed,
  before: string,
  isNeeded: boolean,
): Part[] {
  const parts: Part[] = [];
  let from = 0;
  const say = (words: string) => {
    if (words !== '') parts.push({ kind: 'text', text: words });
  };
  for (const match of text.matchAll(MARKS)) {
    say(text.slice(from, match.index));
    from = match.index + match[0].length;
    const [, blank, turn, gap, rows] = match;
    if (blank !== undefined) {
      const name = `${before}${blank}`;
      const found = blankOf(sentence, name);
      parts.push({ kind: 'blank', name, blank: found, isNeeded: isNeeded && found.optional !== true });
    } else if (turn !== undefined) {
      const way = wayOf(sentence, turn, typed);
      parts.push(...expand(sentence, way.text ?? '', typed, before, isNeeded));
      parts.push({ kind: 'turn', name: turn, way, next: nextWay(sentence, turn, way) });
    } else if (gap !== undefined) {
      parts.push({ kind: 'gap', name: gap });
    } else if (rows !== undefined) {
      parts.push(...expandRows(sentence, rows, typed));
    }
  }
  say(text.slice(from));
  return parts;
}

/** Every row with something in it, and an empty one after them. */
function expandRows(sentence: TopicSentence, rows: string, typed: Typed): Part[] {
  const row = sentence.rows?.[rows];
  if (row === undefined) throw new Error(`${sentence.topic} has no rows ${rows}`);
  const filled = Object.entries(typed)
    .filter(([name, text]) => name.startsWith(`${rows}.`) && text.trim() !== '')
    .map(([name]) => Number(name.split('.')[1]));
  const last = Math.min(Math.max(-1, ...filled) + 1, MOST_ROWS - 1);
  return Array.from({ length: last + 1 }, (_, n) => {
    const parts = expand(sentence, `${n === 0 ? '' : ', '}${row}`, typed, `${rows}.${n}.`, n === 0);
    const isSpare = n > 0 && !filled.includes(n);
    return isSpare ? parts.map((part): Part => ({ ...part, isSpare })) : parts;
  }).flat();
}
