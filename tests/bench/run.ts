import { cpus, loadavg } from 'node:os';
import { parseArgs } from 'node:util';
import { largeBook } from './book-figures.ts';
import { browserFigures } from './browser-figures.ts';
import { clearList, doseAndTreat, flockImport, flockReading } from './desk-figures.ts';
import { type Farms, lazyFarms } from './farms.ts';
import { type Line, printLine } from './measure.ts';
import { bookPaper, doses, drafts, firstLoadSize } from './other-figures.ts';
import { journalAppend, journalReplay } from './store-figures.ts';

// npm run bench: times of this program on this machine, each beside something that it can be compared with.
// `--only NAME` measures one of them.

/** In this order: what adds entries to the shared books comes after what reads them. */
const FIGURES: Readonly<Record<string, (farms: Farms) => Promise<Line[]>>> = {
  append: journalAppend,
  doses,
  drafts,
  'first-load': firstLoadSize,
  paper: bookPaper,
  book: largeBook,
  import: flockImport,
  replay: journalReplay,
  'clear-list': clearList,
  animals: flockReading,
  browser: browserFigures,
  treat: doseAndTreat,
};

const say = (line: string): void => {
  process.stdout.write(`${line}\n`);
};

function chosen(): string[] {
  const { only } = parseArgs({ options: { only: { type: 'string' } }, strict: true }).values;
  if (only === undefined) return Object.keys(FIGURES);
  if (Object.hasOwn(FIGURES, only)) return [only];
  throw new Error(`there is no figure called ${only}; there are: ${Object.keys(FIGURES).join(', ')}`);
}

async function measure(names: readonly string[]): Promise<void> {
  const processors = cpus();
  const load = loadavg()[0] ?? 0;
  say(`Foldbook, measured on ${new Date().toISOString().slice(0, 10)}`);
  say(
    `${processors.length} processors (${processors[0]?.model.trim() ?? 'unknown'}), ${process.platform} ${process.arch}, Node.js ${process.versions.node}`,
  );
  say(
    `Other work on the machine as it began: load ${load.toFixed(1)}. Figures of a busy machine are too high.`,
  );
  say('The middle of all runs, with the least and the most in brackets.\n');
  const farms = lazyFarms(say);
  try {
    for (const name of names) {
      for (const line of (await FIGURES[name]?.(farms)) ?? []) say(`${name}: ${printLine(line)}`);
    }
  } finally {
    await farms.close();
  }
}

await measure(chosen());
