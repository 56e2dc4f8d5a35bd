import { BaseSequencer, type TestSpecification } from 'vitest/node';

/**
 * Files that take longest, the longest first; measured, and only their order matters. Without it one of them may
 * be the last to start, and one of the two workers then waits for it alone.
 */
const LONGEST = [
  'tests/e2e/day-keyboard.test.ts',
  'tests/day/terminal.test.ts',
  'tests/e2e/axe.test.ts',
  'tests/e2e/treat.test.ts',
  'tests/demo/farm.test.ts',
  'tests/e2e/where.test.ts',
  'tests/e2e/label-styles.test.ts',
  'tests/e2e/day-mouse.test.ts',
  'tests/e2e/start.test.ts',
  'tests/e2e/markup.test.ts',
  'tests/e2e/cabinet.test.ts',
  'tests/e2e/killed.test.ts',
  'tests/e2e/declare.test.ts',
  'tests/e2e/book.test.ts',
  'tests/faults/kill.test.ts',
  'tests/answers/backup.test.ts',
  'tests/property/histories.test.ts',
];

const rank = ({ moduleId }: TestSpecification): number => {
  const at = LONGEST.findIndex((name) => moduleId.replaceAll('\\', '/').endsWith(name));
  if (at >= 0) return at;
  // What needs a browser takes longer than what does not.
  return LONGEST.length + (moduleId.includes('e2e') ? 0 : 1);
};

/** The longest files first; the others as they would come anyway. */
export default class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const usual = await super.sort(files);
    return usual.toSorted((a, b) => rank(a) - rank(b));
  }
}
