import type { Reporter, TestModule } from 'vitest/node';

/** Prints the one closing line that a gate can read: `N passed, N failed, N skipped`. */
export default class CountReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    const count = { passed: 0, failed: errors.length, skipped: 0, pending: 0 };
    for (const module of modules) {
      // A file that fails to load has no tests to count, yet must not pass unseen.
      if (module.state() === 'failed' && [...module.children.allTests()].length === 0) count.failed += 1;
      for (const test of module.children.allTests()) count[test.result().state] += 1;
    }
    process.stdout.write(
      `\n${count.passed} passed, ${count.failed} failed, ${count.skipped + count.pending} skipped\n`,
    );
  }
}
