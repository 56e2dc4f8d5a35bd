import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { Bottle } from '../../src-renderer/drawings/bottle.tsx';
import { dayMarks, marksOf, shareOf } from '../../src-renderer/drawings/scale.ts';
import { Syringe } from '../../src-renderer/drawings/syringe.tsx';
import { Timeline } from '../../src-renderer/drawings/timeline.tsx';
import { readBackDay } from '../../src-renderer/parts/day-field.tsx';

const syringe = (drawMicrolitres: number, text: string) =>
  renderToStaticMarkup(
    <Syringe
      capacityMicrolitres={2000}
      graduationMicrolitres={100}
      drawMicrolitres={drawMicrolitres}
      text={text}
    />,
  );

describe('the syringe', () => {
  it('has a mark for each graduation, no more than six of them with a figure', () => {
    const marks = marksOf(2000, 100);
    expect(marks.length).toBe(21);
    expect(marks.filter((mark) => mark.isLong).map((mark) => mark.at)).toEqual([0, 500, 1000, 1500, 2000]);
  });
  it('draws no marks that would run together', () => {
    for (const [capacity, graduation] of [
      [1000, 10],
      [60_000, 100],
      [5000, 1],
    ] as const) {
      expect(marksOf(capacity, graduation).length).toBeLessThanOrEqual(122);
    }
    expect(marksOf(0, 100)).toEqual([]);
    expect(marksOf(1000, 0)).toEqual([]);
  });
  it('says the dose in its name and beside the mark', () => {
    const drawn = syringe(1240, '1.24 mL');
    expect(drawn).toContain('aria-label="2 mL syringe filled to 1.24 mL"');
    expect(drawn).toContain('>1.24 mL</text>');
  });
  it('stands at the mark: 1.24 of 2 mL is 62 % of the barrel', () => {
    const filled = /<rect x="96" y="52" width="([\d.]+)" height="48" fill="url/.exec(
      syringe(1240, '1.24 mL'),
    );
    // The barrel is 320 wide.
    expect(Number(filled?.[1])).toBeCloseTo(198.4, 6);
  });
  it('says when the dose is more than it holds', () => {
    expect(syringe(2100, '2.1 mL')).toContain('aria-label="2.1 mL is more than a 2 mL syringe holds"');
  });
});

describe('the bottle', () => {
  it('is filled by what is left, never past its rim or below its foot', () => {
    expect([shareOf(35, 100), shareOf(0, 100), shareOf(120, 100), shareOf(-5, 100), shareOf(1, 0)]).toEqual([
      0.35, 0, 1, 0, 0,
    ]);
    expect(renderToStaticMarkup(<Bottle left={35} received={100} text="35 mL left of 100 mL" />)).toContain(
      'aria-label="35 mL left of 100 mL"',
    );
  });
});

describe('the timeline', () => {
  const draw = (until: string | undefined) =>
    renderToStaticMarkup(
      <Timeline
        label="Holds"
        now="2026-11-25T12:00:00Z"
        rows={[{ key: 'a', label: 'Meat', from: '2026-11-02', until, text: 'held, and why' }]}
      />,
    );
  it('says in words what each bar shows', () => expect(draw('2026-11-30')).toContain('held, and why'));
  it('breaks the edge of a bar that time does not end, and only of that', () => {
    expect(draw(undefined)).toContain('draw-gap');
    expect(draw('2026-11-30')).not.toContain('draw-gap');
  });
  it('marks few enough days to be read, over a week and over years', () => {
    const day = 86_400_000;
    for (const days of [3, 10, 30, 90, 200, 800, 3660]) {
      const marks = dayMarks(0, days * day);
      expect(marks.length).toBeGreaterThan(0);
      expect(marks.length).toBeLessThanOrEqual(8);
    }
  });
});

describe('a day read back', () => {
  it('is in full words', () => expect(readBackDay('2027-02-28')).toBe('Sunday 28 February 2027'));
  it('is silent while it is no day', () => {
    for (const text of ['', '2027-02-30', '31/02/2027', '20270-01-01'])
      expect(readBackDay(text)).toBeUndefined();
  });
});
