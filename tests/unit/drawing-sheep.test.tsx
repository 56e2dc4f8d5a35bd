import { renderToStaticMarkup } from 'react-dom/server';
import { expect, test } from 'vitest';
import { Sheep, SheepNear } from '../../src-renderer/drawings/sheep.tsx';
import { AVOIDED, LANDMARKS, NEAR, SHEEP, SPOTS } from '../../src-renderer/drawings/sheep-lines.ts';
import { PLACES } from '../../src-shared/needle/places.ts';

test('every place of the table is on the drawing, and the drawing has no other', () => {
  const table = PLACES.map(({ route, site }) => `${route} ${site}`).toSorted();
  for (const drawn of [SPOTS, AVOIDED, LANDMARKS]) {
    const found = Object.entries(drawn).flatMap(([route, sites]) =>
      Object.keys(sites).map((site) => `${route} ${site}`),
    );
    expect(found.toSorted()).toEqual(table);
  }
});

test('each place lies on the sheep, and within what is shown of it from near', () => {
  for (const { route, site } of PLACES) {
    const spot = SPOTS[route][site];
    const [left, top, width, height] = NEAR[site];
    expect(spot?.x).toBeGreaterThan(left);
    expect(spot?.x).toBeLessThan(left + width);
    expect(spot?.y).toBeGreaterThan(top);
    expect(spot?.y).toBeLessThan(top + height);
    expect(left + width).toBeLessThanOrEqual(SHEEP.width);
  }
});

test('at each place something is named that the needle must not meet', () => {
  for (const { route, site } of PLACES) {
    expect(AVOIDED[route][site]?.length).toBeGreaterThan(0);
    const near = renderToStaticMarkup(<SheepNear route={route} side="left" chosen={site} />);
    for (const { name } of AVOIDED[route][site] ?? []) expect(near).toContain(name);
  }
});

test('the drawing says which side is seen and which place is marked, and turns round without turning its letters', () => {
  const left = renderToStaticMarkup(<Sheep route="im" side="left" chosen="neck" />);
  expect(left).toContain('A sheep from its left side. Marked: Muscular middle of the neck');
  expect(left).not.toContain('scale(-1 1)');
  const right = renderToStaticMarkup(<Sheep route="im" side="right" />);
  expect(right).toContain('scale(-1 1)');
  expect(right).toContain('1 Muscular middle of the neck, 2 Front third of the rump, 3 Muscle at the back');
  // The numbers stand outside the part that is turned round, at the other end.
  const x = SHEEP.width - (SPOTS.im.rump?.x ?? 0);
  expect(right).toMatch(new RegExp(`<text x="${x}"[^>]*>2</text>`));
});
