import type { recordCalls } from '../../../src-shared/calls/record.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { gapKey, keptUntil } from '../../../src-shared/record/gaps.ts';
import { ITEM_IDS, itemOf } from '../../../src-shared/record/items.ts';
import {
  ASSURANCE_ITEMS,
  ASSURANCE_OWN,
  PROFILES,
  type Profile,
  profilesFor,
} from '../../../src-shared/record/profiles.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { dayOf, type Instant, instantOf } from '../../../src-shared/time/zone.ts';
import type { Reader, Store } from '../../store/store.ts';
import { type GapsFound, profilesOf } from '../book/find-gaps.ts';
import { type Answer, type Answers, type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { daysOf } from '../reading/days.ts';
import { type Holding, holdingOf, onlyHolding, recordOf } from '../reading/holding.ts';
import { completeEntry, entryToComplete } from './complete.ts';

const shownProfile = ({ id, name, citation, confirmed, notes, keptYears, withinHours }: Profile) => ({
  id,
  name,
  citation,
  confirmed,
  notes: [...notes],
  keptYears,
  ...optional('withinHours', withinHours),
});

function holdingFor(tx: Reader, asked: string | undefined): Holding {
  const holding = asked === undefined ? onlyHolding(tx) : holdingOf(tx, asked);
  if (holding) return holding;
  throw new Refusal('no-such-holding', 'The book has no holding yet.', {
    next: 'Write down the farm first.',
  });
}

const today = (context: Context, holding: Holding) => dayOf(context.now() as Instant, holding.zone);

const recordRules: Answer<'record-rules'> = (context, asked) => {
  const tx = context.store.read;
  const holding = holdingFor(tx, asked.holding);
  const rules = recordOf<DataOf<'record-rules-set'>>(tx, 'record-rules', holding.holding);
  const [byLaw] = profilesFor(holding.law);
  return {
    holding: holding.holding,
    law: holding.law,
    byLaw: byLaw?.id ?? 'plain',
    ...optional('chosen', rules?.profile),
    ...optional('assurance', rules?.assurance),
    usual: { items: [...ASSURANCE_ITEMS], own: [...ASSURANCE_OWN] },
    profiles: Object.values(PROFILES).map((profile) => ({
      ...shownProfile(profile),
      items: [...profile.items],
    })),
    items: ITEM_IDS.map((item) => ({ item, act: itemOf(item).act, name: itemOf(item).name })),
    keptUntil: keptUntil(today(context, holding), profilesOf(tx, holding)),
  };
};

const setRecordRules: Answer<'set-record-rules'> = (context, asked) =>
  write<'set-record-rules'>(context, asked, (act) => {
    holdingOf(act.tx, asked.holding);
    const { assurance } = asked;
    if (assurance !== undefined && assurance.items.length === 0 && assurance.own.length === 0) {
      throw new Refusal('nothing-asked', 'Your own list asks for nothing.', {
        field: 'items',
        next: 'Tick what it asks for, or take the list away.',
      });
    }
    act.add('record-rules-set', {
      holding: asked.holding,
      ...optional('profile', asked.profile),
      ...optional('assurance', assurance && { items: [...new Set(assurance.items)], own: assurance.own }),
    });
    return { done: true };
  });

type Looked = { key: string; found: GapsFound };
/** What was found last in each open book: Today and Gaps ask for the same again and again. */
const lastLooked = new WeakMap<Store, Looked>();

const bookGaps: Answer<'book-gaps'> = async (context, asked) => {
  const { store } = context;
  const holding = holdingFor(store.read, asked.holding);
  const day = today(context, holding);
  if (asked.from !== undefined && asked.to !== undefined) daysOf({ from: asked.from, to: asked.to });
  const from = asked.from === undefined ? '' : instantOf(asked.from, holding.zone, 'start', 'from');
  const to = asked.to === undefined ? '9999' : instantOf(asked.to, holding.zone, 'end', 'to');
  const key = [store.head().hash, holding.holding, from, to].join(' ');
  let known = lastLooked.get(store);
  if (known?.key !== key) {
    const input = { book: store.path, holding: holding.holding, from, to };
    known = {
      key,
      found: await context.board.run(asked.work, (tools) => context.work('book-gaps', input, tools)),
    };
    lastLooked.set(store, known);
  }
  const { gaps, looked } = known.found;
  const explained = gaps.filter((gap) => gap.explained !== undefined).length;
  const profiles = profilesOf(store.read, holding);
  return {
    profiles: profiles.map(shownProfile),
    gaps: gaps.slice(0, asked.limit),
    open: gaps.length - explained,
    explained,
    looked,
    keptUntil: keptUntil(day, profiles),
  };
};

const explainGap: Answer<'explain-gap'> = (context, asked) =>
  write<'explain-gap'>(context, asked, (act) => {
    const [entry = '', item] = asked.gap.split(' ');
    const [request = '', n = ''] = entry.split('#');
    const known = (['late', ...ITEM_IDS] as const).find((one) => one === item);
    if (
      known === undefined ||
      gapKey(entry, known) !== asked.gap ||
      !context.store.entryNamed(request, Number(n))
    ) {
      throw new Refusal('no-such-gap', 'This gap is not in the book.', {
        field: 'gap',
        next: 'Open the list of gaps again.',
      });
    }
    act.add('gap-explained', { gap: asked.gap, says: asked.says });
    return { done: true };
  });

/** What the book is kept by, what is missing in it, and how that is filled in. */
export const recordAnswers: Answers<keyof typeof recordCalls> = {
  'record-rules': recordRules,
  'set-record-rules': setRecordRules,
  'book-gaps': bookGaps,
  'explain-gap': explainGap,
  'entry-to-complete': entryToComplete,
  'complete-entry': completeEntry,
};
