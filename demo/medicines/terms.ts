import type { Ask } from '../../src-shared/calls/all.ts';

/** What a person types from an insert, defaults left out. */
export type Terms = Ask<'check-label'>['terms'];
type Row = NonNullable<Terms['periods']>[number];

/** A row of the withdrawal table that gives a time. */
export const period = (produce: Row['produce'], value: string, more: Partial<Row> = {}): Row => ({
  produce,
  says: 'value',
  value,
  ...more,
});
/** A row that says something else than a time. */
export const says = (produce: Row['produce'], word: Row['says']): Row => ({ produce, says: word });

export const FRIDGE = { says: 'In a refrigerator, not frozen', leastC: 2, mostC: 8 };
export const SHELF = { says: 'Not above 25 °C', mostC: 25 };
