import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { equipmentCalls } from '../../../src-shared/calls/equipment.ts';
import { printWorking } from '../../../src-shared/dose/working.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { checkWeigher as weighedAgainst } from '../../../src-shared/flock/weigher.ts';
import { amountOf, baseOf, parseAmount, printAmount } from '../../../src-shared/quantity/amount.ts';
import { parseWeight, printWeight } from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { sayAgo } from '../../../src-shared/time/ago.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import { localOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Reader, Store } from '../../store/store.ts';
import { type Answers, type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import {
  allEquipment,
  type CheckRow,
  checksOf,
  dayIn,
  type Equipment,
  type EquipmentCheck,
  equipmentOf,
  standingOf,
} from '../reading/equipment.ts';
import { happenedBy } from '../reading/flock.ts';
import { onlyHolding, personName } from '../reading/holding.ts';
import { printLocal } from '../reading/labels.ts';
import { checkGun } from './check-gun.ts';

type Row = Reply<'equipment'>['equipment'][number];

function foundText({ found }: EquipmentCheck): string {
  if (found.what === 'weigher') return `${printWeight(found.known)} showed as ${printWeight(found.showed)}`;
  const said = (amount: typeof found.setTo) => printAmount(amountOf(amount.kind, unitsOf(amount)));
  const gave = found.total ? `gave ${said(found.total)} in all` : `gave ${found.mean} mL on average`;
  const what = found.product === undefined ? '' : ` of ${found.product}`;
  return `${found.shots} ${found.shots === 1 ? 'shot' : 'shots'}${what} at ${said(found.setTo)} ${gave}`;
}

function shownCheck(store: Store, tx: Reader, row: CheckRow, today: Day): NonNullable<Row['last']> {
  const zone = onlyHolding(tx)?.zone ?? 'UTC';
  return {
    check: row.data.check,
    local: printLocal(localOf(parseInstant(row.at, 'at'), zone)),
    ago: sayAgo(dayIn(tx, row.at), today),
    verdict: row.data.verdict,
    says: row.data.says,
    found: foundText(row.data),
    by: personName(tx, store.entry(row.seq)?.by ?? ''),
  };
}

function shown(store: Store, tx: Reader, one: Equipment, today: Day): Row {
  const { last, shots, due } = standingOf(tx, one, today);
  return {
    equipment: one.equipment,
    what: one.what,
    name: one.name,
    active: one.active,
    shotsSince: shots,
    ...optional('capacity', one.capacity),
    ...optional('graduation', one.graduation),
    ...optional('drawsBack', one.drawsBack),
    ...optional('priming', one.priming),
    ...optional('last', last && shownCheck(store, tx, last, today)),
    ...optional('due', one.active ? due : undefined),
  };
}

const todayOf = (context: Context): Day => dayIn(context.store.read, context.now());

/** What it holds and how far apart its marks are, as amounts printed the one way. A weigher has neither. */
function measures(asked: Asked<'set-equipment'>): { capacity?: string; graduation?: string } {
  if (asked.what === 'weigher') return {};
  const read = (name: 'capacity' | 'graduation', says: string) => {
    const text = asked[name];
    if (text === undefined) {
      throw new Refusal('measure-missing', `${says} is missing.`, {
        field: name,
        next: 'Write it in mL, as it stands on the barrel.',
      });
    }
    const amount = parseAmount(text, name);
    if (amount.kind === 'volume' && baseOf(amount) > 0) return amount;
    throw new Refusal('bad-syringe', `${says}: write it in mL, above zero.`, { field: name });
  };
  const capacity = read('capacity', 'What it holds');
  const graduation = read('graduation', 'The step between two marks');
  if (baseOf(graduation) > baseOf(capacity)) {
    throw new Refusal('bad-syringe', 'The step between two marks cannot be wider than the syringe holds.', {
      field: 'graduation',
      next: 'Check both.',
    });
  }
  return { capacity: printAmount(capacity), graduation: printAmount(graduation) };
}

/** What one priming of a gun takes. Refuses (`bad-priming`) anything but mL above zero, at most a litre. */
function primingOf(asked: Asked<'set-equipment'>): string | undefined {
  if (asked.what !== 'gun' || asked.priming === undefined) return undefined;
  const amount = parseAmount(asked.priming, 'priming');
  if (amount.kind === 'volume' && baseOf(amount) > 0 && baseOf(amount) <= MOST_PRIMING)
    return printAmount(amount);
  throw new Refusal('bad-priming', 'Priming: write it in mL, above zero and not over a litre.', {
    field: 'priming',
    next: 'Shoot the gun into a measure until it gives a full dose, and read what that took.',
  });
}
/** One litre: a longer hose than any gun on a farm has. */
const MOST_PRIMING = 1_000_000;

function setEquipment(context: Context, asked: Asked<'set-equipment'>): Reply<'set-equipment'> {
  return write<'set-equipment'>(context, asked, (act) => {
    const before = asked.equipment === undefined ? undefined : equipmentOf(act.tx, asked.equipment);
    if (before && before.what !== asked.what) {
      throw new Refusal('other-equipment', 'One thing cannot become another.', {
        field: 'what',
        next: 'Say that this one is used no more, and add the other.',
      });
    }
    const equipment = before?.equipment ?? act.id();
    const same = allEquipment(act.tx).find(
      (one) => one.equipment !== equipment && one.active && searchKey(one.name) === searchKey(asked.name),
    );
    if (same) {
      throw new Refusal('name-taken', `There is already a ${same.name}.`, {
        field: 'name',
        next: 'Give each a name of its own, so that the right one is checked.',
      });
    }
    const { what, name, active } = asked;
    const drawsBack = what === 'gun' ? (asked.drawsBack ?? before?.drawsBack) : undefined;
    act.add('equipment-set', {
      equipment,
      what,
      name,
      active,
      ...measures(asked),
      ...optional('drawsBack', drawsBack),
      ...optional('priming', primingOf(asked)),
    });
    return { equipment };
  });
}

function checkWeigher(context: Context, asked: Asked<'check-weigher'>): Reply<'check-weigher'> {
  return write<'check-weigher'>(context, asked, (act) => {
    const one = equipmentOf(act.tx, asked.equipment);
    if (one.what !== 'weigher') {
      throw new Refusal('not-a-weigher', `${one.name} is no weigher.`, {
        field: 'equipment',
        next: 'Choose a weigher.',
      });
    }
    const holding = onlyHolding(act.tx);
    const known = parseWeight(asked.known, 'known', { unit: holding?.weightUnit });
    const showed = parseWeight(asked.showed, 'showed', { unit: holding?.weightUnit });
    const { says, verdict, difference, offPercent } = weighedAgainst(known, showed);
    const check = act.id();
    act.add(
      'equipment-checked',
      {
        check,
        equipment: one.equipment,
        found: { what: 'weigher', known: { ...known }, showed: { ...showed }, difference, offPercent },
        verdict,
        says,
        working: [],
      },
      happenedBy(act, holding, 'start', asked.happened),
    );
    return { check, verdict, says };
  });
}

/** The farm's syringes, guns and weighers, and the checks of them. */
export const equipmentAnswers: Answers<keyof typeof equipmentCalls> = {
  equipment(context) {
    const { store } = context;
    const today = todayOf(context);
    return { equipment: allEquipment(store.read).map((one) => shown(store, store.read, one, today)) };
  },
  'equipment-checks'(context, asked) {
    const { store } = context;
    const tx = store.read;
    const today = todayOf(context);
    return {
      equipment: shown(store, tx, equipmentOf(tx, asked.equipment), today),
      checks: checksOf(tx, asked.equipment).map((row) => ({
        ...shownCheck(store, tx, row, today),
        working: printWorking(row.data.working),
      })),
    };
  },
  'set-equipment': setEquipment,
  'check-gun': checkGun,
  'check-weigher': checkWeigher,
};
