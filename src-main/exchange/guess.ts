import { CLASSES } from '../../src-shared/label/terms.ts';
import { type Look, lookOf } from './looks.ts';
import { classOfWord, sexOfWord, wordKey } from './words.ts';

/** Which column holds what, from the names of the columns and from what stands in them. The caller overrules. */

export type AnimalColumn =
  | 'tag'
  | 'chip'
  | 'management'
  | 'class'
  | 'sex'
  | 'born'
  | 'dam'
  | 'group'
  | 'weight'
  | 'weighedOn'
  | 'from'
  | 'note';

export type WeighColumn = 'identity' | 'weight' | 'on' | 'time' | 'note';

type Names<C extends string> = readonly (readonly [C, readonly string[]])[];

/** Names as they stand alone in a header, without units and marks. First come, first served. */
const ANIMAL_NAMES: Names<AnimalColumn> = [
  [
    'dam',
    ['dam', 'dam tag', 'dam id', 'dam number', 'mother', 'mother tag', 'mere', 'mutter', 'moeder', 'madre'],
  ],
  [
    'chip',
    [
      'chip',
      'eid',
      'eid number',
      'eid tag',
      'electronic',
      'electronic id',
      'electronic number',
      'electronic tag',
      'electronic identification',
      'microchip',
      'transponder',
      'transponder number',
      'rfid',
      'puce',
    ],
  ],
  [
    'tag',
    [
      'tag',
      'tag number',
      'ear tag',
      'eartag',
      'ear tag number',
      'eartag number',
      'official tag',
      'official number',
      'official id',
      'individual number',
      'uk number',
      'visual tag',
      'visual id',
      'vid',
      'ohrmarke',
      'ohrmarkennummer',
      'oormerk',
      'boucle',
      'crotal',
      'marca auricolare',
    ],
  ],
  [
    'management',
    [
      'management',
      'management tag',
      'management number',
      'short number',
      'farm number',
      'farm tag',
      'own number',
      'working number',
      'stock number',
      'nickname',
    ],
  ],
  [
    'class',
    ['class', 'stock class', 'category', 'type', 'kind', 'stock type', 'klasse', 'categorie', 'categoria'],
  ],
  ['sex', ['sex', 'gender', 'geschlecht', 'sexe', 'geslacht', 'sexo', 'sesso', 'm f', 'f m']],
  [
    'born',
    [
      'born',
      'birth',
      'dob',
      'date of birth',
      'birth date',
      'birthdate',
      'born on',
      'birth day',
      'birthday',
      'lambed',
      'geburtsdatum',
      'geboren',
      'date de naissance',
      'naissance',
      'geboortedatum',
      'fecha de nacimiento',
    ],
  ],
  [
    'weighedOn',
    [
      'weighed on',
      'weighed',
      'weigh date',
      'weighing date',
      'date weighed',
      'weight date',
      'date of weighing',
      'wiegedatum',
      'date de pesee',
    ],
  ],
  [
    'weight',
    [
      'weight',
      'wt',
      'live weight',
      'liveweight',
      'lwt',
      'body weight',
      'last weight',
      'latest weight',
      'gewicht',
      'poids',
      'peso',
    ],
  ],
  [
    'group',
    ['group', 'mob', 'pen', 'paddock', 'field', 'management group', 'batch', 'gruppe', 'groupe', 'lot'],
  ],
  [
    'from',
    [
      'from',
      'bought from',
      'origin',
      'previous holding',
      'came from',
      'holding of birth',
      'source',
      'herkunft',
    ],
  ],
  [
    'note',
    ['note', 'notes', 'remark', 'remarks', 'comment', 'comments', 'bemerkung', 'remarque', 'opmerking'],
  ],
];

const WEIGH_NAMES: Names<WeighColumn> = [
  [
    'identity',
    [
      'identity',
      'id',
      'animal',
      'animal id',
      'animal number',
      'number',
      ...ANIMAL_NAMES.filter(([c]) => c === 'chip').flatMap(([, names]) => names),
      ...ANIMAL_NAMES.filter(([c]) => c === 'tag' || c === 'management').flatMap(([, names]) => names),
    ],
  ],
  [
    'weight',
    [
      ...ANIMAL_NAMES.filter(([c]) => c === 'weight').flatMap(([, names]) => names),
      'kg',
      'lb',
      'lbs',
      'mass',
    ],
  ],
  [
    'on',
    [
      'on',
      'date',
      'day',
      'datum',
      'fecha',
      'data',
      'date time',
      'datetime',
      'date and time',
      'timestamp',
      'weigh time',
      ...ANIMAL_NAMES.filter(([c]) => c === 'weighedOn').flatMap(([, names]) => names),
    ],
  ],
  ['time', ['time', 'time of day', 'clock', 'zeit', 'heure', 'hora', 'tijd']],
  ['note', ANIMAL_NAMES.filter(([c]) => c === 'note').flatMap(([, names]) => names)],
];

const NOT_OF_A_WEIGHING: readonly AnimalColumn[] = ['dam', 'class', 'sex', 'born', 'group', 'from'];

