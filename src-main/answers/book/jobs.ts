import { z } from 'zod';
import type { Kinds } from '../../store/journal.ts';
import { readSnapshot } from '../../store/reading.ts';
import type { Job } from '../../work/serve.ts';
import { holdingOf } from '../reading/holding.ts';
import { findGaps, type GapsFound } from './find-gaps.ts';
import { type PackAsk, type PackMade, packAsk, writePack } from './pack.ts';
import { makeVolumes, type Volumes, type VolumesAsk, volumesAsk } from './volumes.ts';

/** The long work on the medicine book, each from a connection of its own: what it takes and answers. */
export type BookWork = {
  'book-gaps': { input: GapsAsk; answer: GapsFound };
  'book-volumes': { input: VolumesAsk; answer: Volumes };
  pack: { input: PackAsk; answer: PackMade };
};

const gapsAsk = z.strictObject({ book: z.string(), holding: z.string(), from: z.string(), to: z.string() });
type GapsAsk = z.output<typeof gapsAsk>;

/** The jobs of the medicine book for the worker, or for this thread where there is none. */
export function bookJobs(kinds: Kinds): Readonly<Record<keyof BookWork, Job>> {
  return {
    'book-gaps'(input, { progress }) {
      const { book, holding, ...range } = gapsAsk.parse(input);
      return readSnapshot(book, kinds, ({ read }) =>
        findGaps(read, holdingOf(read, holding), range, progress),
      );
    },
    'book-volumes'(input, { progress }) {
      const ask = volumesAsk.parse(input);
      return readSnapshot(ask.book, kinds, (book) => makeVolumes(book, ask, progress));
    },
    pack(input, { progress }) {
      const ask = packAsk.parse(input);
      return readSnapshot(ask.book, kinds, (book) => writePack(book, ask, progress));
    },
  };
}
