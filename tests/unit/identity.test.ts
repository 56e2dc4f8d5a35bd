import { describe, expect, it } from 'vitest';
import { chipCode64, readIdentity } from '../../src-shared/flock/identity.ts';
import { refused } from './refused.ts';

describe('what a spreadsheet does to numbers', () => {
  it.each([
    ['8.26E+14', 'spreadsheet-number'],
    ['8.26012E+14', 'spreadsheet-number'],
    ['8,26E+14', 'spreadsheet-number'],
    ['8.26e14', 'spreadsheet-number'],
    ['826012345600001.0', 'spreadsheet-point'],
    ['826012345600001.', 'spreadsheet-point'],
    ['826012345600001,00', 'spreadsheet-point'],
    ['40012345600001', 'zero-lost'],
    ['12345600001', 'country-missing'],
    ['012345600001', 'country-missing'],
    ['123456 00001', 'country-missing'],
    ['8260123456000', 'bad-read'],
    ['8260123456000012', 'bad-read'],
    ['826012345600001826012345600002', 'bad-read'],
    ['', 'read-empty'],
    ['   ', 'read-empty'],
    ['x'.repeat(41), 'read-too-long'],
    ['ewe with 826012345600001', 'bad-read'],
    ['８２６０１２３４５６００００１', 'bad-read'],
    ['826012345600001;', 'bad-read'],
    ['=1+1', 'bad-read'],
    ['---', 'bad-read'],
    ['QQ 012345600001', 'country-unknown'],
    ['UK 0123456', 'flock-mark-only'],
    ['GB 123456', 'flock-mark-only'],
    ['UK 0 123456 000012', 'bad-read'],
  ])('%j is refused as %s, never guessed', (text, code) => {
    const refusal = refused(() => readIdentity(text));
    expect(refusal).toMatchObject({ code, field: 'read' });
    expect(refusal.next).toBeDefined();
  });
});

describe('one animal, one key', () => {
  it('whatever was read', () => {
    const pairs: [string, string][] = [
      ['UK 0 123456 00001', '826 012345600001'],
      ['GB 0 123456 00001', '826012345600001'],
      ['IE 123456789012', '372123456789012'],
      ['EL 12345678', '300000012345678'],
      ['AT 123456789', '040000123456789'],
    ];
    for (const [tag, chip] of pairs) {
      expect(readIdentity(tag).kind).toBe('tag');
      expect(readIdentity(chip).kind).toBe('chip');
      expect(readIdentity(tag).key).toBe(readIdentity(chip).key);
    }
  });

  it('and what is written is read again as the same', () => {
    for (const text of [
      'uk 0123456 00001',
      '826012345600001',
      'IE 123456789012',
      ' blue  17 ',
      '42',
      '982 000123456789',
    ]) {
      const first = readIdentity(text);
      expect(readIdentity(first.written)).toEqual(first);
    }
  });
});

describe('the farm’s own numbers', () => {
  it.each([
    ['42', '42', 'own:42'],
    ['blue  17', 'blue 17', 'own:BLUE17'],
    ['R-123', 'R-123', 'own:R123'],
    ['UK 12', 'UK 12', 'own:UK12'],
    ['Źrebię 3', 'Źrebię 3', 'own:ŹREBIĘ3'],
    ['00042', '00042', 'own:00042'],
  ])('%j', (text, written, key) => {
    expect(readIdentity(text)).toEqual({ kind: 'management', number: written, written, key });
  });

  it('never share a key with a chip', () => {
    expect(readIdentity('42').key).not.toMatch(/^\d/);
  });
});

describe('the code a chip sends', () => {
  it('has the animal bit, ten bits of country and 38 of number', () => {
    expect(chipCode64('826 000000000000')).toBe((1n << 63n) | (826n << 38n));
    expect(chipCode64('001000000000001')).toBe((1n << 63n) | (1n << 38n) | 1n);
    expect(refused(() => chipCode64('UK 0 123456 00001')).code).toBe('bad-chip');
  });
});
