import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { isRoutePath, ROUTES } from '../../src-renderer/routes.ts';

// A path to a screen that is missing would only be noticed by whoever goes there.
test.each(Object.keys(ROUTES))('the screen of %s is there, and is what its file hands out', (path) => {
  if (!isRoutePath(path)) throw new Error('the list of routes has a path that is none');
  const file = fileURLToPath(new URL(`../../src-renderer/screens/${ROUTES[path].file}.tsx`, import.meta.url));
  expect(existsSync(file), `screens/${ROUTES[path].file}.tsx`).toBe(true);
  expect(readFileSync(file, 'utf8')).toMatch(/^export default function \w+/m);
});
