import fc from 'fast-check';
import { expect, test } from 'vitest';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import { openStore } from '../../src-main/store/store.ts';
import { readDeclarationRows } from '../day/read-paper.ts';
import { afterwards, bookPlace, bounded } from '../model/book-place.ts';
import { linesOf } from '../model/compare-book.ts';
import { deskScripts } from '../model/desk-script.ts';
import { type Model, RULES, secondModel } from '../model/model.ts';
import { type HistoryDesk, historyDesk, playDesk, type Tally } from '../model/play-desk.ts';
import { atTime, wallClock } from '../model/zones.ts';
import { seeded } from './seed.ts';

const runs = Math.ceil(Number(process.env.FOLDBOOK_RUNS ?? 25) / 2);
const ZONE = 'Europe/London';
/** Papers of one history: the press takes longer than all the calls before it. */
const MOST_PAPERS = 2;

/** Times at which anything ends, a minute before, then and a minute after; and now. */
function departures(model: Model, now: string): string[] {
  const times = new Set<string>();
  for (const { produce, clear } of [...model.bars.values()].flat()) {
    if (produce !== 'meat' || !Number.isFinite(clear)) continue;
    for (const minutes of [-1, 0, 1]) times.add(wallClock(clear + minutes * 60_000, ZONE));
  }
  return [now, ...[...times].filter((time) => time > now).toSorted()];
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
/** The local time that a paper prints: "10 Mar 2026, 06:00". */
function timeIn(text: string, after: string): string | undefined {
  const found = new RegExp(`${after}\\s+(\\d{1,2}) (\\w{3}) (\\d{4}), (\\d{2}:\\d{2})`).exec(text);
  if (found === null) return undefined;
  const [, day = '', month = '', year, time] = found;
  return `${year}-${String(MONTHS.indexOf(month) + 1).padStart(2, '0')}-${day.padStart(2, '0')}T${time}`;
}

type Read = { said: number; heads: number };

/** Signs everybody whom the desk takes for clear, and judges by the second model what the paper itself says. */
async function readPaperOf(
  desk: HistoryDesk,
  model: Model,
  { departs, notBefore }: { departs: string; notBefore?: string },
): Promise<Read> {
  const nobody = { said: 0, heads: 0 };
  const { holdings, people } = await desk.must('farm', {});
  const holding = holdings[0]?.holding ?? '';
  const ask = {
    holding,
    to: 'Abattoir of the Test',
    departs,
    ...(notBefore === undefined
      ? {}
      : { notBefore: { at: notBefore, agreedWith: 'Lairage', agreedOn: '2026-05-01' } }),
  };
  const everybody = [...model.present.keys()].map((subject) => ({ subject }));
  if (everybody.length === 0) return nobody;
  const { lines, refused } = await desk.must('preview-declaration', { ...ask, subjects: everybody });
  const byName = new Map([...lines, ...refused].map((row) => [row.shown, row.subject]));
  if (lines.length === 0) return nobody;
  const made = await desk.tell('declare', {
    ...ask,
    subjects: lines.map(({ subject }) => ({ subject })),
    signer: people[0]?.person ?? '',
    answer: 'yes',
  });
  // Somebody stands on an open work sheet: refused as it should be.
  if (made === undefined) return nobody;
  const { base64 } = await desk.must('paper', { paper: made.paper });
  const { rows, text } = await readDeclarationRows(new Uint8Array(Buffer.from(base64, 'base64')));
  const at = timeIn(text, 'Not to be slaughtered before') ?? timeIn(text, 'Leaves the holding');
  if (at === undefined) throw new Error(`the paper does not say when they leave: ${text}`);
  expect(at).toBe(notBefore ?? departs);
  const names = [...new Set(rows.map(([shown = '']) => shown))];
  expect(names).toHaveLength(lines.length);
  for (const shown of names) {
    const subject = byName.get(shown);
    if (subject === undefined) throw new Error(`${shown} is on the paper and was not on the list`);
    expect({ shown, at, mayGo: model.mayTake(subject, 'meat', atTime(at, ZONE)) }).toEqual({
      shown,
      at,
      mayGo: true,
    });
  }
  return { said: 1, heads: names.length };
}

test('no paper for slaughter names anybody whose meat is not clear when they leave, by the second model', async () => {
  const tally: Tally = { taken: new Map(), refused: new Map() };
  const all = { papers: 0, names: 0, agreed: 0 };
  await fc.assert(
    fc.asyncProperty(deskScripts, fc.nat(), fc.boolean(), async (script, pick, isAgreed) => {
      const place = bookPlace();
      try {
        const desk = historyDesk(place.path, tally);
        await playDesk(desk, script);
        const store = openStore(place.path, storeParts, afterwards(), { readonly: true });
        const model = secondModel(linesOf(store), {
          ...RULES,
          orderOf: (line) => Date.parse(line.happened.at),
        });
        store.close();
        const now = '2026-05-02T08:00';
        const times = departures(model, now);
        for (let n = 0; n < MOST_PAPERS; n += 1) {
          const time = times[(pick + n * 7) % times.length] ?? now;
          const { said, heads } = await readPaperOf(
            desk,
            model,
            isAgreed ? { departs: now, notBefore: time } : { departs: time },
          );
          all.papers += said;
          all.names += heads;
          if (isAgreed) all.agreed += said;
        }
        await desk.close();
      } finally {
        place.clear();
      }
    }),
    bounded(seeded('papers of histories told to the desk', runs)),
  );
  console.log(`papers read ${JSON.stringify(all)}`);
  expect(all.papers).toBeGreaterThan(runs / 4);
  expect(all.agreed).toBeGreaterThan(0);
}, 600_000);
