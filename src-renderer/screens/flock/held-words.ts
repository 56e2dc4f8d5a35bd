import type { Reply } from '../../../src-shared/calls/all.ts';

export type HeldPage = Reply<'why-held'>;
export type HeldWho = HeldPage['subjects'][number];
export type Why = HeldWho['rows'][number];

/** Meat concerns every animal, milk only those that give it, and what sleeps nobody as yet: in that order. */
const rank = ({ hold }: Why): number => (hold.state === 'dormant' ? 2 : hold.produce === 'meat' ? 0 : 1);

/** What holds it now, or would if it came into milk. A farm that takes no milk is not told of milk. */
export function runningOf(who: Pick<HeldWho, 'rows'>, milks: boolean): Why[] {
  return who.rows
    .filter((row) => row.isRunning && (milks || row.hold.produce !== 'milk'))
    .toSorted((a, b) => rank(a) - rank(b));
}

/** Whether nothing of this holds it now: its milk is asleep and would count if it came into milk. */
export function isAsleep(running: readonly Why[]): boolean {
  return running.every(({ hold }) => hold.state === 'dormant');
}

/**
 * Those who are held by the same treatments on the same days, together, so that a whole pen reads as one sentence: who
 * is held for meat first, who would only be held in milk last.
 */
export function heldAlike(
  held: readonly HeldWho[],
  milks: boolean,
): readonly (readonly [HeldWho, ...HeldWho[]])[] {
  const alike = new Map<string, { first: number; who: [HeldWho, ...HeldWho[]] }>();
  for (const who of held) {
    const running = runningOf(who, milks);
    const [first] = running;
    if (first === undefined) continue;
    const key = running.map(({ hold, reason }) => `${hold.text} ${reason}`).join('\n');
    const others = alike.get(key);
    if (others === undefined) alike.set(key, { first: rank(first), who: [who] });
    else others.who.push(who);
  }
  return [...alike.values()].toSorted((a, b) => a.first - b.first).map(({ who }) => who);
}

/** What holds it and why, each said once: of what was no treatment the hold names the cause and the reason as well. */
export function sayHeld({ hold, reason }: Pick<Why, 'hold' | 'reason'>): { text: string; reason: string } {
  return { text: hold.product === undefined ? hold.text.replace(/ \([^()]*\)$/, '') : hold.text, reason };
}

/** Each sentence once, in the order in which they came: two doses of one medicine say the same of milk. */
export function alsoHeld(others: readonly Why[]): string {
  return [...new Set(others.map(({ hold }) => `${hold.text}.`))].join(' ');
}
