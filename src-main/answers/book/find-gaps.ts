import type { z } from 'zod';
import type { bookGap } from '../../../src-shared/calls/record.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { BookLine, RecordAct } from '../../../src-shared/record/columns.ts';
import { recordActOf } from '../../../src-shared/record/columns.ts';
import { type Gap, gapKey, gapsOf } from '../../../src-shared/record/gaps.ts';
import type { ItemContext } from '../../../src-shared/record/items.ts';
import { type Profile, profilesFor } from '../../../src-shared/record/profiles.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import { bookItems } from '../reading/book.ts';
import { lateness, lineMaker } from '../reading/book-lines.ts';
import { type Holding, recordOf } from '../reading/holding.ts';
import { printLocal } from '../reading/labels.ts';
import { stockLines } from '../reading/stock-lines.ts';
import { explanationsOf } from './explained.ts';
import { findPossible } from './find-possible.ts';

export type BookGap = z.output<typeof bookGap>;
export type GapsFound = { gaps: BookGap[]; looked: Record<RecordAct, number> };

/** How many treatments are read at once. */
const AT_ONCE = 1000;

/** The profiles a holding's book is kept by. */
export function profilesOf(tx: Reader, holding: Pick<Holding, 'holding' | 'law'>): Profile[] {
  return profilesFor(
    holding.law,
    recordOf<DataOf<'record-rules-set'>>(tx, 'record-rules', holding.holding) ?? {},
  );
}

/**
 * Everything that the profiles of a holding ask for and what stands in a period does not say, newest first.
 * @param range instants, the first included and the last not
 */
export function findGaps(
  tx: Reader,
  holding: Holding,
  range: { from: string; to: string },
  onProgress: (done: number, total: number) => void = () => {},
): GapsFound {
  const profiles = profilesOf(tx, holding);
  const context: ItemContext = { milk: holding.milk };
  const make = lineMaker(tx);
  const said = explanationsOf(tx);
  const looked: GapsFound['looked'] = { purchase: 0, administration: 0, disposal: 0 };
  const found: { at: string; gap: BookGap }[] = [];
  const total =
    tx.get<{ n: number }>(
      'SELECT count(*) AS n FROM administration WHERE holding = ? AND at >= ? AND at < ?',
      holding.holding,
      range.from,
      range.to,
    )?.n ?? 0;

  const look = (line: BookLine, at: string, about: About) => {
    const act = recordActOf(line);
    if (act === undefined || line.state !== 'stands') return;
    looked[act] += 1;
    for (const gap of gapsOf(line, profiles, context, lateness(wroteOf(line)))) {
      const shown = shownGap(line, act, gap, profiles, about);
      found.push({ at, gap: { ...shown, ...optional('explained', said.get(shown.gap)) } });
    }
  };

  for (const placed of stockLines(tx, make, range)) {
    look(placed.line, placed.at, { medicine: placed.medicine });
  }
  let after: { at: string; seq: number } | undefined;
  for (;;) {
    const items = bookItems(tx, { ...range, holding: holding.holding, after, limit: AT_ONCE });
    for (const item of items) {
      if (!item.stands) continue;
      const line = make.given(item).at(-1);
      const { administration, medicine } = item.stands;
      if (line) look(line, item.at, { administration, medicine, vet: vetOf(tx, line) });
    }
    onProgress(Math.min(looked.administration, total), total);
    const last = items.at(-1);
    if (!last || items.length < AT_ONCE) break;
    after = { at: last.at, seq: last.seq };
  }
  found.push(...findPossible(tx, holding.holding, range, profiles));
  found.sort((a, b) => (a.at < b.at ? 1 : a.at > b.at ? -1 : 0));
  const gaps = found.map(({ gap }) => gap);
  return {
    gaps: [...gaps.filter((gap) => !gap.explained), ...gaps.filter((gap) => gap.explained)],
    looked,
  };
}

const wroteOf = ({ happened, zone, written }: BookLine) => ({ local: happened, zone, written });

type About = { administration?: string; medicine: string; vet?: string | undefined };

/** The vet a line names, as a person of the book: where a telephone number is missing it is written there. */
function vetOf(tx: Reader, line: BookLine): string | undefined {
  if (line.prescriber === '') return undefined;
  return tx.get<{ id: string }>(
    "SELECT id FROM record WHERE what = 'person' AND name = ? ORDER BY id LIMIT 1",
    line.prescriber,
  )?.id;
}

function shownGap(
  line: BookLine,
  act: RecordAct,
  gap: Gap,
  profiles: readonly Profile[],
  about: About,
): BookGap {
  const [request = '', n = '1'] = line.entry.split('#');
  const key = gapKey(line.entry, gap.item);
  const batch = line.batch === '' ? '' : `batch ${line.batch}`;
  const what = [printLocal(line.happened), line.medicine, batch, line.animal].filter((part) => part !== '');
  return {
    gap: key,
    act,
    item: gap.item,
    missing: gap.missing,
    text: `${what.join(', ')}: ${gap.missing}.`,
    asked: gap.profiles.map((id) => profiles.find((profile) => profile.id === id)?.name ?? id),
    happened: line.happened,
    entry: { request, n: Number(n) },
    mend: mendOf(gap.item, line, about),
  };
}

/** The one step that mends a gap. */
function mendOf(item: Gap['item'], line: BookLine, about: About): BookGap['mend'] {
  const { administration, medicine, vet } = about;
  const complete = (deed: string) => ({ how: 'complete' as const, deed });
  const label = { how: 'label' as const, deed: 'Type what the insert says', medicine };
  switch (item) {
    case 'late':
      return { how: 'explain', deed: 'Say why it was late' };
    case 'supplier':
    case 'supplier-address':
      return complete('Fill in the supplier');
    case 'proof':
      return complete('Fill in the proof');
    case 'disposed-how':
    case 'disposed-where':
      return complete(item === 'disposed-how' ? 'Fill in how' : 'Fill in where');
    case 'prescriber':
    case 'prescription':
      return complete('Name the prescription');
    case 'prescriber-contact':
      return vet === undefined
        ? complete('Name the prescription')
        : { how: 'person', deed: "Write down the vet's address", person: vet };
    case 'vet-batch':
    case 'given-batch':
    case 'given-expiry':
      // What came out of our own bottles has the batch of the bottle; what others brought is typed.
      return line.from === '' && administration !== undefined
        ? { how: 'correct', deed: 'Correct the treatment', administration }
        : complete('Fill in the batch');
    case 'bought-strength':
    case 'bought-form':
      return label;
    case 'meat-period':
    case 'meat-until':
    case 'milk-period':
    case 'milk-until':
      // A treatment beside the label has no period of the label: there the vet has to state one.
      if (line.deviations === '' && medicine !== '') return label;
      break;
  }
  return administration === undefined
    ? { how: 'explain', deed: 'Say why it is missing' }
    : { how: 'correct', deed: 'Correct the treatment', administration };
}
