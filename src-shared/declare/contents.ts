import type { Purpose } from './purposes.ts';

/** What a law asks a declaration to say. The law prescribes content and not a form: the page is our own. */
export const CONTENTS = ['eu', 'gb', 'za', 'plain'] as const;
export type Content = (typeof CONTENTS)[number];

/** How far a rule here is confirmed: its text was read, somebody else's account of it was, or it is from memory. */
export type Confirmed = 'read' | 'second-hand' | 'memory' | 'practice';

/** What only the keeper can say. */
export const FACTS = [
  'holding-status',
  'health',
  'diseases',
  'samples',
  'mortality',
  'earlier-inspections',
  'production',
  'vet',
] as const;
export type Fact = (typeof FACTS)[number];

/** What comes out of the book by itself. */
export type FromBook =
  | 'consignor'
  | 'identification'
  | 'number-and-species'
  | 'departure'
  | 'treatments'
  | 'periods-over'
  | 'still-running';

export type FactRule = {
  /** The name it is printed under. */
  name: string;
  /** How it is asked. */
  asks: string;
  hint: string;
  /** The words for "there is nothing to say"; absent where something must be said. */
  nothing?: string;
  /**
   * Whether the answer is that of the holding and offered again the next time. What is true of these animals today is
   * asked anew each time: nobody should sign last month's health by pressing Enter.
   */
  isKept: boolean;
};

/** Each thing that is asked, in words. */
export const FACT_RULES: Readonly<Record<Fact, FactRule>> = {
  'holding-status': {
    name: 'Status of the holding',
    asks: 'What is the status of the holding?',
    hint: 'Movement restrictions, disease status, assurance.',
    nothing: 'No restriction is in force on the holding.',
    isKept: true,
  },
  health: {
    name: 'Health of the animals',
    asks: 'How is the health of these animals?',
    hint: 'Anything seen in them in the last days.',
    nothing: 'Nothing out of the ordinary was seen in these animals.',
    isKept: false,
  },
  diseases: {
    name: 'Diseases that may affect the meat',
    asks: 'Which diseases were there that may affect the meat?',
    hint: 'Name the disease, when, and which animals.',
    nothing: 'No disease that may affect the meat is known.',
    isKept: false,
  },
  samples: {
    name: 'Results of samples',
    asks: 'What did samples show that were taken of them or on the holding?',
    hint: 'What was taken, when, and what came out.',
    nothing: 'No sample was taken whose result matters for the meat.',
    isKept: false,
  },
  mortality: {
    name: 'Deaths',
    asks: 'Were there deaths in their group?',
    hint: 'How many, since when, of what.',
    nothing: 'No deaths out of the ordinary.',
    isKept: false,
  },
  'earlier-inspections': {
    name: 'Earlier reports from an abattoir',
    asks: 'What did earlier inspections at an abattoir report of animals of this holding?',
    hint: 'Only what still matters.',
    nothing: 'No earlier report that matters.',
    isKept: true,
  },
  production: {
    name: 'Production data',
    asks: 'Which figures of production could show a disease?',
    hint: 'Growth, losses, milk, where they stand out.',
    nothing: 'No figure that points to a disease.',
    isKept: true,
  },
  vet: {
    name: "The holding's vet",
    asks: 'Who is the vet of the holding?',
    hint: 'Name and address.',
    isKept: true,
  },
};

type Source = { text: string; confirmed: Confirmed };
export type ContentRule = {
  content: Content;
  /** What it is chosen by. */
  name: string;
  source: Source;
  /** What the keeper has to say, in the order it is asked and printed. */
  facts: readonly Fact[];
  /** What the book says by itself. */
  fromBook: readonly FromBook[];
  /** What else is said of it beside the form. */
  note?: string;
};

const WHO_AND_WHAT = [
  'consignor',
  'identification',
  'number-and-species',
  'departure',
  'treatments',
] as const satisfies readonly FromBook[];
/** Where every period has to be over when they leave, and where those that run are named. */
const ALL_OVER: readonly FromBook[] = [...WHO_AND_WHAT, 'periods-over'];
const STILL_RUNNING: readonly FromBook[] = [...WHO_AND_WHAT, 'still-running'];

