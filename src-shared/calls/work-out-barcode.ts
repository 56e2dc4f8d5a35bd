import { z } from 'zod';
import { MOST_SCAN, type PackCode, readPackCode } from '../stock/pack-code.ts';
import { sayElement } from '../stock/pack-code-fields.ts';
import { type Day, parseDay, printDay } from '../time/day.ts';
import type { Warning, WorkingLine } from '../working.ts';
import { topic, typedText } from './work-out-topic.ts';

const askSchema = z.strictObject({
  scan: z.string().max(MOST_SCAN * 10),
  on: typedText.optional(),
  sendsSeparators: z.boolean().optional(),
});

export const barcodeTopic = topic('What the code on a pack says.', askSchema, (ask) => {
  const on = ask.on === undefined ? undefined : parseDay(ask.on, 'on');
  const { gtin, expiry, batch, serial, made, bestBefore, variant, national, ...code } = readPackCode(
    ask.scan,
    { on, sendsSeparators: ask.sendsSeparators },
  );
  const isMonth = expiry?.printed.length === 7;
  return {
    gtin,
    ...(expiry === undefined ? {} : { expiry: expiry.lastDay }),
    ...(isMonth ? { expiryPrinted: expiry?.printed } : {}),
    ...(batch === undefined ? {} : { batch }),
    ...(serial === undefined ? {} : { serial }),
    ...(made === undefined ? {} : { made: made.lastDay }),
    ...(bestBefore === undefined ? {} : { bestBefore: bestBefore.lastDay }),
    ...(variant === undefined ? {} : { variant }),
    ...(national.length === 0 ? {} : { national }),
    working: explain(code.elements, on),
    warnings: warn(code, { expiry, text: `${batch ?? ''}${serial ?? ''}` }, on),
  };
});

const SOURCE = 'GS1 General Specifications';

function explain(elements: PackCode['elements'], on: Day | undefined): WorkingLine[] {
  return elements.map(({ ai, value }) => {
    const says = sayElement(ai, value, on);
    if (ai === '01') return { code: 'product', text: `(01) ${says}, its check digit fits`, source: SOURCE };
    if (!DAYS.has(ai)) return { code: 'field', text: `(${ai}) ${says}`, source: SOURCE };
    const last = value.endsWith('00') ? '; day 00 is the last of the month' : '';
    const century = on === undefined ? '' : `; the year within 49 back and 50 ahead of ${on.slice(0, 4)}`;
    return { code: 'day', text: `(${ai}) ${value} is ${says}${last}${century}`, source: SOURCE };
  });
}

const DAYS: ReadonlySet<string> = new Set(['11', '15', '17']);

function warn(
  { passed, lettersSure }: Pick<PackCode, 'passed' | 'lettersSure'>,
  { expiry, text: typed }: { expiry: PackCode['expiry'] | undefined; text: string },
  on: Day | undefined,
): Warning[] {
  const warnings: Warning[] = [];
  if (expiry !== undefined && on !== undefined && expiry.lastDay < on) {
    const text = `This pack expired: ${printDay(expiry.lastDay)} was its last day.`;
    warnings.push({ code: 'expired', text });
  }
  if (!lettersSure && /[yz]/i.test(typed)) {
    const text = 'Compare Y and Z with the pack: a scanner set for another country types one for the other.';
    warnings.push({ code: 'compare-letters', text });
  }
  if (passed.length > 0) {
    const text = `The code also holds ${passed.join(' and ')}, which is not read here.`;
    warnings.push({ code: 'not-read', text });
  }
  return warnings;
}
