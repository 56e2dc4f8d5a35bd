import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addressOf, isRoutePath, ROUTES, readAddress } from '../../src-renderer/routes.ts';

const seed = Number(process.env.FOLDBOOK_SEED ?? Date.now() % 2 ** 31);
console.log(`renderer-routes seed ${seed}`);

const searchOf = (address: string) => new URL(address, 'http://127.0.0.1').search;

describe('addresses of screens', () => {
  it('leads to Today without an address and with one that leads nowhere', () => {
    for (const search of [
      '',
      '?at=',
      '?at=nowhere',
      '?at=flock/subject/',
      '?at=flock/subject/%25E0',
      '?x=1',
    ]) {
      expect(readAddress(search)).toEqual({ path: 'today', params: {}, query: {} });
    }
  });

  it('keeps to the page at "/" and leaves the fragment to the key', () => {
    for (const path of Object.keys(ROUTES)) {
      if (!isRoutePath(path)) continue;
      const url = new URL(addressOf(path, { medicine: 'a/b', subject: 'lot:1#2' }, {}), 'http://127.0.0.1');
      expect(url.pathname).toBe('/');
      expect(url.hash).toBe('');
    }
  });

  it('tells a fixed word from a name', () => {
    expect(readAddress('?at=cabinet/label/m1/new-insert').path).toBe('cabinet/label/:medicine/new-insert');
    expect(readAddress('?at=farm/holding').path).toBe('farm/holding');
    expect(readAddress('?at=farm/holding/h1')).toEqual({
      path: 'farm/holding/:holding',
      params: { holding: 'h1' },
      query: {},
    });
  });

  it('no two screens have the same address', () => {
    for (const path of Object.keys(ROUTES)) {
      if (!isRoutePath(path)) continue;
      const params = Object.fromEntries([...path.matchAll(/:(\w+)/g)].map((found) => [found[1], 'x']));
      expect(readAddress(searchOf(addressOf(path, params))).path).toBe(path);
    }
  });

  it('brings any text there and back', () => {
    fc.assert(
      fc.property(
        fc.string({ minLength: 1, unit: 'grapheme' }),
        fc.string({ unit: 'grapheme' }),
        (subject, start) => {
          const address = addressOf('flock/subject/:subject', { subject }, { start });
          expect(readAddress(searchOf(address))).toEqual({
            path: 'flock/subject/:subject',
            params: { subject },
            query: { start },
          });
        },
      ),
      { seed },
    );
  });
});
