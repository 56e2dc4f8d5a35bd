import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { type Answer, write } from '../context.ts';
import { optional } from '../optional.ts';
import { happenedBy } from '../reading/flock.ts';
import { onlyHolding, personName } from '../reading/holding.ts';
import { medicineOf, printLocal } from '../reading/labels.ts';
import { sessionOf } from '../treat/session.ts';

type Exposure = DataOf<'exposure'>;

/** Answers `record-exposure`. Refuses (`what-was-it`) when neither a medicine nor its name is said. */
export const recordExposure: Answer<'record-exposure'> = (context, asked) =>
  write<'record-exposure'>(context, asked, (act) => {
    const { who, how, done, batch, amount, where, told } = asked;
    const medicine = asked.medicine === undefined ? undefined : medicineOf(act.tx, asked.medicine);
    const product = medicine?.name ?? asked.product;
    if (product === undefined) {
      throw new Refusal('what-was-it', 'Medicine: say what it was.', {
        field: 'medicine',
        next: 'Choose the medicine, or write what stands on the bottle.',
      });
    }
    if (asked.session !== undefined) sessionOf(act.tx, asked.session);
    const exposure = act.id();
    const said = (text: string | undefined) => (text === '' ? undefined : text);
    act.add(
      'exposure',
      {
        exposure,
        who,
        how,
        product,
        done,
        ...optional('medicine', medicine?.id),
        ...optional('batch', said(batch)),
        ...optional('amount', said(amount)),
        ...optional('where', said(where)),
        ...optional('told', said(told)),
        ...optional('session', asked.session),
      },
      happenedBy(act, onlyHolding(act.tx), 'start', asked.happened),
    );
    return { exposure };
  });

/** Answers `exposures`, newest first. */
export const exposures: Answer<'exposures'> = (context) => {
  const { store } = context;
  const rows = store.read.all<{ seq: number; data: string }>(
    "SELECT seq, data FROM record WHERE what = 'exposure' ORDER BY at DESC, seq DESC",
  );
  return {
    exposures: rows.flatMap(({ seq, data }) => {
      const entry = store.entry(seq);
      if (entry === undefined) return [];
      const { medicine: _medicine, session: _session, ...said } = JSON.parse(data) as Exposure;
      return [
        {
          ...said,
          local: printLocal(entry.happened.local),
          recorded: entry.recorded,
          by: personName(store.read, entry.by),
          entry: { request: entry.request, n: entry.n },
        },
      ];
    }),
  };
};
