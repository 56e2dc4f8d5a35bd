import { expect, test } from 'vitest';
import { lineParts } from '../../src-renderer/parts/words.ts';

/** The text with the spaces at which no line may end made visible. */
const shown = (text: string) =>
  lineParts(text)
    .map((part, n) => (n % 2 === 0 ? part : part.replaceAll(' ', '_')))
    .join('');

test('a number keeps its unit, a day and a tag stay in one piece', () => {
  expect(shown('62.5 kg on 4 Nov 2026, 00:00')).toBe('62.5_kg on 4_Nov_2026,_00:00');
  expect(shown('Marlexan 2.5 % drench, 28 d; milk 84 h')).toBe('Marlexan 2.5_% drench, 28_d; milk 84_h');
  expect(shown('UK 0 999999 00112: 1.5 mL, 20 g, 300 mg, 5 µg, 2 L, 4 IU')).toBe(
    'UK_0_999999_00112: 1.5_mL, 20_g, 300_mg, 5_µg, 2_L, 4_IU',
  );
});

test('the number of a container is not broken at its hyphens', () => {
  const parts = (text: string) => lineParts(text).filter((_, n) => n % 2 === 1);
  expect(parts('2246 mL will not be used up, in CP-2502-1, which ends; OV6-2608-2 too.')).toEqual([
    '2246 mL',
    'CP-2502-1',
    'OV6-2608-2',
  ]);
  expect(parts('A pour-on or dry-off tube, the follow-up, EU-LAW')).toEqual([]);
});

test('words that only begin like a unit are left alone', () => {
  for (const text of ['2 head', '3 days', '4 good ewes', '5 Lambs', '6 hours', '7 kids', '12 May be late']) {
    expect(shown(text)).toBe(text);
  }
});
