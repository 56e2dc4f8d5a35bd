import fc from 'fast-check';
import { expect, test } from 'vitest';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import { openStore } from '../../src-main/store/store.ts';
import { verifyBook } from '../../src-main/store/verify.ts';
import { afterwards, bookPlace, bounded } from '../model/book-place.ts';
import { answersOf, difference, linesOf } from '../model/compare-book.ts';
import { type DeskScript, deskScripts } from '../model/desk-script.ts';
import { type Model, RULES, secondModel } from '../model/model.ts';
import { type HistoryDesk, historyDesk, playDesk, type Tally } from '../model/play-desk.ts';
import { atTime, wallClock } from '../model/zones.ts';
import { seeded } from './seed.ts';

const runs = Number(process.env.FOLDBOOK_RUNS ?? 25);
const ZONE = 'Europe/London';
const MOST_TIMES = 8;
/** The calls a history is made of: each must be taken at least once in all histories together. */
const CALLED = [
  'treat',
  'open-session',
  'treat-many',
  'close-session',
  'move-heads',
  'move-stock',
  'receive-batch',
  'depart',
  'void',
  'correct-treatment',
  'set-label',
  'resolve-possible',
  'close-course',
];

const HELD = { meat: '7 d', milk: '72 h' } as const;
/** One history in which every call is taken, so that none is left to chance. */
const EVERY_CALL: DeskScript = {
  counting: 'later',
  marginDays: 1,
  labels: [HELD, HELD],
  steps: [
    {
      do: 'treat',
      when: '2026-03-28',
      subject: 0,
      medicine: 0,
      heads: 1,
      given: undefined,
      vets: false,
      lost: '1 mL',
      course: 2,
    },
    { do: 'close-course', pick: 0 },
    { do: 'move', when: '2026-03-27', from: 0, heads: 3, to: 'new', which: 0 },
    {
      do: 'session',
      opens: '2026-03-28T08:00',
      when: '2026-03-28T17:00',
      closes: '2026-03-29',
      medicines: [0],
      mass: true,
      first: 4,
      tally: 4,
      marked: true,
      missed: 1,
    },
    { do: 'resolve', when: undefined, pick: 0 },
    { do: 'label', medicine: 0, periods: { meat: '28 d', milk: '36 h' } },
    { do: 'correct', pick: 0, subject: undefined, local: '2026-03-29T08:00', given: '2 mL' },
    {
      do: 'receive',
      when: '2026-03-30',
      medicine: 1,
      insert: { meat: '1 d', milk: undefined },
      size: '50 mL',
    },
    { do: 'stock', when: '2026-03-31', container: 0, cause: 'counted', amount: '20 mL' },
    { do: 'depart', when: undefined, subject: 1, heads: 1 },
    { do: 'void', pick: 1 },
  ],
};

/** Local times about every end of a hold, to the minute, as a person may ask for them. */
function timesToAsk(model: Model): string[] {
  const times = new Set<string>();
  for (const bar of [...model.bars.values()].flat()) {
    if (!Number.isFinite(bar.clear)) continue;
    for (const minutes of [-1, 0, 1]) times.add(wallClock(bar.clear + minutes * 60_000, ZONE));
  }
  const all = [...times];
  const every = Math.max(1, Math.floor(all.length / MOST_TIMES));
  return ['2026-05-02T08:00', ...all.filter((_time, i) => i % every === 0)];
}

async function compareAnswers(desk: HistoryDesk, model: Model): Promise<void> {
  for (const at of timesToAsk(model)) {
    for (const produce of ['meat', 'milk'] as const) {
      const list = await desk.must('clear-list', { produce, at });
      const clear = list.clear.map((each) => each.subject).sort();
      const mine = [...model.present.keys()].filter((subject) =>
        model.mayTake(subject, produce, atTime(at, ZONE)),
      );
      expect({ produce, at, clear }).toEqual({ produce, at, clear: mine.sort() });
    }
  }
}

test('whatever is told to the desk, its clear list and its balances are those of the second model', async () => {
  const tally: Tally = { taken: new Map(), refused: new Map() };
  await fc.assert(
    fc.asyncProperty(deskScripts, async (script) => {
      const place = bookPlace();
      try {
        const desk = historyDesk(place.path, tally);
        await playDesk(desk, script);
        const store = openStore(place.path, storeParts, afterwards(), { readonly: true });
        // The desk fits the written instants to what else is known (never after now, never before the thing came).
        const model = secondModel(linesOf(store), {
          ...RULES,
          orderOf: (line) => Date.parse(line.happened.at),
        });
        const book = answersOf(store.read);
        store.close();
        expect(difference(book, model)).toBeUndefined();
        for (const [container, left] of book.balances) expect(book.sums.get(container)).toBe(left);
        await compareAnswers(desk, model);
        await desk.close();
        expect(verifyBook(place.path, storeParts)).toMatchObject({ ok: true, problems: [] });
      } finally {
        place.clear();
      }
    }),
    { ...bounded(seeded('histories told to the desk', runs)), examples: [[EVERY_CALL]] },
  );
  console.log(`taken ${JSON.stringify([...tally.taken])}\nrefused ${JSON.stringify([...tally.refused])}`);
  for (const name of CALLED) expect([name, tally.taken.get(name) ?? 0]).not.toEqual([name, 0]);
}, 600_000);
