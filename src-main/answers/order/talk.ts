import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { type Day, printDay } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import { printLocal } from '../reading/labels.ts';

export type Prescription = DataOf<'prescription-received'>;

/** What to have at hand when it is talked about: what is foreseen, what it was last given for, the last prescription. */
export function talkOf(
  tx: Reader,
  medicine: string,
  foreseen: string,
  prescriptions: readonly Prescription[],
): Reply<'outlook'>['talk'] {
  const given = tx.get<{ local: string; reason: string }>(
    `SELECT local, data ->> '$.reason' AS reason FROM administration
     WHERE id = (SELECT id FROM administration WHERE medicine = ? ORDER BY at DESC, seq DESC LIMIT 1)`,
    medicine,
  );
  const last = prescriptions
    .filter((one) => one.medicine === medicine)
    .toSorted((a, b) => (a.written < b.written ? 1 : a.written > b.written ? -1 : 0))[0];
  return {
    foreseen,
    ...optional('given', given && { on: printLocal(given.local), reason: given.reason }),
    ...optional(
      'prescription',
      last && {
        prescription: last.prescription,
        number: last.number,
        written: printDay(last.written as Day),
        ...optional(
          'validUntil',
          last.validUntil === undefined ? undefined : printDay(last.validUntil as Day),
        ),
        ...optional('diagnosis', last.diagnosis),
      },
    ),
  };
}
