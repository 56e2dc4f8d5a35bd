import { describe, expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { chipCode64, readIdentity } from '../../src-shared/flock/identity.ts';
import { refused } from '../unit/refused.ts';

describe('ISO 11784 chips', () => {
  it('826012345600001 is 0x8000CE82DFDAE801 with the animal bit (derived)', () => {
    expect(chipCode64('826012345600001')).toBe(0x8000ce82dfdae801n);
  });

  it('the number cannot exceed 274,877,906,943, 38 bits (read, derived)', () => {
    expect(readIdentity('826 274877906943').number).toBe('274877906943');
    expect(chipCode64('826274877906943') & ((1n << 38n) - 1n)).toBe((1n << 38n) - 1n);
    expect(refused(() => readIdentity('826 275000000000')).code).toBe('number-too-large');
    expect(refused(() => readIdentity('826 274877906944')).code).toBe('number-too-large');
  });

  it('000 is invalid, 900 to 998 are makers, 999 is for tests (read)', () => {
    expect(refused(() => readIdentity('000012345600001')).code).toBe('bad-chip');
    expect(readIdentity('900012345600001')).toMatchObject({ kind: 'chip', maker: '900' });
    expect(readIdentity('998012345600001')).toMatchObject({ kind: 'chip', maker: '998' });
    expect(readIdentity('899012345600001')).toMatchObject({ kind: 'chip', country: '899' });
    expect(readIdentity('999012345600001')).toMatchObject({ kind: 'chip', test: true });
    expect(readIdentity('999012345600001').maker).toBeUndefined();
  });

  it('readers type digits with or without spaces (read)', () => {
    const keys = ['826012345600001', '826 012345600001', '826 0 123456 00001', ' 826 0123 4560 0001\r'].map(
      (text) => readIdentity(text).key,
    );
    expect(new Set(keys)).toEqual(new Set(['826012345600001']));
  });
});

describe('tags', () => {
  it('UK 0 123456 00001 on the tag is 826012345600001 in the chip (read)', () => {
    const tag = readIdentity('UK 0 123456 00001');
    expect(tag).toMatchObject({
      kind: 'tag',
      country: 'UK',
      number: '012345600001',
      written: 'UK 0 123456 00001',
    });
    expect(tag.key).toBe(readIdentity('826012345600001').key);
    for (const text of ['UK0123456 00001', 'uk 012345600001', 'UK 123456 00001', 'UK-0123456-00001']) {
      expect(readIdentity(text).key).toBe(tag.key);
    }
  });

  it('Greece is EL, Northern Ireland XI, and at most 12 digits follow (Reg (EU) 2021/520 Art 12, read)', () => {
    expect(readIdentity('EL 123456789012')).toMatchObject({ kind: 'tag', country: 'EL' });
    expect(readIdentity('XI 0 123456 00001')).toMatchObject({ kind: 'tag', country: 'XI' });
    expect(readIdentity('XI 0 123456 00001').key).not.toBe(readIdentity('UK 0 123456 00001').key);
    expect(refused(() => readIdentity('IE 1234567890123')).code).toBe('bad-read');
    expect(refused(() => readIdentity('QQ 123456789012')).code).toBe('country-unknown');
  });

  it('a flock mark is not an animal (slaughter lambs under 12 months show only that, read)', () => {
    expect(refused(() => readIdentity('UK 123456')).code).toBe('flock-mark-only');
  });
});

describe('the work-out call', () => {
  it('answers kind, country, number and what people write', () => {
    expect(workOut('identity', { read: 'UK 0 123456 00001' })).toMatchObject({
      kind: 'tag',
      country: 'UK',
      number: '012345600001',
      written: 'UK 0 123456 00001',
      warnings: [],
    });
    expect(workOut('identity', { read: '999012345600001' }).warnings).toMatchObject([{ code: 'test-code' }]);
  });
});
