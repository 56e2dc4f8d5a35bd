import { dayOf, type Instant } from '../../../src-shared/time/zone.ts';
import type { Clock, IssuedPaper } from '../../desk-type.ts';
import { cleanName } from '../../exchange/zip.ts';
import type { Store } from '../../store/store.ts';
import type { WorkTools } from '../../work/board.ts';
import type { Work } from '../../work/desk-work.ts';
import { MOST_SAVED_BYTES } from '../backup.ts';
import type { Answer } from '../context.ts';
import { daysOf } from '../reading/days.ts';
import { businessOf, holdingOf } from '../reading/holding.ts';
import { saveShelf, type Waiting } from '../save-shelf.ts';
import type { PackAsk } from './pack.ts';

type Pack = { name: string; entries: number; rows: number; files: number; checkCode: string };

/** Holds at most one inspector's pack between making it and saving it. */
export function packShelf(store: Store, clock: Clock) {
  const shelf = saveShelf<Pack>(
    `${store.path}.pack-to-save`,
    'pack',
    MOST_SAVED_BYTES,
    'Choose a shorter period.',
  );
  return {
    /** Refuses (`pack-under-way`, `pack-too-big`, `cancelled`; nothing of it is then left). */
    make: (work: Work, ask: Omit<PackAsk, 'book' | 'to' | 'now'>, tools: WorkTools): Promise<Waiting<Pack>> =>
      shelf.make(async () => {
        const now = clock();
        const input = { ...ask, book: store.path, to: shelf.path, now };
        const { entries, rows, files, checkCode } = await work('pack', input, tools);
        const { name, zone } = holdingOf(store.read, ask.holding);
        const day = dayOf(now as Instant, zone);
        const isDemo = businessOf(store.read)?.demo === true && !name.startsWith('DEMO');
        const file = `${isDemo ? 'DEMO-' : ''}pack-${cleanName(name, 'holding')}-${day}-entry-${entries}.zip`;
        return { name: file, entries, rows, files, checkCode };
      }),
    /** Hands the pack over, once. */
    async take(file: string): Promise<IssuedPaper | undefined> {
      const taken = await shelf.take(file);
      return taken && { ...taken, mime: 'application/zip' };
    },
    close: shelf.close,
  };
}
export type PackShelf = ReturnType<typeof packShelf>;

/** Answers `make-pack`. */
export const makePack: Answer<'make-pack'> = (context, asked) => {
  holdingOf(context.store.read, asked.holding);
  const { from, to: until } = daysOf(asked);
  const ask = {
    holding: asked.holding,
    from,
    until,
    ...(asked.paper === undefined ? {} : { size: asked.paper }),
  };
  return context.board.run(asked.work, (tools) => context.packs.make(context.work, ask, tools));
};
