import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { drawerCalls } from '../../../src-shared/calls/drawer.ts';
import { CONSUMABLES } from '../../../src-shared/entries/consumable-set.ts';
import { sayLeft } from '../../../src-shared/needle/drawer.ts';
import { HUB_COLOURS } from '../../../src-shared/needle/hubs.ts';
import { eighths, printNeedle, readLength } from '../../../src-shared/needle/needle.ts';
import { readGauge } from '../../../src-shared/needle/tubing.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { printDay } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';
import { type Answers, type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { type Consumable, drawerOf, type InDrawer } from '../reading/drawer.ts';
import { dayIn } from '../reading/equipment.ts';
import { happenedBy } from '../reading/flock.ts';
import { onlyHolding, recordOf } from '../reading/holding.ts';
import { houseRules, setHouseRules } from './house.ts';

type Row = Reply<'consumables'>['consumables'][number];

function rowOf(tx: Reader, { one, left, counted }: InDrawer): Row {
  const { consumable, what, name, size, least, active } = one;
  return {
    consumable,
    what,
    name,
    active,
    leftText: sayLeft(left),
    isShort: active && least !== undefined && left !== undefined && left < least,
    ...optional('size', size),
    ...optional('hub', size && HUB_COLOURS[size.gauge].word),
    ...optional('least', least),
    ...optional('left', left),
    ...optional('counted', counted === undefined ? undefined : printDay(dayIn(tx, counted))),
  };
}

/** By kind, then the widest and longest needle first, then by name. */
function inOrder(a: InDrawer, b: InDrawer): number {
  const [x, y] = [a.one, b.one];
  const kind = CONSUMABLES.indexOf(x.what) - CONSUMABLES.indexOf(y.what);
  if (kind !== 0) return kind;
  if (x.size !== undefined && y.size !== undefined) {
    return Number(x.size.gauge) - Number(y.size.gauge) || eighths(y.size.lengthIn) - eighths(x.size.lengthIn);
  }
  return x.name.localeCompare(y.name, 'en', { numeric: true });
}

/** Something of the drawer. Refuses (`no-such-consumable`). */
function consumableOf(tx: Reader, id: string): Consumable {
  const found = recordOf<Consumable>(tx, 'consumable', id);
  if (found) return found;
  throw new Refusal('no-such-consumable', 'This is not in the drawer.', {
    field: 'consumable',
    next: 'Add it first.',
  });
}

function sizeOf({ what, gauge, lengthIn }: Asked<'set-consumable'>): Consumable['size'] {
  if (what !== 'needle') return undefined;
  if (gauge === undefined) {
    throw new Refusal('gauge-missing', 'Gauge is missing.', {
      field: 'gauge',
      next: 'Read it on the packet, as in 18.',
    });
  }
  if (lengthIn === undefined) {
    throw new Refusal('length-missing', 'Length is missing.', {
      field: 'lengthIn',
      next: 'Read it on the packet, as in 1/2.',
    });
  }
  return { gauge: readGauge(gauge, 'gauge'), lengthIn: readLength(lengthIn, 'lengthIn') };
}

function setConsumable(context: Context, asked: Asked<'set-consumable'>): Reply<'set-consumable'> {
  return write<'set-consumable'>(context, asked, (act) => {
    const before = asked.consumable === undefined ? undefined : consumableOf(act.tx, asked.consumable);
    if (before && before.what !== asked.what) {
      throw new Refusal('other-consumable', 'One thing cannot become another.', {
        field: 'what',
        next: 'Say that this one is kept no more, and add the other.',
      });
    }
    const size = sizeOf(asked);
    const name = size ? printNeedle(size) : asked.name;
    if (name === undefined) {
      throw new Refusal('name-missing', 'Its size or name is missing.', {
        field: 'name',
        next: 'Write what tells it from others, as in 10 mL or blue.',
      });
    }
    const consumable = before?.consumable ?? act.id();
    const same = drawerOf(act.tx).find(
      ({ one }) =>
        one.consumable !== consumable &&
        one.active &&
        one.what === asked.what &&
        searchKey(one.name) === searchKey(name),
    );
    if (same) {
      throw new Refusal('name-taken', `${same.one.name} is in the drawer already.`, {
        field: size ? 'gauge' : 'name',
        next: 'Count that one.',
      });
    }
    const { what, active, least, count } = asked;
    act.add('consumable-set', {
      consumable,
      what,
      name,
      active,
      ...optional('size', size),
      ...optional('least', least),
    });
    if (count !== undefined) {
      act.add('consumable-moved', { move: act.id(), consumable, cause: 'counted', pieces: count });
    }
    return { consumable };
  });
}

function moveConsumable(context: Context, asked: Asked<'move-consumable'>): Reply<'move-consumable'> {
  const { consumable, cause, pieces, why } = asked;
  return write<'move-consumable'>(context, asked, (act) => {
    consumableOf(act.tx, consumable);
    act.add(
      'consumable-moved',
      { move: act.id(), consumable, cause, pieces, ...optional('why', why) },
      happenedBy(act, onlyHolding(act.tx), 'start', asked.happened),
    );
    // Filled in when the move is folded, so that the reply says what is there then.
    const reply: Reply<'move-consumable'> = { leftText: '' };
    act.keep(() => {
      const left = drawerOf(act.tx).find(({ one }) => one.consumable === consumable)?.left;
      reply.leftText = sayLeft(left);
      if (left !== undefined) reply.left = left;
    });
    return reply;
  });
}

/** The drawer, and the farm's own rules for needles. */
export const drawerAnswers: Answers<keyof typeof drawerCalls> = {
  consumables({ store }) {
    const tx = store.read;
    return {
      consumables: drawerOf(tx)
        .toSorted(inOrder)
        .map((one) => rowOf(tx, one)),
    };
  },
  'set-consumable': setConsumable,
  'move-consumable': moveConsumable,
  'house-rules': houseRules,
  'set-house-rules': setHouseRules,
};
