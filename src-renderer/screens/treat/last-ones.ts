import type { Reply } from '../../../src-shared/calls/all.ts';

export type Treated = Reply<'session'>['last'][number];

/** One animal's record, with all medicines it got in it, newest first. */
export type LastOne = {
  readonly subject: string;
  readonly shown: string;
  readonly time: string;
  readonly rows: readonly Treated[];
};

/** The records of the last animals: medicines of one animal that follow one another belong together. */
export function lastOnes(rows: readonly Treated[], most = 3): LastOne[] {
  const ones: LastOne[] = [];
  for (const row of rows) {
    const before = ones.at(-1);
    const isSame =
      before !== undefined &&
      before.subject === row.subject &&
      // A second dose of the same medicine is another record.
      !before.rows.some((one) => one.product === row.product);
    if (isSame) ones[ones.length - 1] = { ...before, rows: [...before.rows, row] };
    else if (ones.length === most) return ones;
    else ones.push({ subject: row.subject, shown: row.shown, time: row.local.slice(11, 16), rows: [row] });
  }
  return ones;
}

/** Until when the meat withdrawal runs, of all the medicines it got. */
export function untilOf(one: LastOne): string {
  const untils = [...new Set(one.rows.map((row) => row.until).filter((until) => until !== ''))];
  if (untils.length === 0) return 'Nothing about meat is on record';
  // A date is until when; anything else says by itself what it waits for.
  return untils
    .map((until) => (/^\d/.test(until) ? `Meat withdrawal until ${until}` : `Meat: ${until}`))
    .join('; ');
}
