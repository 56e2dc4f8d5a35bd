import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { compareDays, type Day, printDay } from '../../../src-shared/time/day.ts';
import type { Act } from '../context.ts';
import { labelsOf, medicineName } from '../reading/labels.ts';
import { isPast, prescriptionNamed } from '../reading/prescriptions.ts';

/** A delivery about to be written, or put right. `units` are whole units of the medicine's kind. */
type Coming = { batch?: string; medicine: string; on: Day; units: number };

/**
 * Checks the prescription a delivery is said to have come on. One for another medicine is a slip and refused; what the
 * paper did not allow is asked about and then taken, because it happened.
 * @throws Refusal `no-such-prescription`, `prescription-for-other`, `ask:prescription-expired`,
 *   `ask:prescription-later`, `ask:prescription-over`
 */
export function checkPrescription(act: Act, id: string | undefined, coming: Coming): void {
  if (id === undefined) return;
  const field = 'prescription';
  const { paper, receipts } = prescriptionNamed(act.tx, coming.on, id);
  if (paper.medicine !== coming.medicine) {
    const name = medicineName(act.tx, coming.medicine);
    throw new Refusal('prescription-for-other', `Prescription ${paper.number} is not for ${name}.`, {
      field,
      next: 'Choose the prescription for this medicine.',
    });
  }
  const { number, quantity, validUntil } = paper;
  if (validUntil !== undefined && isPast(validUntil, coming.on)) {
    act.ask(
      'prescription-expired',
      `Prescription ${number} was valid until ${printDay(validUntil as Day)}, and this came on ${printDay(coming.on)}. Did it come on this one all the same?`,
      field,
    );
  }
  if (compareDays(coming.on, paper.written as Day) < 0) {
    act.ask(
      'prescription-later',
      `Prescription ${number} was written on ${printDay(paper.written as Day)}, after this came in on ${printDay(coming.on)}. Did it come on this one all the same?`,
      field,
    );
  }
  if (quantity === undefined) return;
  const before = receipts
    .filter((one) => one.batch !== coming.batch)
    .reduce((sum, one) => sum + one.units, 0);
  const of = amountOf(quantity.kind, before + coming.units);
  const named = unitsOf(quantity);
  if (before + coming.units <= named) return;
  const piece = labelsOf(act.tx, coming.medicine)[0]?.terms.piece;
  act.ask(
    'prescription-over',
    `With this, ${printAmount(of, piece)} came in on prescription ${number}, and it is for ${printAmount(amountOf(quantity.kind, named), piece)}. Is that right?`,
    field,
  );
}
