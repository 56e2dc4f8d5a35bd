import { type Identity, readIdentity } from '../../src-shared/flock/identity.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { checkIdentityCell } from './cells.ts';

/** Numbers of animals in cells: refused when a spreadsheet has spoilt them, then read as the rest of Foldbook does. */

export type { Identity };

export const LONGEST_NUMBER = 40;

/** `readIdentity`, its refusals named after the column the cell stands in. */
function readInColumn(cell: string, field: string): Identity {
  try {
    return readIdentity(cell);
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    const says = thrown.message.replace(/^Read: /, '');
    throw new Refusal(thrown.code, says.charAt(0).toUpperCase() + says.slice(1), {
      field,
      next: thrown.next,
    });
  }
}

/**
 * The identity in a cell of a column of tags, chips or management numbers, or of any kind. A chip in a column of
 * tags is taken as what it is. Refuses spoilt numbers, and a short number among tags or chips, because it is
 * either a management number or what is left of a chip.
 */
export function readIdentityCell(
  cell: string,
  field: string,
  wanted: 'tag' | 'chip' | 'management' | 'any',
): Identity {
  checkIdentityCell(cell, field);
  if (cell.length > LONGEST_NUMBER) {
    throw new Refusal('number-too-long', `“${cell.slice(0, 20)}…” is too long to be a number of an animal.`, {
      field,
    });
  }
  const identity = readInColumn(cell, field);
  if (wanted === 'chip' && identity.kind !== 'chip') {
    throw new Refusal('not-a-chip', `“${cell}” is not the number of a chip, which has 15 digits.`, { field });
  }
  if (wanted === 'tag' && identity.kind === 'management') {
    throw new Refusal(
      'not-a-tag',
      `“${cell}” is not a full tag number; correct it, or say that this column holds management numbers.`,
      { field },
    );
  }
  if (wanted === 'management' && identity.kind !== 'management') {
    throw new Refusal(
      'not-management',
      `“${cell}” is a full tag or chip number, not a management number; choose another column for it.`,
      { field },
    );
  }
  return identity;
}

/**
 * Refuses a tag and a chip that cannot be in one ear. A chip with a maker's code carries no number
 * of the tag, so it contradicts nothing; neither does a tag that has no 15-digit form.
 */
export function checkSameAnimal(tag: Identity, chip: Identity): void {
  if (tag.key === chip.key || !/^\d{15}$/.test(tag.key) || chip.country === undefined) return;
  throw new Refusal(
    'tag-chip-differ',
    `The tag ${tag.written} and the chip ${chip.written} are two different animals; correct one of them.`,
    { field: 'chip' },
  );
}
