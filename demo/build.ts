import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { openDesk } from '../src-main/answers/desk.ts';
import { autumn2024 } from './chapters/autumn-2024.ts';
import { autumn2025 } from './chapters/autumn-2025.ts';
import { autumn2026 } from './chapters/autumn-2026.ts';
import { spring2025 } from './chapters/spring-2025.ts';
import { spring2026 } from './chapters/spring-2026.ts';
import { summer2025 } from './chapters/summer-2025.ts';
import { summer2026 } from './chapters/summer-2026.ts';
import { LAST_DAY } from './farm.ts';
import { type Player, playerOf } from './player.ts';
import { type Scenario, scenarioOf } from './scenario.ts';

export type Built = {
  book: string;
  entries: number;
  checkCode: string;
  papers: { record: string; declaration: string };
};

/** The story of the farm in the order in which it happened. */
const CHAPTERS: readonly ((scenario: Scenario) => Promise<void>)[] = [
  autumn2024,
  spring2025,
  summer2025,
  autumn2025,
  spring2026,
  summer2026,
  autumn2026,
];
/** The treatment record that is printed covers the last half year. */
const RECORD_FROM = '2026-05-20';

/**
 * Builds the demo farm in a new book and writes its two papers into `out`. Everything goes through the calls, under a
 * clock and ids of the demo's own, so that the head of the journal is the same each time.
 */
export async function buildDemo(ask: { book: string; out: string }): Promise<Built> {
  const player = playerOf((clock) => openDesk({ book: ask.book, clock }));
  try {
    const scenario = scenarioOf(player);
    for (const chapter of CHAPTERS) await chapter(scenario);
    const record = await player.ask('book-paper', {
      holding: scenario.holding(),
      from: RECORD_FROM,
      to: LAST_DAY,
    });
    const { declarations } = await player.ask('declarations', { limit: 1 });
    const { head } = await player.ask('farm', {});
    return {
      book: ask.book,
      entries: head.seq,
      checkCode: head.checkCode,
      papers: {
        record: await writePaper(player, record.paper, path.join(ask.out, 'DEMO-treatment-record.pdf')),
        declaration: await writePaper(
          player,
          declarations[0]?.paper ?? '',
          path.join(ask.out, 'DEMO-declaration.pdf'),
        ),
      },
    };
  } finally {
    await player.close();
  }
}

async function writePaper(player: Player, hash: string, file: string): Promise<string> {
  const paper = await player.paper(hash);
  if (!paper) throw new Error('A paper of the demo was made and is not in its book.');
  writeFileSync(file, paper.bytes);
  return file;
}
