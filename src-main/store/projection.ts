/**
 * A disposable table for reading: `CREATE TABLE … STRICT` plus its indexes. It has a primary key, a column
 * `subject TEXT NOT NULL`, and an index (or primary key) that starts with it. Each row belongs to one subject.
 */
export type Projection = { readonly table: string; readonly sql: string };
