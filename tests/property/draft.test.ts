import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Draft, type DraftSplit, planDraft } from '../../src-shared/dose/draft.ts';
import { baseOf, parseAmount } from '../../src-shared/quantity/amount.ts';
import { compare, fraction } from '../../src-shared/quantity/fraction.ts';
import { parseRate } from '../../src-shared/quantity/rate.ts';
import { kilograms, type Weight } from '../../src-shared/quantity/weight.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { seeded } from './seed.ts';

// Held against every split there is, in whole numbers of its own: no code of the program works out what is expected.

type Case = {
  tenths: number[];
  perKgMicrolitres: number;
  stepMicrolitres: number;
  parts: number;
  cap: number;
};

const cases: fc.Arbitrary<Case> = fc.record({
  tenths: fc.array(fc.integer({ min: 80, max: 900 }), { minLength: 1, maxLength: 10 }),
  perKgMicrolitres: fc.constantFrom(20, 50, 200, 137),
  stepMicrolitres: fc.constantFrom(10, 50, 100, 500),
  parts: fc.integer({ min: 1, max: 4 }),
  cap: fc.constantFrom(0, 5, 20, 50, 100, 300),
});

type Plain = { total: number; worst: { over: number; of: number } };

/** Every way to cut the distinct weights into at most so many parts. */
function everySplit({ tenths, perKgMicrolitres, stepMicrolitres, parts }: Case): Plain[] {
  const sorted = [...new Set(tenths)].sort((a, b) => a - b);
  const heads = (tenth: number) => tenths.filter((one) => one === tenth).length;
  // The exact dose in tenths of a microlitre, so that it is whole.
  const own = (tenth: number) => tenth * perKgMicrolitres;
  const dose = (tenth: number) => Math.ceil(own(tenth) / (stepMicrolitres * 10)) * stepMicrolitres;
  const found: Plain[] = [];
  const walk = (from: number, left: number, total: number, worst: Plain['worst']) => {
    if (from === sorted.length) {
      found.push({ total, worst });
      return;
    }
    if (left === 0) return;
    for (let to = from; to < sorted.length; to += 1) {
      const given = dose(sorted[to] ?? 0);
      const group = sorted.slice(from, to + 1);
      const product = group.reduce((sum, tenth) => sum + heads(tenth) * given, 0);
      const mine = { over: given * 10, of: own(sorted[from] ?? 1) };
      walk(to + 1, left - 1, total + product, mine.over * worst.of > worst.over * mine.of ? mine : worst);
    }
  };
  walk(0, parts, 0, { over: 0, of: 1 });
  return found;
}

const less = (a: Plain, b: Plain) =>
  a.worst.over * b.worst.of - b.worst.over * a.worst.of || a.total - b.total;
const holds = (cap: number) => (one: Plain) => one.worst.over * 100 <= one.worst.of * (100 + cap);

function asked(one: Case, more: object = {}): Draft {
  return planDraft({
    weights: one.tenths.map((tenth, i) => ({ id: `a${i}`, weight: weightOf(tenth) })),
    rate: parseRate(`${one.perKgMicrolitres / 1000} mL/kg`, 'rate'),
    step: parseAmount(`${one.stepMicrolitres / 1000} mL`, 'step'),
    parts: one.parts,
    capPercent: fraction(one.cap),
    ...more,
  });
}

function weightOf(tenth: number): Weight {
  return { value: `${Math.floor(tenth / 10)}.${tenth % 10}`, unit: 'kg' };
}

function same(split: DraftSplit, expected: Plain | undefined): void {
  if (expected === undefined) throw new Error('nothing was expected');
  expect(baseOf(split.total)).toBe(expected.total);
  const worst = fraction((expected.worst.over - expected.worst.of) * 100, expected.worst.of);
  expect(compare(split.worstOverPercent, worst)).toBe(0);
}

describe('a draft', () => {
  it('is the best of all splits: cap, then product, then the least worst overdose within 5 % of it', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const all = everySplit(one);
        const allowed = all.filter(holds(one.cap));
        if (allowed.length === 0) {
          expect(() => asked(one)).toThrow(Refusal);
          return;
        }
        const draft = asked(one);
        const least = Math.min(...allowed.map(({ total }) => total));
        same(draft.chosen, allowed.filter(({ total }) => total * 20 <= least * 21).toSorted(less)[0]);
        const freely = Math.min(...all.map(({ total }) => total));
        expect(baseOf(draft.leastProduct.total)).toBe(freely);
        same(draft.leastWorst, all.toSorted(less)[0]);
      }),
      seeded('draft'),
    );
  });

  it('says truly how many parts would hold the cap', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const enough = (parts: number) => everySplit({ ...one, parts }).some(holds(one.cap));
        fc.pre(!enough(one.parts));
        let refusal: Refusal | undefined;
        try {
          asked(one);
        } catch (thrown) {
          if (!(thrown instanceof Refusal)) throw thrown;
          refusal = thrown;
        }
        const needed = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10].find(enough);
        if (needed === undefined) expect(refusal?.code).toBe('marks-too-coarse');
        else if (needed > 4) expect(refusal?.message).toContain(`it would take ${needed}.`);
        else expect(refusal?.message).toContain(`${needed} parts would hold it.`);
      }),
      seeded('draft cap', 200),
    );
  });

  it('gives every animal one part, its own dose at the least, and no more than the cap over it', () => {
    fc.assert(
      fc.property(cases, (one) => {
        let draft: Draft;
        try {
          draft = asked(one);
        } catch (thrown) {
          if (thrown instanceof Refusal) return;
          throw thrown;
        }
        expect(draft.animals.map(({ id }) => id)).toEqual(one.tenths.map((_, i) => `a${i}`));
        draft.animals.forEach(({ part, dose }, i) => {
          const tenth = one.tenths[i] ?? 0;
          const own = tenth * one.perKgMicrolitres;
          expect(baseOf(dose) * 10).toBeGreaterThanOrEqual(own);
          expect(baseOf(dose) * 1000).toBeLessThanOrEqual(own * (100 + one.cap));
          expect(baseOf(dose) % one.stepMicrolitres).toBe(0);
          // Equal weights stay together.
          expect(draft.animals[one.tenths.indexOf(tenth)]?.part).toBe(part);
        });
        const heads = draft.chosen.parts.reduce((sum, part) => sum + part.heads, 0);
        expect(heads).toBe(one.tenths.length);
        expect(draft.animals.reduce((sum, { dose }) => sum + baseOf(dose), 0)).toBe(
          baseOf(draft.chosen.total),
        );
      }),
      seeded('draft animals'),
    );
  });

  it('cuts only where a gate can be set, when the gate is given', () => {
    fc.assert(
      fc.property(cases, fc.constantFrom('0.5', '1', '5'), (one, value) => {
        let draft: Draft;
        try {
          draft = asked(one, { gate: { value, unit: 'kg' } });
        } catch (thrown) {
          if (thrown instanceof Refusal) return;
          throw thrown;
        }
        const { parts } = draft.chosen;
        for (const [i, part] of parts.entries()) {
          const after = parts[i + 1];
          if (after === undefined) continue;
          if (part.gate === undefined) throw new Error('A cut has no weight for the gate.');
          const gate = kilograms(part.gate);
          expect(compare(gate, kilograms(part.to))).toBeGreaterThanOrEqual(0);
          expect(compare(gate, kilograms(after.from))).toBeLessThan(0);
          expect((Number(part.gate.value) * 10) % (Number(value) * 10)).toBe(0);
        }
      }),
      seeded('draft gate'),
    );
  });
});
