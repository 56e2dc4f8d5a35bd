import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { toPlaces } from '../../../src-shared/quantity/fraction.ts';
import { wastageToPlanWith } from '../../../src-shared/stock/wastage.ts';
import { printStockWorking } from '../../../src-shared/stock/working.ts';
import type { Reader } from '../../store/store.ts';
import type { Context } from '../context.ts';
import { sayLeft } from '../medicine/answers.ts';
import { optional } from '../optional.ts';
import { type CountRow, countsOf } from '../reading/counts.ts';
import { medicineOf, medicinesOf, printLocal, termsReader } from '../reading/labels.ts';
import { usedUpOf } from '../reading/wastage.ts';

type Drift = Reply<'drift'>['medicines'][number];

/** Answers `drift`: medicines that were ever counted, or of which anything was used up; or the one asked about. */
export function drift(context: Context, asked: Asked<'drift'>): Reply<'drift'> {
  const tx = context.store.read;
  const rows = asked.medicine === undefined ? medicinesOf(tx) : [medicineOf(tx, asked.medicine)];
  const counts = Map.groupBy(countsOf(tx, asked.medicine), ({ medicine }) => medicine);
  const terms = termsReader(tx);
  const medicines = rows.map((row): Drift => {
    const own = counts.get(row.id) ?? [];
    const piece = terms(row.revision)?.piece;
    const word = (one: CountRow) => terms(one.revision)?.piece ?? piece;
    return {
      medicine: row.id,
      name: row.name,
      sum: sumOf(own, word),
      counts: own.map((one) => ({
        container: one.container,
        label: one.label,
        local: printLocal(one.local),
        book: sayLeft(one.kind, one.book, word(one)),
        found: printAmount(amountOf(one.kind, one.book + one.units), word(one)),
        difference: signed(one.kind, one.units, word(one)),
        why: one.note ?? '',
      })),
      wastage: wastageOf(tx, row.id),
    };
  });
  return {
    medicines: medicines.filter(
      ({ counts: own, wastage }) => asked.medicine !== undefined || own.length > 0 || wastage.containers > 0,
    ),
  };
}

function signed(kind: CountRow['kind'], units: number, piece: string | undefined): string {
  const size = printAmount(amountOf(kind, Math.abs(units)), piece);
  return units === 0 ? size : `${units < 0 ? '−' : '+'}${size}`;
}

/** Each kind by itself: a label may change from mL to pieces. */
function sumOf(own: readonly CountRow[], word: (one: CountRow) => string | undefined): string {
  return [...Map.groupBy(own, ({ kind }) => kind)]
    .map(([kind, all]) => {
      const units = all.reduce((sum, one) => sum + one.units, 0);
      return signed(kind, units, all[0] && word(all[0]));
    })
    .join(' and ');
}

function wastageOf(tx: Reader, medicine: string): Drift['wastage'] {
  const { usedUp, unclear } = usedUpOf(tx, medicine);
  const kinds = new Set(usedUp.map(({ opened }) => opened.kind));
  if (kinds.size > 1) {
    return {
      from: 'unclear',
      containers: usedUp.length,
      says: 'Containers of it are measured in different units, so no share of them is worked out.',
      working: [],
    };
  }
  const planned = wastageToPlanWith(usedUp);
  const rate = toPlaces(planned.ratePercent, 1);
  const factor = planned.factor === undefined ? undefined : toPlaces(planned.factor, 2);
  const many = `${planned.containers} used-up ${planned.containers === 1 ? 'container' : 'containers'}`;
  const left =
    unclear === 0 ? '' : ` Of ${unclear} more the book has more going out than came in: count them.`;
  const says =
    planned.from === 'own'
      ? `${rate} % of ${many} reached no animal${factor === undefined || factor === '1' ? '' : `: order ${factor} times what is needed`}.${left}`
      : `Not enough is used up yet (${planned.containers === 0 ? 'no container' : many}) to know its own losses; planning starts from ${rate} %.${left}`;
  return {
    from: planned.from,
    containers: planned.containers,
    ratePercent: rate,
    ...optional('factor', factor),
    says,
    working: printStockWorking(planned.working),
  };
}
