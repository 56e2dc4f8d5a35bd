import { chooseNeedle } from '../../src-shared/needle/choose.ts';
import type { Rule } from '../../src-shared/needle/rule.ts';
import { RULES } from '../../src-shared/needle/rules.ts';
import type { NeedleAsk as Ask } from '../../src-shared/needle/situation.ts';
import { amountOf, baseOf } from '../../src-shared/quantity/amount.ts';
import { parseDecimal } from '../../src-shared/quantity/fraction.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import type { NeedleCase, NeedleAsk as Plain } from './needle-case-parts.ts';

/** Puts a needle case to the rules and says in a sentence where the answer differs, or undefined when it agrees. */

const ml = (value: number) => amountOf('volume', Math.round(value * 1000));
const most = (value: number | undefined) => (value === undefined ? {} : { maxPerSite: ml(value) });

export function askOf({ label, house, ...plain }: Plain): Ask {
  return {
    ...plain,
    weight: { value: String(plain.weight), unit: 'kg' },
    volume: ml(plain.volume),
    label: {
      gauge: label?.gauge,
      lengthIn: label?.lengthIn,
      ...most(label?.maxPerSite),
      ...(label?.mostLengthMm === undefined
        ? {}
        : { mostLengthMm: parseDecimal(label.mostLengthMm, 'label') }),
    },
    house: { gauge: house?.gauge, lengthIn: house?.lengthIn, ...most(house?.maxPerSite) },
  };
}

/** Where the answer differs from what the case expects. */
export function differs({ ask, expect }: NeedleCase, rules: readonly Rule[] = RULES): string | undefined {
  let found: ReturnType<typeof chooseNeedle>;
  try {
    found = chooseNeedle(askOf(ask), rules);
  } catch (thrown) {
    // A table without the last row on a matter cannot answer it at all.
    if (thrown instanceof RangeError && rules !== RULES) return thrown.message;
    if (!(thrown instanceof Refusal)) throw thrown;
    if (thrown.code !== 'no-needle-suits') return `refused otherwise: ${thrown.message}`;
    return 'refused' in expect ? undefined : `refused: ${thrown.message}`;
  }
  const chosen = `${found.choice.gauge}G ${found.choice.lengthIn}`;
  if ('refused' in expect) return `took ${chosen}`;
  if ('oneOf' in expect) {
    return expect.oneOf.some((one) => `${one.gauge}G ${one.lengthIn}` === chosen)
      ? undefined
      : `took ${chosen}`;
  }
  if (chosen !== `${expect.choice.gauge}G ${expect.choice.lengthIn}`) return `took ${chosen}`;
  if (expect.conflict !== undefined) {
    const shown = found.conflicts.map(({ sides }) => sides.map(({ says }) => says));
    const wanted = expect.conflict;
    if (!shown.some((sides) => wanted.every((side) => sides.includes(side)))) {
      return `shows no conflict of ${wanted.join(' / ')}, but ${JSON.stringify(shown)}`;
    }
  }
  if (expect.perSite !== undefined) {
    const { mostMl, places } = expect.perSite;
    const { most: limit, each } = found.perSite;
    if (baseOf(limit) !== mostMl * 1000 || each.length !== places) {
      return `${each.length} places of at most ${baseOf(limit)} µL`;
    }
  }
  return undefined;
}
