import type { Place } from '../src-shared/commands.ts';

/** One screen's place in the program. `file` is below screens/, without its ending. */
type Route = { readonly file: string; readonly place: Place; readonly title: string };

/**
 * Every screen by its path. A part that starts with a colon stands for any text. To add a screen: one line
 * here, one file there whose default export is the screen.
 */
export const ROUTES = {
  today: { file: 'today/screen', place: 'today', title: 'Today' },

  cabinet: { file: 'cabinet/screen', place: 'cabinet', title: 'Cabinet' },
  'cabinet/medicine/:medicine': { file: 'cabinet/medicine', place: 'cabinet', title: 'Medicine' },
  'cabinet/label': { file: 'label/screen', place: 'cabinet', title: 'Add a medicine from its insert' },
  'cabinet/label/:medicine/new-insert': { file: 'label/new-insert', place: 'cabinet', title: 'A new insert' },
  'cabinet/label/:medicine/correct/:revision': {
    file: 'label/correct',
    place: 'cabinet',
    title: 'Correct what was typed',
  },
  'cabinet/delivery': { file: 'cabinet/delivery', place: 'cabinet', title: 'Take in a delivery' },
  'cabinet/make-up': {
    file: 'cabinet/make-up',
    place: 'cabinet',
    title: 'Make up a powder or a concentrate',
  },
  'cabinet/drawer': { file: 'cabinet/drawer', place: 'cabinet', title: 'Needles, syringes and spares' },
  'cabinet/batch/:batch': { file: 'cabinet/batch', place: 'cabinet', title: 'Where a batch went' },
  'cabinet/stocktake': { file: 'cabinet/stocktake', place: 'cabinet', title: 'Stocktake' },
  'cabinet/storage': { file: 'cabinet/storage', place: 'cabinet', title: 'Thermometers' },
  'cabinet/storage/logger': { file: 'cabinet/logger', place: 'cabinet', title: 'Bring in a logger’s file' },
  'cabinet/prescriptions': { file: 'papers/prescription-list', place: 'cabinet', title: 'Prescriptions' },
  'cabinet/prescription': { file: 'papers/prescription', place: 'cabinet', title: 'A prescription' },
  'cabinet/prescription/:prescription': {
    file: 'papers/prescription-one',
    place: 'cabinet',
    title: 'One prescription',
  },
  'cabinet/prescription/:prescription/correct': {
    file: 'papers/prescription-correct',
    place: 'cabinet',
    title: 'Correct a prescription',
  },
  'cabinet/disposals': {
    file: 'cabinet/disposals',
    place: 'cabinet',
    title: 'Disposed of and returned',
  },
  'cabinet/drift': { file: 'cabinet/drift', place: 'cabinet', title: 'Counts against the book' },
  'cabinet/find-batch': { file: 'cabinet/find-batch', place: 'cabinet', title: 'Find a batch' },
  'cabinet/container/:container': { file: 'cabinet/container', place: 'cabinet', title: 'Container' },

  flock: { file: 'flock/screen', place: 'flock', title: 'Flock' },
  'flock/find': { file: 'flock/screen', place: 'flock', title: 'Find an animal or a lot' },
  'flock/add': { file: 'flock/add', place: 'flock', title: 'Add an animal or a lot' },
  'flock/subject/:subject': { file: 'flock/subject', place: 'flock', title: 'Animal or lot' },
  'flock/subject/:subject/weigh': { file: 'flock/weigh', place: 'flock', title: 'Weigh' },
  'flock/subject/:subject/change': { file: 'flock/change', place: 'flock', title: 'Change' },
  'flock/subject/:subject/heads': { file: 'flock/heads', place: 'flock', title: 'Move heads' },
  'flock/subject/:subject/word/:hold': { file: 'flock/word', place: 'flock', title: 'End a hold by word' },
  'flock/subject/:subject/at-foot': { file: 'flock/at-foot', place: 'flock', title: 'Lambs at foot' },
  'flock/event': { file: 'flock/event', place: 'flock', title: 'Lambed, device out, in milk or dry' },
  'flock/held': { file: 'flock/held', place: 'flock', title: 'Who is held, and why' },
  'flock/import': { file: 'flock/import', place: 'flock', title: 'Bring in a flock file' },
  'flock/weights': { file: 'flock/weights', place: 'flock', title: 'Bring in weights' },
  'flock/imports': { file: 'flock/imports', place: 'flock', title: 'Files that came in' },
  'flock/vaccines': { file: 'flock/vaccines', place: 'flock', title: 'Who is covered by which vaccine' },
  'flock/groups': { file: 'flock/groups', place: 'flock', title: 'Groups' },
  'flock/group/:group': { file: 'flock/group', place: 'flock', title: 'Group' },
  'flock/depart': { file: 'flock/depart', place: 'flock', title: 'Animals that left' },

  treat: { file: 'treat/screen', place: 'treat', title: 'Treat' },
  'treat/plan': { file: 'treat/plan', place: 'treat', title: 'Plan work at the race' },
  'treat/session/:session': { file: 'treat/session', place: 'treat', title: 'At the race' },
  'treat/session/:session/sheet': { file: 'treat/sheet', place: 'treat', title: 'Work sheet' },
  'treat/session/:session/ready': { file: 'treat/ready', place: 'treat', title: 'Before starting' },
  'treat/session/:session/close': { file: 'treat/close', place: 'treat', title: 'Close the session' },
  'treat/needle': { file: 'treat/needle', place: 'treat', title: 'A needle broke or is missing' },
  'treat/needle/:loss': { file: 'treat/needle-loss', place: 'treat', title: 'What came of the needle' },
  'treat/one': { file: 'treat/one', place: 'treat', title: 'Write down one treatment' },
  'treat/emergency': { file: 'treat/emergency', place: 'treat', title: 'A person was injected' },
  'treat/exposure': { file: 'safety/exposure', place: 'treat', title: 'A person came into contact' },

  'work-out': { file: 'work-out/screen', place: 'treat', title: 'Work something out' },
  'work-out/:topic': { file: 'work-out/topic', place: 'treat', title: 'Work something out' },

  book: { file: 'book/screen', place: 'book', title: 'Book' },
  'book/paper': { file: 'book/paper', place: 'book', title: 'Print the book' },
  'book/balance': { file: 'book/balance', place: 'book', title: 'What came in and where it went' },
  'book/gaps': { file: 'book/gaps', place: 'book', title: 'What is missing' },
  'book/fill-in': { file: 'book/fill-in', place: 'book', title: 'Fill in what is missing' },
  'book/explain': { file: 'book/explain', place: 'book', title: 'Say why it is missing' },
  'book/pack': { file: 'book/pack', place: 'book', title: 'The inspector’s pack' },
  'book/entries': { file: 'book/entries', place: 'book', title: 'Journal' },
  'book/check': { file: 'book/check', place: 'book', title: 'Check the book' },
  'book/treatment/:administration': { file: 'book/treatment', place: 'book', title: 'A line of the book' },
  'book/correct/:administration': { file: 'book/correct', place: 'book', title: 'Correct a treatment' },
  'book/safety': { file: 'safety/screen', place: 'book', title: 'Came to harm, or no effect' },
  'book/reaction/:administration': {
    file: 'safety/reaction',
    place: 'book',
    title: 'A reaction, or no effect',
  },
  'book/reaction-paper/:reaction': {
    file: 'safety/reaction-paper',
    place: 'book',
    title: 'Report for the vet',
  },
  'book/use': { file: 'use/screen', place: 'book', title: 'What was used' },
  'book/use/substance': { file: 'use/substance', place: 'book', title: 'A substance' },
  'book/use/heads': { file: 'use/heads', place: 'book', title: 'Heads by your own count' },
  'book/use/rules': { file: 'use/rules', place: 'book', title: 'How use is counted' },
  'book/vet': { file: 'vet/page', place: 'book', title: 'For the vet' },
  'book/vet/visit': { file: 'vet/visit', place: 'book', title: 'The vet was here' },
  'book/cost/price': { file: 'cost/price', place: 'book', title: 'What a delivery cost' },
  'book/cost': { file: 'cost/screen', place: 'book', title: 'What medicines cost' },
  'book/strike': { file: 'book/strike', place: 'book', title: 'Strike out' },

  declare: { file: 'declare/screen', place: 'declare', title: 'Declare' },
  'declare/new': { file: 'declare/new', place: 'declare', title: 'Sign a declaration' },
  'declare/clear': { file: 'declare/clear', place: 'declare', title: 'Who is clear' },
  'declare/paper/:declaration': { file: 'declare/paper', place: 'declare', title: 'Declaration' },

  order: { file: 'order/screen', place: 'order', title: 'Order' },
  'order/outlook/:medicine': { file: 'order/outlook', place: 'order', title: 'Outlook' },
  'order/supply/:medicine': { file: 'order/supply', place: 'order', title: 'How it is bought' },
  'order/work': { file: 'order/work', place: 'order', title: 'Plan work ahead' },
  'order/write': { file: 'order/write', place: 'order', title: 'Write an order list' },
  'order/list/:order': { file: 'order/list', place: 'order', title: 'Order list' },

  farm: { file: 'farm/screen', place: 'farm', title: 'Farm' },
  'farm/business': { file: 'farm/business', place: 'farm', title: 'The business' },
  'farm/holding': { file: 'farm/holding', place: 'farm', title: 'A holding' },
  'farm/holding/:holding': { file: 'farm/holding', place: 'farm', title: 'A holding' },
  'farm/person': { file: 'farm/person', place: 'farm', title: 'A person or firm' },
  'farm/person/:person': { file: 'farm/person', place: 'farm', title: 'A person or firm' },
  'farm/emergency': { file: 'farm/emergency', place: 'farm', title: 'Numbers for an emergency' },
  'farm/date': { file: 'farm/date', place: 'farm', title: 'Confirm the date' },
  'farm/certificates': { file: 'farm/certificates', place: 'farm', title: 'Certificates' },
  'farm/organic': { file: 'farm/organic', place: 'farm', title: 'Organic courses' },
  'farm/look': { file: 'farm/look', place: 'farm', title: 'How Foldbook looks here' },
  'farm/equipment': { file: 'farm/equipment', place: 'farm', title: 'Syringes, guns and weighers' },
  'farm/equipment/add': {
    file: 'farm/equipment-form',
    place: 'farm',
    title: 'Add a syringe, a gun or a weigher',
  },
  'farm/equipment/:equipment': {
    file: 'farm/equipment-one',
    place: 'farm',
    title: 'Check a gun or a weigher',
  },
  'farm/equipment/:equipment/change': { file: 'farm/equipment-form', place: 'farm', title: 'Change it' },
  'farm/training': { file: 'training/screen', place: 'farm', title: 'Training and competence' },
  'farm/training/note': { file: 'training/note', place: 'farm', title: 'Note training or competence' },
  'farm/needles': { file: 'farm/needle-rules', place: 'farm', title: 'House rules for needles' },
  'farm/papers': { file: 'papers/screen', place: 'farm', title: "The vet's papers" },
  'treat/instruction/:instruction': {
    file: 'instruction/one',
    place: 'treat',
    title: 'What the vet ordered',
  },
  'farm/papers/instruction': { file: 'papers/instruction', place: 'farm', title: 'What the vet ordered' },
  'farm/record': { file: 'farm/record', place: 'farm', title: 'What the book is kept by' },
  'farm/file': { file: 'farm/file', place: 'farm', title: 'The book as a file' },
} as const satisfies Readonly<Record<string, Route>>;

