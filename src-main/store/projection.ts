/** One projection table: its name and the SQL that makes it and its indexes. Each has a `subject` column. */
export type Projection = { readonly table: string; readonly sql: string };
