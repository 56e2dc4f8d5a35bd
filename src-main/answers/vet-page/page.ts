import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { toDecimal } from '../../../src-shared/quantity/fraction.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { OUTCOME_WORDS } from '../../../src-shared/safety/words.ts';
import { addDays, type Day, parseDay, printDay } from '../../../src-shared/time/day.ts';
import { dayOf, instantOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Context } from '../context.ts';
import { optional } from '../optional.ts';
import { holdingOf, onlyHolding, personName } from '../reading/holding.ts';
import { instructionsOf } from '../reading/instructions.ts';
import { type ReactionRow, reactionsOf } from '../safety/reactions.ts';
import { antimicrobialsOf, gramsText } from '../use/given.ts';
import { rulesOfUse } from '../use/heads.ts';
import { groupName } from '../use/use.ts';
import { vaccineAnswers } from '../vaccine/answers.ts';
import { givenSince } from './given.ts';
import { visitsOf } from './visits.ts';

type Page = Reply<'vet-page'>;

/** Without a visit on record the page looks back so far. */
const LOOK_BACK = 365;

/** Answers `vet-page`. Refuses (`bad-day`, `dates-crossed`, `no-such-holding`). */
export async function vetPage(context: Context, asked: Asked<'vet-page'>): Promise<Page> {
  const tx = context.store.read;
  const holding = asked.holding === undefined ? onlyHolding(tx) : holdingOf(tx, asked.holding);
  const zone = holding?.zone ?? 'UTC';
  const today = dayOf(parseInstant(context.now(), 'clock'), zone);
  const to = asked.to === undefined ? today : parseDay(asked.to, 'to');
  const { since, because } = sinceWhen(context, asked.since, to);
  const { repeatDays } = rulesOfUse(tx);
  const between = { from: instantOf(since, zone, 'start'), to: instantOf(to, zone, 'end') };
  const used = antimicrobialsOf(tx, { holding: asked.holding, ...between }, false).get('');
  const seen = reactionsBetween(context, between);
  const due = await vaccineAnswers['vaccines-due'](context, {});
  return {
    since,
    to,
    because,
    repeatDays,
    ...givenSince(tx, { holding: asked.holding, since, to, repeatDays }),
    noEffect: seen.filter(({ what }) => what === 'no-effect').map(seenRow),
    reactions: seen.filter(({ what }) => what !== 'no-effect').map(seenRow),
    antimicrobials: [...(used?.mg ?? [])]
      .map(([group, mg]) => ({ group, name: groupName(group), text: gramsText(mg), mg: toDecimal(mg) }))
      .toSorted((a, b) => Number(b.mg) - Number(a.mg)),
    missing: used?.missing ?? [],
    vaccines: due.due
      .filter(({ kind }) => kind === 'late' || kind === 'lapsed')
      .map(({ key, text }) => ({ key, text })),
    notInWriting: notInWriting(context, zone),
  };
}

/** Where the page begins: on the day asked for, on that of the last visit before its end, or a year back. */
function sinceWhen(context: Context, asked: string | undefined, to: Day): { since: Day; because: string } {
  if (asked !== undefined) {
    const since = parseDay(asked, 'since');
    if (since <= to) return { since, because: `since ${printDay(since)}, the day that was chosen` };
    throw new Refusal('dates-crossed', 'Since: this day is after the last one.', {
      field: 'since',
      next: 'Turn the two dates round.',
    });
  }
  const visit = visitsOf(context).find(({ day }) => day < to);
  if (visit === undefined) {
    return {
      since: addDays(to, -LOOK_BACK),
      because: 'a year back: no earlier visit of the vet is in the book',
    };
  }
  const since = parseDay(visit.day, 'since');
  return { since, because: `since the visit of ${visit.vetName} on ${printDay(since)}` };
}

function reactionsBetween(context: Context, { from, to }: { from: string; to: string }): ReactionRow[] {
  const ids = new Set(
    context.store.read
      .all<{ id: string }>("SELECT id FROM record WHERE what = 'reaction' AND at >= ? AND at < ?", from, to)
      .map(({ id }) => id),
  );
  // Whose treatment was struck out has nothing to tell the vet any more.
  return reactionsOf(context, {}).filter(({ reaction, stands }) => stands && ids.has(reaction));
}

function seenRow({
  reaction,
  shown,
  product,
  local,
  seen,
  heads,
  outcome,
}: ReactionRow): Page['noEffect'][number] {
  return {
    reaction,
    shown,
    product,
    local,
    seen,
    outcome: OUTCOME_WORDS[outcome],
    ...optional('heads', heads),
  };
}

/** What the vet only said, whenever it was: it stays open until there is a paper. */
function notInWriting({ store }: Context, zone: string): Page['notInWriting'] {
  return instructionsOf(store.read)
    .filter(({ inWriting }) => !inWriting)
    .map(({ at, data: { instruction, what, vet } }) => ({
      instruction,
      what,
      vetName: personName(store.read, vet),
      day: dayOf(parseInstant(at, 'at'), zone),
    }));
}
