import { describe, expect, test } from 'vitest';
import { addScan, oneMore, type Scanned } from '../../src-renderer/screens/cabinet/delivery-scan.ts';
import { packOnShelf } from '../../src-renderer/screens/cabinet/scanned.ts';

const empty: Scanned = { medicine: '', number: '', expiry: '', packs: '', code: '', serials: [] };
const pack = {
  gtin: '05012345678900',
  number: 'AB17',
  expiry: '2027-03',
  serial: 'S1',
  product: { medicine: 'm1', name: 'Calverol drench', size: '500 mL' },
  batches: [],
  here: [],
  warnings: [],
};
const first = {
  ...empty,
  code: pack.gtin,
  medicine: 'm1',
  number: 'AB17',
  expiry: '2027-03',
  packs: '1 × 500 mL',
  serials: ['S1'],
};

describe('a pack scanned into a delivery', () => {
  test('fills an empty one, and counts the next pack of the same batch', () => {
    expect(addScan(empty, pack)).toEqual({ change: { ...first } });
    expect(addScan(first, { ...pack, serial: 'S2' })).toMatchObject({
      change: { packs: '2 × 500 mL', serials: ['S1', 'S2'] },
    });
  });

  test('of an unknown product leaves medicine and packs to be written', () => {
    const { product: _product, ...unknown } = pack;
    expect(addScan(empty, unknown)).toEqual({
      change: { code: pack.gtin, number: 'AB17', expiry: '2027-03', serials: ['S1'], packs: '' },
    });
  });

  test('takes an expiry that was typed in another way for the same', () => {
    expect(addScan({ ...empty, expiry: '03/2027' }, pack)).toHaveProperty('change');
  });

  test('by the long code alone never counts a pack: it is the same on each', () => {
    const { number: _n, expiry: _e, serial: _s, ...linear } = pack;
    expect(addScan({ ...first, serials: [] }, linear)).toMatchObject({ change: { packs: '1 × 500 mL' } });
  });

  test.each([
    [{}, 'Serial number S1 was scanned already'],
    [{ serial: 'S2', sameSerial: 'AB17-2, taken in on 1 May 2026' }, 'is in the book already'],
    [{ serial: 'S2', number: 'AB18' }, 'This pack is of batch AB18'],
    [{ serial: 'S2', expiry: '2027-04' }, 'This pack has the expiry 2027-04'],
    [{ serial: 'S2', gtin: '05012345678917' }, 'another product or size'],
    [{ serial: 'S2', product: { medicine: 'm2', name: 'Other' } }, 'This pack is Other'],
  ])('%j overwrites nothing and says what to do', (more, says) => {
    expect(addScan(first, { ...pack, ...more })).toEqual({ wrong: expect.stringContaining(says) });
  });

  test.each([
    ['1 × 500 mL', '2 × 500 mL'],
    ['500 mL', '2 × 500 mL'],
    ['9 x 1 L', '10 × 1 L'],
    ['1 × 500 mL, 1 × 1 L', '1 × 500 mL, 1 × 1 L'],
    ['', ''],
  ])('one more than %j is %j', (before, after) => expect(oneMore(before)).toBe(after));
});

describe('a scanned pack on the shelf', () => {
  const here = (...labels: string[]) => labels.map((label) => ({ container: `c-${label}`, label }));
  const known = { ...pack, product: { medicine: 'm1', name: 'Calverol' } };
  const { product: _product, ...unknown } = pack;
  const { number: _number, ...linear } = known;
  test('is the one of its batch, and of several it is asked which', () => {
    expect(packOnShelf({ ...known, here: here('AB17-1') }, 'm1')).toEqual({ container: 'c-AB17-1' });
    expect(packOnShelf({ ...known, here: here('AB17-1', 'AB17-2') }, 'm1')).toEqual({
      wrong: 'Batch AB17 stands here in 2 containers: AB17-1, AB17-2. Choose the one in your hand.',
    });
  });
  test.each([
    [{ ...known, here: here('AB17-1') }, 'm2', 'This pack is Calverol, and another medicine is chosen'],
    [unknown, 'm1', 'is not known here'],
    [linear, 'm1', 'names the product alone'],
    [{ ...known, here: [] }, 'm1', 'No container of batch AB17 of Calverol is on the shelf'],
  ])('is never guessed (%#)', (read, medicine, says) => {
    const found = packOnShelf(read, medicine);
    expect(found).toEqual({ wrong: expect.stringContaining(says) });
  });
});