/** A column's name without units, brackets, marks and accents: "Live-weight (kg)" → "live weight". */
export function bareName(header: string): string {
  const key = wordKey(header.replace(/\([^)]*\)|\[[^\]]*\]/g, ' ').replace(/[#:*'"]|n[°º]|№/gi, ' '));
  const bare = key.replace(/ (?:kg|kgs|lb|lbs)$/, '').replace(/ (?:no|nr|num)$/, ' number');
  return bare === '' ? wordKey(header) : bare;
}

type Columns<C extends string> = Partial<Record<C, number>>;

function byNames<C extends string>(header: readonly string[], names: Names<C>): Columns<C> {
  const found: Columns<C> = {};
  const taken = new Set<number>();
  const bare = header.map(bareName);
  for (const [column, spellings] of names) {
    const at = spellings
      .map((spelling) => bare.findIndex((name, i) => name === spelling && !taken.has(i)))
      .find((i) => i >= 0);
    if (at === undefined) continue;
    found[column] = at;
    taken.add(at);
  }
  return found;
}

/** What most of the filled cells of a column look like, or `words` when they differ. */
function lookOfColumn(rows: readonly (readonly string[])[], at: number): Look {
  const looks = rows.map((cells) => lookOf(cells[at] ?? '')).filter((look) => look !== 'blank');
  if (looks.length === 0) return 'blank';
  const counts = new Map<Look, number>();
  for (const look of looks) counts.set(look, (counts.get(look) ?? 0) + 1);
  for (const [look, count] of counts) if (count * 5 >= looks.length * 4) return look;
  return 'words';
}

function mostly(rows: readonly (readonly string[])[], at: number, holds: (word: string) => boolean): boolean {
  const filled = rows.map((cells) => (cells[at] ?? '').trim()).filter((cell) => cell !== '');
  return filled.length > 0 && filled.filter(holds).length * 2 > filled.length;
}

const isClassWord = (word: string): boolean =>
  CLASSES.some((name) => name === wordKey(word)) || classOfWord(word, new Map()) !== undefined;

/**
 * The columns of a flock list. Names decide first ("Ear tag", "EID", "DOB"…); then the shape of the cells finds
 * chips, tags, classes and sexes in columns whose names say nothing. A number or a date without a name is not
 * guessed: it could be anything. Bounds: pass some 50 rows.
 */
export function guessColumns(
  header: readonly string[],
  sampleRows: readonly (readonly string[])[],
): Columns<AnimalColumn> {
  const found = byNames(header, ANIMAL_NAMES);
  const looks = header.map((_, i) => lookOfColumn(sampleRows, i));
  // A column named as a tag that holds only chips is the chip.
  if (found.tag !== undefined && found.chip === undefined && looks[found.tag] === 'chip') {
    found.chip = found.tag;
    delete found.tag;
  }
  // A column named as a tag that holds short numbers is what the farm calls them.
  if (found.tag !== undefined && found.management === undefined) {
    const short = mostly(sampleRows, found.tag, (cell) => /^\d{1,5}$/.test(cell));
    if (short) {
      found.management = found.tag;
      delete found.tag;
    }
  }
  const taken = new Set<number>(Object.values(found));
  const claim = (column: AnimalColumn, holds: (at: number) => boolean): void => {
    if (found[column] !== undefined) return;
    const at = header.findIndex((_, i) => !taken.has(i) && holds(i));
    if (at < 0) return;
    found[column] = at;
    taken.add(at);
  };
  claim('chip', (i) => looks[i] === 'chip');
  claim('tag', (i) => looks[i] === 'tag');
  // Sex before class: "ewe" and "ram" are both, but "F" and "M" are only one.
  claim('sex', (i) => mostly(sampleRows, i, (w) => sexOfWord(w, new Map()) !== undefined && !isClassWord(w)));
  claim('class', (i) => mostly(sampleRows, i, isClassWord));
  return found;
}

/** The columns of a weigh-crate file. An unnamed column of chips or tags is the identity; an unnamed date the day. */
export function guessWeighColumns(
  header: readonly string[],
  sampleRows: readonly (readonly string[])[],
): Columns<WeighColumn> {
  const found = byNames(header, WEIGH_NAMES);
  const looks = header.map((_, i) => lookOfColumn(sampleRows, i));
  // A date of birth or a mother's number must not become the day or the animal.
  const other = new Set(
    Object.values(
      byNames(
        header,
        ANIMAL_NAMES.filter(([c]) => NOT_OF_A_WEIGHING.includes(c)),
      ),
    ),
  );
  const claim = (column: WeighColumn, holds: (at: number) => boolean): void => {
    if (found[column] !== undefined) return;
    const at = header.findIndex((_, i) => !other.has(i) && !Object.values(found).includes(i) && holds(i));
    if (at >= 0) found[column] = at;
  };
  claim('identity', (i) => looks[i] === 'chip');
  claim('identity', (i) => looks[i] === 'tag');
  claim('on', (i) => looks[i] === 'day');
  // A number under a name that means something else is no weight; without a name it must be the only one.
  const nameless = (i: number): boolean =>
    looks[i] === 'number' && /^(?:|value|column \d+)$/.test(bareName(header[i] ?? ''));
  if (header.filter((_, i) => nameless(i)).length === 1) claim('weight', nameless);
  return found;
}