export type RoutePath = keyof typeof ROUTES;

/** The names behind the colons of a path. */
type Names<P extends string> = P extends `${infer Head}/${infer Rest}`
  ? Names<Head> | Names<Rest>
  : P extends `:${infer Name}`
    ? Name
    : never;

/** What a path needs to become an address: one text for each colon. */
export type Params<P extends RoutePath> = { readonly [N in Names<P>]: string };

/** Where somebody is: which screen, with what. `query` holds what a screen was asked to start with. */
export type Location = {
  readonly path: RoutePath;
  readonly params: Readonly<Record<string, string>>;
  readonly query: Readonly<Record<string, string>>;
};

/** True for a text that is the path of a screen. */
export function isRoutePath(path: string): path is RoutePath {
  return Object.hasOwn(ROUTES, path);
}

/**
 * The address of a screen. It stands in the query ("/?at=flock/subject/lot%3A7"): both windowed hosts serve and
 * trust only the page at "/", and the fragment belongs to the one-time key.
 */
export function addressOf(
  path: RoutePath,
  params: Readonly<Record<string, string>> = {},
  query: Readonly<Record<string, string>> = {},
): string {
  const filled = path
    .split('/')
    .map((part) => (part.startsWith(':') ? encodeURIComponent(params[part.slice(1)] ?? '') : part))
    .join('/');
  const search = new URLSearchParams({ at: filled, ...query });
  // Slashes may stand in a query as they are, and an address that can be read is worth having.
  return `/?${search.toString().replaceAll('%2F', '/')}`;
}

/** Where an address leads, from its query ("?at=…"); Today when it leads nowhere. */
export function readAddress(search: string): Location {
  const query = Object.fromEntries(new URLSearchParams(search));
  const { at = '', ...rest } = query;
  const parts = at.split('/');
  for (const path of Object.keys(ROUTES)) {
    if (!isRoutePath(path)) continue;
    const params = match(path.split('/'), parts);
    if (params !== undefined) return { path, params, query: rest };
  }
  return { path: 'today', params: {}, query: {} };
}

function match(pattern: readonly string[], parts: readonly string[]): Record<string, string> | undefined {
  if (pattern.length !== parts.length) return undefined;
  const params: Record<string, string> = {};
  for (const [n, wanted] of pattern.entries()) {
    const part = parts[n] ?? '';
    if (!wanted.startsWith(':')) {
      if (part !== wanted) return undefined;
      continue;
    }
    if (part === '') return undefined;
    try {
      params[wanted.slice(1)] = decodeURIComponent(part);
    } catch {
      // An address that somebody broke by hand leads to Today, like any other that leads nowhere.
      return undefined;
    }
  }
  return params;
}
