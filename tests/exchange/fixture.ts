import { readFileSync } from 'node:fs';
import type { AnimalsRead } from '../../src-main/exchange/animals.ts';
import type { Table } from '../../src-main/exchange/table.ts';
import { readTable } from '../../src-main/exchange/table.ts';
import { decodeText } from '../../src-main/exchange/text.ts';
import type { WeighingsRead } from '../../src-main/exchange/weighings.ts';

/** The bytes of a fixture. All animals, flocks and places in these files are invented. */
export function bytesOf(name: string): Uint8Array {
  return readFileSync(new URL(`fixtures/${name}`, import.meta.url));
}

export function tableOf(name: string): Table {
  return readTable(decodeText(bytesOf(name)).text);
}

export function sampleOf(table: Table): string[][] {
  return table.rows.slice(0, 50).map((row) => row.cells);
}

/** The rows that a reader gave, by line: "2 taken", "3 refused tag spreadsheet-number". */
export function outcomes(read: Pick<AnimalsRead, 'rows'> | Pick<WeighingsRead, 'rows'>): string[] {
  return read.rows.map((row) =>
    row.state === 'refused' ? `${row.line} refused ${row.field} ${row.code}` : `${row.line} ${row.state}`,
  );
}
