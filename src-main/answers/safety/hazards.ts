import type { Reply } from '../../../src-shared/calls/all.ts';
import { isInjectedRoute } from '../../../src-shared/label/cautions.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import { businessOf, type Person, recordsOf } from '../reading/holding.ts';
import { labelsOf, medicinesOf } from '../reading/labels.ts';
import { stockRows } from '../reading/stock.ts';
import { sessionOf } from '../treat/session.ts';

type Emergency = Reply<'emergency'>;
type Hazard = Emergency['medicines'][number];

/** Medicines of a session, or of every open one. */
function inWork(tx: Reader, session: string | undefined): Set<string> {
  const ids =
    session === undefined
      ? tx.all<{ id: string }>("SELECT id FROM session WHERE state = 'open'").map(({ id }) => id)
      : [session];
  return new Set(ids.flatMap((id) => sessionOf(tx, id).plan.lines.map(({ medicine }) => medicine)));
}

function hazardOf(tx: Reader, id: string, isInWork: boolean): Hazard | undefined {
  const labels = labelsOf(tx, id);
  // The newest that was read twice; a draft is better than nothing when somebody is hurt.
  const terms = (labels.find(({ state }) => state === 'confirmed') ?? labels[0])?.terms;
  if (terms === undefined) return undefined;
  const { people, pregnantWomen, other } = terms.hazards;
  const stock = stockRows(tx, id).filter(({ left_units }) => left_units > 0);
  const open = stock.filter(({ state }) => state === 'open');
  return {
    medicine: id,
    name: terms.name,
    inside: insideOf(terms),
    isInjected: terms.doseLines.some(({ route }) => isInjectedRoute(route)),
    isOily: terms.flowClass === 'oily',
    isVaccine: terms.purpose === 'vaccine',
    ...optional('people', people),
    ...optional('pregnantWomen', pregnantWomen),
    ...optional('other', other),
    // Of what is open, or, before the first is, of what may be opened.
    batches: [
      ...new Set(
        (open.length > 0 ? open : stock).map(({ number }) => number).filter((number) => number !== ''),
      ),
    ],
    isInWork,
  };
}

function insideOf({ actives }: LabelTerms): string {
  return actives.map(({ substance, strength }) => `${substance} ${strength ?? ''}`.trim()).join(', ');
}

/** Oil first, then vaccines, then what else goes in through a needle; before all that what is in work. */
function urgency(one: Hazard): number {
  const kind = one.isOily ? 0 : one.isVaccine && one.isInjected ? 1 : one.isInjected ? 2 : 3;
  return kind + (one.isInWork ? 0 : 10);
}

/**
 * What an emergency needs: numbers, vets, and each medicine with what its label says of people. Refuses
 * (`no-such-session`).
 */
export function emergencyOf(tx: Reader, session: string | undefined): Emergency {
  const work = inWork(tx, session);
  const medicines = medicinesOf(tx)
    .flatMap(({ id }) => hazardOf(tx, id, work.has(id)) ?? [])
    .toSorted((a, b) => urgency(a) - urgency(b));
  const worked = medicines.filter(({ isInWork }) => isInWork);
  return {
    numbers: businessOf(tx)?.emergency ?? {},
    vets: recordsOf<Person>(tx, 'person')
      .filter(({ active, roles }) => active && roles.includes('vet'))
      .map(({ name, phone }) => ({ name, ...optional('phone', phone) })),
    medicines,
    isInjected: worked.length === 0 || worked.some(({ isInjected }) => isInjected),
  };
}
