import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { checkGun as gunFound } from '../../../src-shared/dose/gun.ts';
import { printWorking } from '../../../src-shared/dose/working.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import { baseOf, parseAmount, printAmount } from '../../../src-shared/quantity/amount.ts';
import { toDecimal } from '../../../src-shared/quantity/fraction.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { equipmentOf } from '../reading/equipment.ts';
import { happenedBy } from '../reading/flock.ts';
import { onlyHolding } from '../reading/holding.ts';
import { medicineName, medicineOf } from '../reading/labels.ts';

/**
 * Answers `check-gun`: shots into a measure, their mean and spread, the verdict and what to set it to, as they were
 * decided then. A mean of half or twice the setting is asked about. Refuses what `checkGun` of the doses refuses, and
 * `not-a-gun`.
 */
export function checkGun(context: Context, asked: Asked<'check-gun'>): Reply<'check-gun'> {
  return write<'check-gun'>(context, asked, (act) => {
    const one = equipmentOf(act.tx, asked.equipment);
    if (one.what !== 'gun') {
      throw new Refusal('not-a-gun', `${one.name} is no dosing gun.`, {
        field: 'equipment',
        next: 'Choose a dosing gun.',
      });
    }
    if (asked.medicine !== undefined) medicineOf(act.tx, asked.medicine);
    const setTo = parseAmount(asked.setTo, 'setTo');
    const wanted = asked.wanted === undefined ? undefined : parseAmount(asked.wanted, 'wanted');
    const total = asked.total === undefined ? undefined : parseAmount(asked.total, 'total');
    const each = asked.each?.map((text, i) => parseAmount(text, `each.${i}`));
    const graduation = one.graduation === undefined ? undefined : parseAmount(one.graduation, 'graduation');
    const found = gunFound({ setTo, wanted, shots: asked.shots, total, each, graduation });
    for (const warning of found.warnings) act.ask(warning.code, warning.text, 'setTo');
    const check = act.id();
    act.add(
      'equipment-checked',
      {
        check,
        equipment: one.equipment,
        found: {
          what: 'gun',
          setTo: amountData(setTo.kind, baseOf(setTo)),
          ...optional('wanted', wanted && amountData(wanted.kind, baseOf(wanted))),
          shots: found.shots,
          ...optional('total', total && amountData(total.kind, baseOf(total))),
          ...optional(
            'each',
            each?.map((shot) => amountData(shot.kind, baseOf(shot))),
          ),
          ...optional('medicine', asked.medicine),
          ...optional('product', asked.medicine && medicineName(act.tx, asked.medicine)),
          mean: toDecimal(found.mean),
          offPercent: toDecimal(found.offPercent),
          ...optional('spreadPercent', found.spreadPercent && toDecimal(found.spreadPercent)),
          ...optional('newSetting', found.newSetting && printAmount(found.newSetting)),
        },
        verdict: found.verdict,
        says: found.says,
        working: found.working,
      },
      happenedBy(act, onlyHolding(act.tx), 'start', asked.happened),
    );
    return { check, verdict: found.verdict, says: found.says, working: printWorking(found.working) };
  });
}
