import { renderPaper } from '../../src-main/paper/render.ts';
import { doseForLine } from '../../src-shared/dose/dose.ts';
import { planDraft } from '../../src-shared/dose/draft.ts';
import { printWorking } from '../../src-shared/dose/working.ts';
import { labelTermsSchema } from '../../src-shared/label/terms.ts';
import { parseAmount, printAmount } from '../../src-shared/quantity/amount.ts';
import { parseRate } from '../../src-shared/quantity/rate.ts';
import { parseWeight } from '../../src-shared/quantity/weight.ts';
import { DRENCH } from '../answers/farm-desk.ts';
import { FIRST_LOAD_MOST_BYTES, firstLoad } from '../e2e/first-load.ts';
import { prepareScreens } from '../e2e/setup.ts';
import { madeUpRecord, madeUpRow } from '../paper/made-up.ts';
import { byTurns, type Line, timed } from './measure.ts';

const DOSES = 100_000;
const PAPER_WORKER = new URL('../../src-main/paper/worker.ts', import.meta.url);

/** Doses by a label line into a syringe with marks, with the working as data, and then as the lines a person reads. */
export async function doses(): Promise<Line[]> {
  const terms = labelTermsSchema.parse(structuredClone(DRENCH));
  const syringe = {
    capacity: parseAmount('20 mL', 'capacity'),
    graduation: parseAmount('0.5 mL', 'graduation'),
  };
  const weights = Array.from({ length: 997 }, (_, i) => parseWeight(`${25 + i / 10} kg`, 'weight'));
  let letters = 0;
  const all = (look: (answer: ReturnType<typeof doseForLine>) => number) => () => {
    for (let n = 0; n < DOSES; n += 1) {
      letters += look(
        doseForLine(terms, 'd1', { class: 'ewe', weight: weights[n % weights.length], syringe }),
      );
    }
  };
  const [asData, printed] = await byTurns(
    3,
    all((answer) => answer.working.length),
    all((answer) => printAmount(answer.draw).length + printWorking(answer.working).length),
  );
  if (asData === undefined || printed === undefined || letters === 0) throw new Error('nothing was measured');
  return [
    {
      what: '100,000 doses by a label line, with working printed',
      was: printed,
      beside: { what: 'with working as data', was: asData },
    },
  ];
}

const DRAFTED = 5000;

/** A draft of weights that all differ into four parts, beside one of a pen's worth. */
export async function drafts(): Promise<Line[]> {
  const rate = parseRate('1 mL per 5 kg', 'rate');
  const step = parseAmount('0.5 mL', 'step');
  const weights = Array.from({ length: DRAFTED }, (_, i) => ({
    id: `a${i}`,
    // 20 to 80 kg, 12 g apart, in no order.
    weight: parseWeight(`${(20 + ((i * 7919) % DRAFTED) * 0.012).toFixed(3)} kg`, 'weight'),
  }));
  const distinct = new Set(weights.map(({ weight }) => weight.value)).size;
  if (distinct !== DRAFTED) throw new Error(`only ${distinct} of the weights differ`);
  let parts = 0;
  const draft = (some: typeof weights) => () => {
    parts += planDraft({ weights: some, rate, step, parts: 4 }).chosen.parts.length;
  };
  draft(weights)();
  const [was, beside] = await byTurns(5, draft(weights), draft(weights.slice(0, 50)));
  if (was === undefined || beside === undefined || parts === 0) throw new Error('nothing was measured');
  return [
    {
      what: 'Draft of 5,000 weights into 4 parts, no two alike',
      was,
      beside: { what: 'a draft of 50', was: beside },
    },
  ];
}

/** What a window loads before the first screen, compressed as a server would; a size and no time. */
export async function firstLoadSize(): Promise<Line[]> {
  const { files, gzipBytes } = firstLoad(await prepareScreens());
  return [
    {
      what: `First load of the built screens before any lazy screen: ${files.length} files, compressed (gzip)`,
      was: { values: [gzipBytes / 1000], unit: 'kB' },
      limit: FIRST_LOAD_MOST_BYTES / 1000,
    },
  ];
}

/** A treatment record as a PDF, in the thread that papers are made in. */
export async function bookPaper(): Promise<Line[]> {
  const paper = (rows: number) => ({
    paper: 'treatment-record',
    data: madeUpRecord(Array.from({ length: rows }, (_, i) => madeUpRow(i + 1))),
  });
  const [thousand, ten] = [paper(1000), paper(10)];
  await timed(() => renderPaper(ten, PAPER_WORKER));
  const [was, beside] = await byTurns(
    3,
    () => renderPaper(thousand, PAPER_WORKER),
    () => renderPaper(ten, PAPER_WORKER),
  );
  if (was === undefined || beside === undefined) throw new Error('nothing was measured');
  return [
    {
      what: 'A treatment record of 1,000 rows as a PDF, in a thread started for it',
      was,
      beside: { what: 'one of 10 rows', was: beside },
    },
  ];
}
