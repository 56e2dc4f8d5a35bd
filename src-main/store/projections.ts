import type { Projection } from './projection.ts';

/**
 * Every projection table: disposable, made by folding the journal. Each row belongs to one subject, which is the
 * first column, so that the rows of one subject can be dropped and folded again. Primary keys carry the subject
 * wherever the rest of the key could come from two subjects.
 */
const table = (name: string, columns: string, key: string, indexes: readonly string[] = []): Projection => ({
  table: name,
  sql: [
    `CREATE TABLE ${name} (subject TEXT NOT NULL, ${columns}, PRIMARY KEY (${key})) STRICT, WITHOUT ROWID;`,
    `CREATE INDEX ${name}_subject ON ${name}(subject);`,
    ...indexes.map((columns, i) => `CREATE INDEX ${name}_${i} ON ${name}(${columns});`),
  ].join('\n'),
});

export const projections: readonly Projection[] = [
  table(
    'record',
    `what TEXT NOT NULL, id TEXT NOT NULL, name TEXT NOT NULL, name_key TEXT NOT NULL, at TEXT NOT NULL,
     seq INTEGER NOT NULL, data TEXT NOT NULL`,
    'what, id',
  ),
  table(
    'medicine',
    `id TEXT NOT NULL, name TEXT NOT NULL, name_key TEXT NOT NULL, purpose TEXT NOT NULL, kind TEXT NOT NULL,
     form TEXT NOT NULL, revision TEXT NOT NULL, state TEXT NOT NULL`,
    'id',
  ),
  table(
    'revision',
    `id TEXT NOT NULL, medicine TEXT NOT NULL, n INTEGER NOT NULL, state TEXT NOT NULL, act TEXT NOT NULL,
     since TEXT NOT NULL, seq INTEGER NOT NULL, terms TEXT NOT NULL`,
    'id',
  ),
  table(
    'batch',
    `id TEXT NOT NULL, medicine TEXT NOT NULL, revision TEXT NOT NULL, number TEXT NOT NULL, expiry TEXT NOT NULL,
     received TEXT NOT NULL, seq INTEGER NOT NULL, data TEXT NOT NULL`,
    'id',
    ['medicine, expiry', 'number'],
  ),
  table(
    'container',
    `id TEXT NOT NULL, label TEXT NOT NULL, batch TEXT, medicine TEXT NOT NULL, revision TEXT NOT NULL,
     kind TEXT NOT NULL, received INTEGER NOT NULL, left_units INTEGER NOT NULL, state TEXT NOT NULL, opened TEXT,
     unusable_from TEXT NOT NULL, unopened_until TEXT NOT NULL, store TEXT, strength TEXT, batch_text TEXT, counted TEXT`,
    'id',
    ['medicine, unusable_from', 'batch'],
  ),
  table(
    'movement',
    `seq INTEGER NOT NULL, i INTEGER NOT NULL, at TEXT NOT NULL, local TEXT NOT NULL, cause TEXT NOT NULL,
     units INTEGER NOT NULL, administration TEXT, note TEXT, difference TEXT,
     by TEXT NOT NULL`,
    'subject, seq, i',
  ),
  // In which store a container stood from when on: a thermometer speaks for what was there at the time.
  table(
    'stood',
    'seq INTEGER NOT NULL, at TEXT NOT NULL, local TEXT NOT NULL, zone TEXT NOT NULL, store TEXT',
    'subject, seq',
    ['subject, at, seq'],
  ),
  table(
    'animal',
    `id TEXT NOT NULL, holding TEXT NOT NULL, shown TEXT NOT NULL, shown_key TEXT NOT NULL, tag TEXT, chip TEXT,
     management TEXT, class TEXT NOT NULL, sex TEXT, born TEXT, dam TEXT, at_foot_until TEXT, milking INTEGER NOT NULL,
     owner TEXT, origin TEXT NOT NULL, came_on TEXT, import TEXT, present INTEGER NOT NULL, left_on TEXT, left_how TEXT,
     weight TEXT, weight_unit TEXT, weighed_on TEXT, weighed_how TEXT, seq INTEGER NOT NULL`,
    'id',
    ['present, shown_key, id', 'import'],
  ),
  table('identity', 'key TEXT NOT NULL, seq INTEGER NOT NULL', 'key, subject'),
  table(
    'weighing',
    'seq INTEGER NOT NULL, at TEXT NOT NULL, local TEXT NOT NULL, value TEXT NOT NULL, unit TEXT NOT NULL, how TEXT NOT NULL',
    'subject, seq',
  ),
  table(
    'lot',
    `id TEXT NOT NULL, holding TEXT NOT NULL, name TEXT NOT NULL, name_key TEXT NOT NULL, class TEXT NOT NULL,
     heads INTEGER NOT NULL, born TEXT, milking INTEGER NOT NULL, origin TEXT NOT NULL, came_on TEXT, weight TEXT,
     weight_unit TEXT, weighed_on TEXT, weighed_how TEXT, seq INTEGER NOT NULL`,
    'id',
  ),
  table(
    'lineage',
    'parent TEXT NOT NULL, at TEXT NOT NULL, seq INTEGER NOT NULL, heads INTEGER NOT NULL',
    'subject, seq',
    ['parent'],
  ),
  table(
    'mark',
    'seq INTEGER NOT NULL, colour TEXT NOT NULL, place TEXT NOT NULL, local TEXT NOT NULL, lasts_until TEXT',
    'subject, seq',
  ),
  table(
    'flock_group',
    'id TEXT NOT NULL, holding TEXT NOT NULL, name TEXT NOT NULL, name_key TEXT NOT NULL, active INTEGER NOT NULL, dates TEXT NOT NULL',
    'id',
  ),
  table('member', 'member TEXT NOT NULL', 'subject, member', ['member']),
  // Who was in a group from when to when: the ram was in with a ewe who has left his group since.
  table(
    'membership',
    'member TEXT NOT NULL, from_at TEXT NOT NULL, until_at TEXT NOT NULL',
    'subject, member, from_at',
    ['member'],
  ),
  table(
    'session',
    `id TEXT NOT NULL, holding TEXT NOT NULL, name TEXT NOT NULL, mode TEXT NOT NULL, state TEXT NOT NULL,
     opened TEXT NOT NULL, at TEXT NOT NULL, planned INTEGER NOT NULL, closed TEXT, seq INTEGER NOT NULL,
     data TEXT NOT NULL, closing TEXT`,
    'id',
    ['state'],
  ),
  table(
    'session_done',
    `administration TEXT NOT NULL, treated TEXT NOT NULL, line TEXT NOT NULL, heads INTEGER NOT NULL, at TEXT NOT NULL,
     seq INTEGER NOT NULL`,
    'subject, administration',
    ['subject, treated', 'subject, seq'],
  ),
  table(
    'administration',
    `id TEXT NOT NULL, seq INTEGER NOT NULL, at TEXT NOT NULL, local TEXT NOT NULL, recorded TEXT NOT NULL, by TEXT NOT NULL,
     holding TEXT NOT NULL, heads INTEGER NOT NULL, session TEXT, line TEXT, medicine TEXT NOT NULL, product TEXT NOT NULL,
     revision TEXT, route TEXT NOT NULL, kind TEXT NOT NULL, total INTEGER NOT NULL, data TEXT NOT NULL`,
    'id',
    // The long rows are left unread: a page of the book, the name of the product of a hold, and what was used of a
    // medicine since when.
    [
      'holding, at, seq, id',
      'revision',
      'medicine, at, seq',
      'id, product',
      'medicine, local, session, subject',
    ],
  ),
  table(
    'hold',
    `source TEXT NOT NULL, cause TEXT NOT NULL, produce TEXT NOT NULL, market TEXT NOT NULL, clock TEXT NOT NULL,
     state TEXT NOT NULL, until TEXT, event TEXT, period TEXT, from_at TEXT NOT NULL, seq INTEGER NOT NULL,
     data TEXT NOT NULL, possible TEXT`,
    'subject, source, produce, market, clock',
    ['source'],
  ),
  // What happened that holds are counted from, and the ends that follow for whoever was there.
  table(
    'event',
    'id TEXT NOT NULL, what TEXT NOT NULL, at TEXT NOT NULL, local TEXT NOT NULL, seq INTEGER NOT NULL',
    'subject, id',
    ['subject, what, at'],
  ),
  table(
    'settled',
    `event TEXT NOT NULL, source TEXT NOT NULL, produce TEXT NOT NULL, market TEXT NOT NULL, clock TEXT NOT NULL,
     since TEXT NOT NULL, seq INTEGER NOT NULL, data TEXT NOT NULL`,
    'subject, event, source, produce, market, clock',
    ['source'],
  ),
  table(
    'at_foot',
    `id TEXT NOT NULL, dam TEXT NOT NULL, from_at TEXT NOT NULL, from_local TEXT NOT NULL, until_at TEXT NOT NULL,
     until_local TEXT, seq INTEGER NOT NULL`,
    'subject, id',
    ['dam'],
  ),
  table(
    'equipment_use',
    'administration TEXT NOT NULL, at TEXT NOT NULL, seq INTEGER NOT NULL, shots INTEGER NOT NULL',
    'subject, administration',
    ['subject, at'],
  ),
  table(
    'course_dose',
    'administration TEXT NOT NULL, n INTEGER NOT NULL, local TEXT NOT NULL, seq INTEGER NOT NULL',
    'subject, administration',
  ),
  table(
    'declaration',
    `id TEXT NOT NULL, number INTEGER NOT NULL, holding TEXT NOT NULL, to_whom TEXT NOT NULL, departs TEXT NOT NULL,
     heads INTEGER NOT NULL, state TEXT NOT NULL, paper TEXT NOT NULL, at TEXT NOT NULL, seq INTEGER NOT NULL, data TEXT NOT NULL`,
    'id',
    ['holding, number'],
  ),
  table(
    'declared_line',
    'declaration TEXT NOT NULL, declared_subject TEXT NOT NULL',
    'subject, declared_subject',
    ['declared_subject'],
  ),
];

/** Raise it when a fold or a table changes: a book whose projections are of another version is folded again. */
export const projectionVersion = 8;
