import { baseOf } from '../quantity/amount.ts';
import { addDays } from '../time/day.ts';
import type { Warning } from '../working.ts';
import type { OutlookAsk, Unused } from './outlook-types.ts';
import { parseInUse } from './use-by.ts';

/** What an outlook cannot know, or leaves out, each said in a sentence of its own. */
export function outlookWarnings(ask: OutlookAsk, unused: readonly Unused[]): Warning[] {
  const { planned, pastUse, leadDays, inUse, today, days } = ask;
  const warnings: Warning[] = [];
  const say = (code: string, text: string) => warnings.push({ code, text });
  if (pastUse === undefined) {
    say(
      'use-unknown',
      'What is used besides planned work is not known and not counted: stock may end sooner.',
    );
  }
  for (const { what, need } of planned) {
    if (need !== undefined) continue;
    say('need-unknown', `How much “${what}” needs is not known and not counted: give its head and dose.`);
  }
  const last = addDays(today, days - 1);
  const overdue = planned.filter(({ on }) => on < today).map(({ what }) => what);
  if (overdue.length > 0) {
    say(
      'overdue',
      `Planned before today and not counted: ${overdue.join(', ')}. Record it, or plan it anew.`,
    );
  }
  const beyond = planned.filter(({ on }) => on > last).length;
  if (beyond > 0) {
    const works = beyond === 1 ? '1 planned work lies' : `${beyond} planned works lie`;
    say('beyond', `${works} after the last day looked at and ${beyond === 1 ? 'is' : 'are'} not counted.`);
  }
  if (inUse === undefined) {
    say(
      'in-use-unknown',
      'The label does not say how long it keeps once opened: it is counted to its expiry.',
    );
  } else if (pastUse !== undefined && baseOf(pastUse.used) > 0 && keepsUnderAWeek(inUse)) {
    say(
      'use-spread',
      'Other use is spread over every day, and opened packs of this medicine last less than a week: plan it by date where you can.',
    );
  }
  if (leadDays === undefined) {
    say('lead-unknown', 'How long an order takes is not known, so there is no day to order by.');
  }
  const unpriced = unused.filter(({ cost }) => cost === undefined).map(({ label }) => label);
  if (unpriced.length > 0) {
    say('cost-unknown', `What ${unpriced.join(', ')} cost is not known, so it is not in the sum.`);
  }
  return warnings;
}

/** Under a week: daily use of a little would open a pack again and again, which nobody does. */
export function keepsUnderAWeek(inUse: string): boolean {
  const life = parseInUse(inUse);
  if (life === 'none') return false;
  return life === 'at-once' || (life.unit === 'd' ? life.value < 7 : life.value < 168);
}
