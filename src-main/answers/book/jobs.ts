import { z } from 'zod';
import type { Kinds } from '../../store/journal.ts';
import { readSnapshot } from '../../store/reading.ts';
import type { Job } from '../../work/serve.ts';
import { bookFilter } from './filter.ts';
import type { GapsFound } from './find-gaps.ts';
import type { PackAsk, PackMade } from './pack.ts';
import type { Volumes, VolumesAsk } from './volumes.ts';

/** The long work on the medicine book, each from a connection of its own: what it takes and answers. */
export type BookWork = {
  'book-gaps': { input: GapsAsk; answer: GapsFound };
  'book-volumes': { input: VolumesAsk; answer: Volumes };
  'book-table': { input: TableAsk; answer: { text: string; rows: number } };
  pack: { input: PackAsk; answer: PackMade };
};

const gapsAsk = z.strictObject({ book: z.string(), holding: z.string(), from: z.string(), to: z.string() });
type GapsAsk = z.output<typeof gapsAsk>;

const tableAsk = gapsAsk.extend({ filter: bookFilter });
type TableAsk = z.output<typeof tableAsk>;

/**
 * The jobs of the medicine book for the worker, or for this thread where there is none. What they are done with is
 * loaded when one begins: a thread that only copies the book has no use for a printing press.
 */
export function bookJobs(kinds: Kinds): Readonly<Record<keyof BookWork, Job>> {
  return {
    async 'book-gaps'(input, { progress }) {
      const { book, holding, ...range } = gapsAsk.parse(input);
      const [{ findGaps }, { holdingOf }] = await Promise.all([
        import('./find-gaps.ts'),
        import('../reading/holding.ts'),
      ]);
      return readSnapshot(book, kinds, ({ read }) =>
        findGaps(read, holdingOf(read, holding), range, progress),
      );
    },
    async 'book-volumes'(input, { progress }) {
      const { makeVolumes, volumesAsk } = await import('./volumes.ts');
      const ask = volumesAsk.parse(input);
      return readSnapshot(ask.book, kinds, (book) => makeVolumes(book, ask, progress));
    },
    async 'book-table'(input, { progress }) {
      const { book, holding, filter, ...range } = tableAsk.parse(input);
      const [{ collect, linesOf }, { writeBookCsv }] = await Promise.all([
        import('./collect.ts'),
        import('../../exchange/book-csv.ts'),
      ]);
      return readSnapshot(book, kinds, ({ read }) => {
        const lines = linesOf(read, collect(read, holding, range, filter, progress));
        return { text: writeBookCsv(lines), rows: lines.length };
      });
    },
    async pack(input, { progress }) {
      const { packAsk, writePack } = await import('./pack.ts');
      const ask = packAsk.parse(input);
      return readSnapshot(ask.book, kinds, (book) => writePack(book, ask, progress));
    },
  };
}
