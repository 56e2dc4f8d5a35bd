/** The columns of an empty list, by names that are understood, and three lines as they may look. All invented. */
export const sampleHead = ['Tag', 'Own number', 'Class', 'Sex', 'Born', 'Group'] as const;

export const sampleLines: readonly (readonly string[])[] = [
  ['UK 0 999999 00001', '17', 'ewe', 'female', '2022-04-13', 'Low field'],
  ['UK 0 999999 00002', '18', 'ewe lamb', 'female', '2026-03-29', 'Low field'],
  ['UK 0 999999 00003', '', 'ram', 'male', '2021-03-02', ''],
];

/** The lines as a file holds them; without `lines` the head alone, to be filled in. */
export function sampleText(lines: readonly (readonly string[])[] = []): string {
  return [sampleHead, ...lines].map((line) => `${line.join(',')}\r\n`).join('');
}
