import type { DataOf } from '../../../src-shared/entries/all.ts';
import { printWeight } from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import {
  emergencyTitle,
  FIRST_STEPS_SOURCE,
  firstSteps,
  TAKE_ALONG,
} from '../../../src-shared/safety/first-steps.ts';
import { OUTCOME_WORDS, REACTION_WORDS } from '../../../src-shared/safety/words.ts';
import type { EmergencySheet } from '../../paper/emergency-sheet.ts';
import type { ReactionReport } from '../../paper/reaction-report.ts';
import type { Answer, Context } from '../context.ts';
import { pieceWords, revisionIn } from '../declare/lines.ts';
import { optional } from '../optional.ts';
import { holdingOf, type Person, personName, recordsOf } from '../reading/holding.ts';
import { printLocal } from '../reading/labels.ts';
import { farmHolding, farmPaperHead } from '../reading/paper-head.ts';
import { quantityText } from '../treat/core.ts';
import { sessionOf } from '../treat/session.ts';
import { emergencyOf } from './hazards.ts';
import { reactionsOf, treatmentOf } from './reactions.ts';

/** More on one sheet and nobody finds the one that matters. */
const MOST_ON_SHEET = 10;

/**
 * Answers `emergency-paper`: of a session, of named medicines, or of what is in work. Refuses (`nothing-in-work`) when
 * none of them is there, and (`too-many-medicines`) more than a sheet can hold.
 */
export const emergencyPaper: Answer<'emergency-paper'> = async (context, asked) => {
  const tx = context.store.read;
  const session = asked.session === undefined ? undefined : sessionOf(tx, asked.session);
  const holding = session ? holdingOf(tx, session.plan.holding) : farmHolding(context);
  const { numbers, vets, medicines } = emergencyOf(tx, asked.session);
  const named = asked.medicines;
  const chosen = medicines.filter(({ medicine, isInWork }) =>
    named === undefined ? isInWork : named.includes(medicine),
  );
  if (chosen.length === 0) {
    throw new Refusal('nothing-in-work', 'Choose the medicines of the sheet: no session is open.', {
      field: 'medicines',
      next: 'Tick what is used today, or open the session first.',
    });
  }
  if (chosen.length > MOST_ON_SHEET) {
    throw new Refusal('too-many-medicines', `One sheet holds at most ${MOST_ON_SHEET} medicines.`, {
      field: 'medicines',
      next: 'Tick those that are used today.',
    });
  }
  const isInjected = chosen.some((one) => one.isInjected);
  const data: EmergencySheet = {
    head: farmPaperHead(context, holding, asked.paper),
    title: emergencyTitle(isInjected),
    work: session?.name ?? '',
    isInjected,
    numbers: [
      { what: 'Emergency call', number: numbers.call ?? '' },
      { what: 'Doctor', number: numbers.doctor ?? '' },
      { what: 'Hospital', number: numbers.hospital ?? '' },
      { what: 'Poison line', number: numbers.poison ?? '' },
      ...vets.slice(0, 2).map(({ name, phone }) => ({ what: `Vet, ${name}`, number: phone ?? '' })),
    ],
    place: numbers.place ?? holding.address,
    steps: firstSteps(isInjected).map((step) => ({ ...step })),
    source: FIRST_STEPS_SOURCE,
    takeAlong: TAKE_ALONG,
    medicines: chosen.map(({ name, inside, isOily, isVaccine, people, pregnantWomen, batches }) => ({
      name,
      inside,
      mark: [...(isOily ? ['Contains oil'] : []), ...(isVaccine ? ['Vaccine'] : [])].join(', '),
      batches: batches.join(', '),
      people: people ?? '',
      pregnantWomen: pregnantWomen ?? '',
    })),
  };
  const bytes = await context.render({ paper: 'emergency-sheet', data });
  return { paper: context.store.kept.attachments.put(bytes), checkCode: data.head.checkCode };
};

/** Answers `reaction-paper`. Refuses (`no-such-reaction`). */
export const reactionPaper: Answer<'reaction-paper'> = async (context, asked) => {
  const tx = context.store.read;
  const found = reactionsOf(context, {}).find(({ reaction }) => reaction === asked.reaction);
  if (found === undefined) {
    throw new Refusal('no-such-reaction', 'This report is not in the book, or was struck out.', {
      field: 'reaction',
      next: 'Open it again from the treatment.',
    });
  }
  const { data: given, local } = treatmentOf(tx, found.administration);
  const holding = holdingOf(tx, given.holding);
  const expiry = expiryOf(context, given);
  const data: ReactionReport = {
    head: farmPaperHead(context, holding, asked.paper),
    title: REACTION_WORDS[found.what],
    vets: recordsOf<Person>(tx, 'person')
      .filter(({ active, roles }) => active && roles.includes('vet'))
      .map(({ name }) => name)
      .join(', '),
    animal: [
      ['Animal or lot', found.shown],
      ['Class', given.class.replace('-', ' ')],
      ['Head treated', String(given.heads)],
      ...(found.heads === undefined ? [] : [['Head concerned', String(found.heads)]]),
      ...(given.weight === undefined ? [] : [['Weight', printWeight(given.weight)]]),
    ].map(([what = '', says = '']) => ({ what, says })),
    treatment: [
      ['Medicine', given.product],
      ['Batch', found.batch === '' ? 'not known' : found.batch],
      ...(expiry === '' ? [] : [['Expiry', expiry]]),
      ['Given', `${printLocal(local)}, ${quantityText(given, pieceWords(tx)(revisionIn(given)))} in all`],
      ['How', howText(given)],
      ['For', given.reason],
      ['Given by', personName(tx, given.givenBy)],
      ...(given.deviations.length === 0
        ? []
        : [['Not as the label says', given.deviations.map(({ text }) => text).join('. ')]]),
    ].map(([what = '', says = '']) => ({ what, says })),
    seen: found.seen,
    when: found.local,
    outcome: OUTCOME_WORDS[found.outcome],
    by: found.by,
    ...optional('done', found.done),
    ...optional('told', found.told),
  };
  const bytes = await context.render({ paper: 'reaction-report', data });
  return { paper: context.store.kept.attachments.put(bytes), checkCode: data.head.checkCode };
};

type Given = DataOf<'administered'>;

function howText({ route, site, side, needle }: Given): string {
  const place = [side, site].filter((part) => part !== undefined).join(' ');
  return [
    route.replaceAll('-', ' '),
    ...(place === '' ? [] : [place]),
    ...(needle === undefined ? [] : [`needle ${needle}`]),
  ].join(', ');
}

/** Expiry of the first bottle, as its batch has it. */
function expiryOf({ store }: Context, given: Given): string {
  if (given.source.kind !== 'ours') return given.source.expiry ?? '';
  const row = store.read.get<{ printed: string | null }>(
    "SELECT batch.data ->> '$.expiry.printed' AS printed FROM container JOIN batch ON batch.id = container.batch WHERE container.id = ?",
    given.source.draws[0]?.container ?? '',
  );
  return row?.printed ?? '';
}
