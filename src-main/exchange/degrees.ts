import { Refusal } from '../../src-shared/refusal.ts';
import { bareCell, checkShown } from './cells.ts';

/**
 * Temperatures of a column, kept as whole numbers: a 90,000th of a degree Celsius, so that a tenth of a degree
 * Fahrenheit and a sixteenth of a degree Celsius are whole and a limit is met exactly or not at all.
 */
export const UNITS_IN_DEGREE = 90_000;

export type DegreesUnit = 'C' | 'F';

/** Colder or warmer is no place where medicines stand; sensors without contact show such numbers (practice). */
const MOST_DEGREES = 60;

const NUMBER = /^([-−–+]?)(\d{1,3}(?:[.,]\d{1,12})?)\s*(°\s*[CF]|º\s*[CF]|[CF]|deg(?:rees)?\s*[CF])?$/i;

/** The unit that a heading names: "Temperature (°F)", "Temp C", "Celsius". A letter alone is the name of a column. */
export function unitNamed(text: string): DegreesUnit | undefined {
  const folded = text.normalize('NFKD').toLowerCase();
  const isC = /celsius|centigrad|[°º˚]\s*c\b|\S[\s,;:([_-]+c\b/.test(folded);
  const isF = /fahrenheit|[°º˚]\s*f\b|\S[\s,;:([_-]+f\b/.test(folded);
  return isC === isF ? undefined : isC ? 'C' : 'F';
}

/** The unit written in a cell, where one is. */
export function unitInCell(cell: string): DegreesUnit | undefined {
  const unit = NUMBER.exec(bareCell(cell))?.[3];
  return unit === undefined ? undefined : /f/i.test(unit) ? 'F' : 'C';
}

/**
 * One temperature as whole 90,000ths of a degree Celsius. `unit` is that of the column; one in the cell must not deny
 * it. Refuses (`no-reading`, `degrees-unreadable`, `degrees-unit`, `degrees-impossible`).
 */
export function readDegrees(cell: string, field: string, unit: DegreesUnit): number {
  checkShown(cell, field);
  if (
    cell === '' ||
    /^[-–—_*.?]+$|^(?:n\/?a|nan|null|err(?:or)?|open|short|fault|lost|no data)$/i.test(cell)
  ) {
    throw new Refusal('no-reading', `“${cell}” is no temperature: the logger read nothing.`, { field });
  }
  const match = NUMBER.exec(cell);
  if (match === null) {
    throw new Refusal('degrees-unreadable', `“${cell}” is no temperature; write it as 4.5.`, { field });
  }
  const own = unitInCell(cell);
  if (own !== undefined && own !== unit) {
    throw new Refusal('degrees-unit', `“${cell}” is in °${own}, and the column is in °${unit}.`, { field });
  }
  const value = Number((match[2] ?? '').replace(',', '.'));
  const signed = match[1] === '' || match[1] === '+' ? value : -value;
  const tenThousandths = Math.round(signed * 10_000);
  const units = unit === 'C' ? tenThousandths * 9 : (tenThousandths - 320_000) * 5;
  if (Math.abs(units) > MOST_DEGREES * UNITS_IN_DEGREE) {
    throw new Refusal('degrees-impossible', `“${cell}” is no temperature of a store; look at the logger.`, {
      field,
    });
  }
  return units;
}

/** A limit of a label, in degrees Celsius, in the same units. */
export function limitUnits(degreesC: number): number {
  return Math.round(degreesC * 10_000) * 9;
}

/** To the tenth of a degree below or above: a least is never printed higher, a most never lower than it was. */
export function tenths(units: number, towards: 'down' | 'up'): string {
  const whole = towards === 'down' ? Math.floor(units / 9000) : Math.ceil(units / 9000);
  // Adding 0 makes a minus nought a nought.
  return String((whole + 0) / 10);
}