const PLAIN: ContentRule = {
  content: 'plain',
  name: 'Plain: what the book knows',
  source: { text: 'no text of law, but what a buyer needs to know', confirmed: 'practice' },
  facts: [],
  fromBook: ALL_OVER,
};

/** Declarations for slaughter, by the text that asks for them. */
export const SLAUGHTER_CONTENTS: Readonly<Record<Content, ContentRule>> = {
  eu: {
    content: 'eu',
    name: 'European Union: food chain information',
    source: {
      text: 'Regulation (EC) No 853/2004, Annex II, Section III, point 3',
      confirmed: 'memory',
    },
    facts: ['holding-status', 'health', 'diseases', 'samples', 'earlier-inspections', 'production', 'vet'],
    fromBook: ALL_OVER,
  },
  gb: {
    content: 'gb',
    name: 'Great Britain: food chain information for sheep',
    source: { text: 'what abattoirs in Great Britain are told of sheep', confirmed: 'read' },
    facts: ['diseases'],
    fromBook: ALL_OVER,
    note: 'It normally reaches the abattoir 24 hours before the animals.',
  },
  za: {
    content: 'za',
    name: 'South Africa: health declaration',
    source: { text: 'Red Meat Regulations, regulation 79(2)', confirmed: 'read' },
    facts: ['health', 'mortality'],
    fromBook: ['consignor', 'number-and-species', 'departure', 'treatments', 'periods-over'],
  },
  plain: PLAIN,
};

const OTHERS: Readonly<Record<Exclude<Purpose, 'slaughter'>, ContentRule>> = {
  'live-sale': {
    ...PLAIN,
    source: {
      text: 'what sellers of live animals must say in Western Australia and in Denmark: that a period runs, and when it ends',
      confirmed: 'read',
    },
    fromBook: STILL_RUNNING,
  },
  milk: PLAIN,
  transfer: {
    ...PLAIN,
    source: { text: 'no text of law, but that holds go along with the animals', confirmed: 'practice' },
    fromBook: STILL_RUNNING,
  },
  shearing: {
    ...PLAIN,
    source: {
      text: 'the intervals the labels print for shearing and for handling wool',
      confirmed: 'practice',
    },
    fromBook: STILL_RUNNING,
  },
};

/** What a paper of this purpose must say by the content that was chosen; only slaughter has more than one. */
export function contentOf(purpose: Purpose, content: Content): ContentRule {
  return purpose === 'slaughter' ? SLAUGHTER_CONTENTS[content] : { ...OTHERS[purpose], content };
}

/** The content a holding starts with, by its law. Another can be chosen: the program does not decide which law holds. */
export function contentFor(law: string): Content {
  if (law === 'eu' || law === 'ni') return 'eu';
  return law === 'gb' ? 'gb' : 'plain';
}

const CONFIRMED_WORDS: Readonly<Record<Confirmed, string>> = {
  read: 'its text was read for this program',
  'second-hand': 'known at second hand',
  memory: 'from memory',
  practice: 'practice',
};

/** Where the content comes from and how far that is confirmed, as one sentence for form and paper. */
export function sayContent(rule: ContentRule): string {
  const { text, confirmed } = rule.source;
  return `What is said here follows ${text} (${CONFIRMED_WORDS[confirmed]}). The page is our own and no official form; whether it is enough where you are, your authority says.`;
}

/** "Health of the animals: …" for each thing that was answered, in the order the law names them. */
export function factLines(
  rule: ContentRule,
  facts: Readonly<Partial<Record<Fact, string>>>,
): { name: string; says: string }[] {
  return rule.facts.flatMap((fact) => {
    const says = facts[fact];
    return says === undefined ? [] : [{ name: FACT_RULES[fact].name, says }];
  });
}
