import { describe, expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { refused } from './refused.ts';

const GS = '\u001d';
const GTIN = '05012345678900';
const read = (scan: string, on?: string) => workOut('barcode', { scan, ...(on === undefined ? {} : { on }) });
const fault = (scan: string) => {
  const { code, field, message, next } = refused(() => read(scan));
  return { code, field, message, next };
};
const WHOLE = { gtin: GTIN, expiry: '2027-12-31', batch: 'AB12', serial: 'S9' };

describe('a pack code', () => {
  it.each([
    ['as a DataMatrix', `01${GTIN}1727123110AB12${GS}21S9`],
    ['with what tells the kind of code', `]d201${GTIN}1727123110AB12${GS}21S9`],
    ['as a long code', `]C101${GTIN}1727123110AB12${GS}21S9\r\n`],
    ['stacked', `]e001${GTIN}1727123110AB12${GS}21S9`],
    ['with FNC1 in front and behind', `${GS}01${GTIN}${GS}1727123110AB12${GS}21S9${GS}`],
    ['with the picture of the separator', `01${GTIN}1727123110AB12\u241d21S9`],
    ['serial before expiry', `01${GTIN}21S9${GS}1727123110AB12${GS}`],
    ['in brackets', `(01)${GTIN}(17)271231(10)AB12(21)S9`],
    ['in brackets with spaces', ` (01) 0501234 5678900 (17) 27 12 31 (10) AB12 (21) S9`],
  ])('%s', (_, scan) => {
    expect(read(scan, '2026-05-01')).toMatchObject({ ...WHOLE, warnings: [] });
  });

  it('says how each field was read', () => {
    expect(read(`01${GTIN}1713020010AB`, '2012-01-01').working).toEqual([
      {
        code: 'product',
        text: `(01) product ${GTIN}, its check digit fits`,
        source: 'GS1 General Specifications',
      },
      {
        code: 'day',
        text: '(17) 130200 is expiry 28 Feb 2013; day 00 is the last of the month; the year within 49 back and 50 ahead of 2012',
        source: 'GS1 General Specifications',
      },
      { code: 'field', text: '(10) batch AB', source: 'GS1 General Specifications' },
    ]);
    expect(read(`01${GTIN}17130200`)).toMatchObject({ expiry: '2013-02-28', expiryPrinted: '2013-02' });
    expect(read(`01${GTIN}17130228`)).not.toHaveProperty('expiryPrinted');
  });

  it('keeps days of making and best before, the maker’s own number and national ones', () => {
    expect(read(`01${GTIN}112501001525123124077${GS}71012345678${GS}714999${GS}10X`)).toMatchObject({
      made: '2025-01-31',
      bestBefore: '2025-12-31',
      variant: '77',
      national: [
        { ai: '710', number: '12345678' },
        { ai: '714', number: '999' },
      ],
      batch: 'X',
    });
  });

  it('passes by what it does not read, and says so', () => {
    const reply = read(`01${GTIN}2001${'91HOUSE'}${GS}10AB`);
    expect(reply).toMatchObject({ batch: 'AB' });
    expect(reply.warnings).toMatchObject([
      { code: 'not-read', text: expect.stringContaining('2001 and 91HOUSE') },
    ]);
  });

  it('takes 13 digits for the product alone', () => {
    expect(read('5012345678900')).toMatchObject({ gtin: GTIN });
    expect(read(']E05012345678900')).toMatchObject({ gtin: GTIN });
    expect(read('5012345678900')).not.toHaveProperty('batch');
    expect(read(']E00105012345672')).toMatchObject({ gtin: '00105012345672' });
  });

  it('says when a pack had expired, and when letters could be changed round', () => {
    expect(read(`01${GTIN}17260430`, '2026-05-01').warnings).toMatchObject([{ code: 'expired' }]);
    expect(read(`01${GTIN}17260430`, '2026-04-30').warnings).toEqual([]);
    expect(read(`01${GTIN}10YB7`).warnings).toMatchObject([{ code: 'compare-letters' }]);
    expect(read(`]d201${GTIN}10YB7`).warnings).toEqual([]);
  });
});

describe('asked, never guessed', () => {
  it.each([
    ['missing separator, batch then expiry', `01${GTIN}10ABC17271231`],
    ['missing separator, batch then serial', `01${GTIN}1727123110ABC21S9`],
    ['missing separator, serial then batch', `01${GTIN}1727123121S910ABC`],
    ['missing separator, batch then national number', `01${GTIN}1727123110ABC71412345`],
    ['missing separator, batch then product', `1727123110ABC01${GTIN}`],
    ['batch holding a whole expiry although one was read', `01${GTIN}1727123110AB17280101`],
    ['batch longer than a batch can be', `01${GTIN}10ABCDEFGHIJKLMNOPQ17271231`],
    ['broken off within the expiry', `01${GTIN}10ABC1727`],
    ['two scans', `01${GTIN}1727123110AB01${GTIN}1727123110AC`],
    ['two scans of fixed fields', `01${GTIN}1727123101${GTIN}17271231`],
    ['two scans with separators', `01${GTIN}1727123110AB${GS}21S101${GTIN}1727123110AC${GS}21S2`],
    ['two scans with Enter between', `01${GTIN}10AB\r\n01${GTIN}10AC`],
    ['two scans with prefixes', `]d201${GTIN}10AB]d201${GTIN}10AC`],
    ['two linear scans', '50123456789005012345678900'],
    ['13 digits that may be the beginning of more', '0105012345672'],
  ])('%s', (_, scan) => {
    const { code, field, message, next } = fault(scan);
    expect({ code, field }).toEqual({ code: 'ambiguous', field: 'scan' });
    expect(message).toMatch(/^Scan: .*\.$/);
    expect(next).toMatch(/\.$/);
  });

  it('names both ways to read it', () => {
    expect(fault(`01${GTIN}10ABC17271231`).message).toBe(
      'Scan: it may say batch ABC17271231, or batch ABC and expiry 31 Dec 2027: no separator shows where a field ends.',
    );
    expect(fault(`01${GTIN}10AB01${GTIN}10AC`).message).toContain('two scans');
  });

  it.each([
    ['a separator shows where the batch ends', `01${GTIN}10AB17271231${GS}21S9`, 'AB17271231'],
    ['17 with no day behind it', `01${GTIN}1727123110LOT17`, 'LOT17'],
    ['17 with no such month', `01${GTIN}10AB17279931X`, 'AB17279931X'],
    ['10 in a batch: no code says it twice', `01${GTIN}1727123110B10Q`, 'B10Q'],
    ['brackets show it', `(01)${GTIN}(10)ABC17271231(17)271231`, 'ABC17271231'],
  ])('no question where there is only one way: %s', (_, scan, batch) => {
    expect(read(scan)).toMatchObject({ batch });
  });
});

describe('a scanner that is known to send separators', () => {
  const sure = (scan: string) => workOut('barcode', { scan, sendsSeparators: true });

  it('is believed where its last field ends', () => {
    expect(fault(`01${GTIN}1727123110C2103`).message).toContain(
      'batch C2103, or batch C and serial number 03',
    );
    expect(sure(`01${GTIN}1727123110C2103`)).toMatchObject({ batch: 'C2103' });
    expect(sure(`01${GTIN}10ABC17271231`)).toMatchObject({ batch: 'ABC17271231' });
  });

  it('can run two scans together all the same', () => {
    expect(refused(() => sure(`01${GTIN}10AB01${GTIN}10AC`)).code).toBe('ambiguous');
  });
});

describe('what cannot be read', () => {
  it.each([
    ['nothing', '  \r\n', 'nothing'],
    ['half a product', `01${GTIN.slice(0, 12)}`, '14 digits'],
    ['half a product behind a prefix', `]d201${GTIN.slice(0, 9)}`, 'breaks off'],
    ['half an expiry', `01${GTIN}1727`, 'breaks off'],
    ['half a field name', `01${GTIN}1`, 'breaks off'],
    ['no batch', `01${GTIN}10`, 'breaks off'],
    ['the second half only', `17271231${'10AB'}`, 'product is missing'],
    ['a wrong digit', `01${GTIN.slice(0, -1)}1`, 'check digit'],
    ['noughts', '0'.repeat(13), 'check digit'],
    ['no such month', `01${GTIN}17271331`, 'expiry'],
    ['no such day', `01${GTIN}17270230`, 'expiry'],
    ['letters in a day', `01${GTIN}17ABCDEF`, 'expiry'],
    ['a batch of 300 letters', `01${GTIN}10${'A'.repeat(300)}`, 'too long'],
    ['a batch of 100 letters', `01${GTIN}10${'A'.repeat(100)}`, 'more than 20'],
    ['a sign that is in no code', `01${GTIN}10AB€`, 'sign'],
    ['12 digits', '501234567890', '12 digits'],
    ['8 digits', '50123452', '8 digits'],
    ['words', 'hello', 'does not begin'],
    ['a web address', 'https://example.test/01/05012345678900', 'does not begin'],
    ['brackets it does not read', `(01)${GTIN}(99)X`, '(99)'],
    ['another kind of code', ']Q1hello', 'kind of code'],
    ['Caps Lock', `]D201${GTIN}`, 'Caps Lock'],
    ['French keyboard', 'à&à(à&é"\'(-è_çàà&èéè&é"&', 'keyboard'],
    ['French keyboard, linear', '(à&é"\'(-è_çàà', 'keyboard'],
    ['shift held', ')!)%)!@#$%^&*())', 'keyboard'],
    ['German, shift held', '=!=%=!"§$%&/()==', 'keyboard'],
    ['German prefix', `+d201${GTIN}`, 'keyboard'],
    ['French prefix', '$déà&à(à&é"', 'keyboard'],
    ['German brackets', `)01=${GTIN})17=271231`, 'keyboard'],
  ])('%s', (_, scan, words) => {
    const { code, field, message, next } = fault(scan);
    expect({ code, field }).toEqual({ code: 'unreadable', field: 'scan' });
    expect(message).toContain(words);
    expect(message).toMatch(/^Scan: .*\.$/);
    expect(next).toMatch(/\.$/);
  });

  it('refuses a day that is none and fields it does not know', () => {
    expect(refused(() => read('5012345678900', '2026-06-31'))).toMatchObject({
      code: 'bad-day',
      field: 'on',
    });
    expect(refused(() => workOut('barcode', { code: '1' }))).toMatchObject({ code: 'bad-input' });
  });

  it('answers the worst of digits within a moment', () => {
    const before = performance.now();
    for (const part of ['1021', '2110', '10', '217101', '1727']) {
      for (let length = 1; length <= 200; length += 7) {
        const scan = `01${GTIN}10${part.repeat(100)}`.slice(0, length);
        try {
          read(scan);
        } catch (thrown) {
          expect(thrown).toMatchObject({ name: 'Refusal', field: 'scan' });
        }
      }
    }
    expect(performance.now() - before).toBeLessThan(5000);
  });
});
