import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import type { Reader } from '../../store/store.ts';
import { medicineName, termsReader } from '../reading/labels.ts';
import { subjectsOf } from '../reading/subjects.ts';

type Kind = 'volume' | 'mass' | 'pieces';

type Move = {
  medicine: string;
  kind: Kind;
  revision: string;
  container: string;
  label: string;
  batch: string;
  at: string;
  local: string;
  cause: string;
  units: number;
  note: string | null;
  administration: string | null;
  treated: string | null;
  heads: number | null;
};

/**
 * What the movements of a period come to, in base units (µL, µg, pieces): `opening + received − used − lost − disposed
 * + corrected = closing`. Made up counts as received and what went into it as used; returned counts as disposed;
 * corrected is what counts found more (or less, below zero) than the book had.
 */
export type BalanceSums = {
  opening: number;
  received: number;
  used: number;
  lost: number;
  disposed: number;
  corrected: number;
  closing: number;
};

/** One movement with what the book had of the medicine after it. */
export type BalanceRow = Pick<Move, 'local' | 'container' | 'label' | 'batch' | 'cause' | 'units'> & {
  note: string;
  administration: string | undefined;
  /** Who got it, with the heads where they are several; nothing for what went elsewhere. */
  treated: string;
  balance: number;
  /** What a count found in the container. */
  found: number | undefined;
};

/** One medicine, in one way of measuring it. */
export type Balance = {
  medicine: string;
  name: string;
  kind: Kind;
  sums: BalanceSums;
  /** Those of which there was some, or that moved. */
  batches: { batch: string; sums: BalanceSums }[];
  rows: BalanceRow[];
  /** An amount of it in words; below zero with a minus sign. */
  text: (units: number) => string;
};

const SUM_OF: Readonly<Record<string, keyof BalanceSums>> = {
  received: 'received',
  'made-up': 'received',
  drawn: 'used',
  'used-to-make': 'used',
  lost: 'lost',
  disposed: 'disposed',
  returned: 'disposed',
  counted: 'corrected',
};

const nothing = (): BalanceSums => ({
  opening: 0,
  received: 0,
  used: 0,
  lost: 0,
  disposed: 0,
  corrected: 0,
  closing: 0,
});

/** Takes a movement into sums; one from before the period only opens them. */
function take(sums: BalanceSums, { cause, units }: Move, isBefore: boolean): void {
  sums.closing += units;
  if (isBefore) {
    sums.opening += units;
    return;
  }
  const of = SUM_OF[cause];
  if (of === undefined) throw new Error(`no column of the balance is for what was ${cause}`);
  sums[of] += of === 'received' || of === 'corrected' ? units : -units;
}

/**
 * Every medicine with what moved it in a period, in the order it happened, and what the book had of it after each; by
 * name. What is measured in two ways (a powder, and what was made up of it) is there twice.
 * @param range instants, the first included and the last not
 * @param filter one medicine; batches in whose number this text stands
 */
export function balances(
  tx: Reader,
  range: { from: string; to: string },
  filter: { medicine?: string | undefined; batch?: string | undefined },
): Balance[] {
  const moves = tx.all<Move>(
    `SELECT c.medicine, c.kind, c.revision, c.id AS container, c.label, coalesce(b.number, c.batch_text, '') AS batch,
       m.at, m.local, m.cause, m.units, m.note, m.administration, a.subject AS treated, a.heads
     FROM movement AS m JOIN container AS c ON c.subject = m.subject
     LEFT JOIN batch AS b ON b.id = c.batch
     LEFT JOIN administration AS a ON a.id = m.administration
     WHERE m.at < ? AND (? IS NULL OR c.medicine = ?) ORDER BY m.at, m.seq, m.i`,
    range.to,
    filter.medicine ?? null,
    filter.medicine ?? null,
  );
  const key = searchKey(filter.batch ?? '');
  const pages = new Map<string, Move[]>();
  for (const move of moves) {
    if (key !== '' && !searchKey(move.batch).includes(key)) continue;
    const page = `${move.medicine} ${move.kind}`;
    const own = pages.get(page);
    if (own) own.push(move);
    else pages.set(page, [move]);
  }
  const termsOf = termsReader(tx);
  const who = whoReader(tx);
  return [...pages.values()]
    .map((own) => balanceOf(tx, own, range.from, who, (revision) => termsOf(revision)?.piece))
    .sort((a, b) => a.name.localeCompare(b.name, 'en'));
}

function balanceOf(
  tx: Reader,
  moves: readonly Move[],
  from: string,
  who: (subject: string) => string,
  wordOf: (revision: string) => string | undefined,
): Balance {
  const [first] = moves;
  if (!first) throw new Error('a medicine that never moved has no balance');
  const { medicine, kind } = first;
  const word = wordOf(first.revision);
  const sums = nothing();
  const batches = new Map<string, BalanceSums>();
  const inContainer = new Map<string, number>();
  const rows: BalanceRow[] = [];
  for (const move of moves) {
    const isBefore = move.at < from;
    const ofBatch = batches.get(move.batch) ?? nothing();
    batches.set(move.batch, ofBatch);
    take(sums, move, isBefore);
    take(ofBatch, move, isBefore);
    const left = (inContainer.get(move.container) ?? 0) + move.units;
    inContainer.set(move.container, left);
    if (isBefore) continue;
    const { local, container, label, batch, cause, units } = move;
    const heads = (move.heads ?? 1) > 1 ? `, ${move.heads} head` : '';
    rows.push({
      ...{ local, container, label, batch, cause, units },
      note: move.note ?? '',
      administration: move.administration ?? undefined,
      treated: move.treated === null ? '' : `${who(move.treated)}${heads}`,
      balance: sums.closing,
      found: cause === 'counted' ? left : undefined,
    });
  }
  return {
    ...{ medicine, kind, sums, rows },
    name: medicineName(tx, medicine),
    // What was used up before and did not move since is of no interest.
    batches: [...batches]
      .filter(([, own]) => Object.values(own).some((units) => units !== 0))
      .map(([batch, own]) => ({ batch, sums: own })),
    text(units) {
      const amount = printAmount(amountOf(kind, Math.abs(units)), word);
      return units < 0 ? `−${amount}` : amount;
    },
  };
}

/** Animals and lots as they are called now, each looked up once. */
function whoReader(tx: Reader): (subject: string) => string {
  const known = new Map<string, string>();
  return (subject) => {
    const found = known.get(subject) ?? subjectsOf(tx, [subject])[0]?.shown ?? subject;
    known.set(subject, found);
    return found;
  };
}

const WORDS: Readonly<Record<string, string>> = {
  received: 'Received',
  'made-up': 'Made up',
  'used-to-make': 'Used to make up',
  drawn: 'Given',
  lost: 'Lost',
  disposed: 'Disposed of',
  returned: 'Returned',
};

/** What a movement was, in words: "Lost: spilt", "Counted, 340 mL found: nobody knows why". */
export function balanceWords({ cause, note, found, units }: BalanceRow, text: Balance['text']): string {
  const what =
    found === undefined
      ? (WORDS[cause] ?? cause)
      : `Counted, ${text(found)} found${units === 0 ? ' as the book had it' : ''}`;
  return [what, note].filter((part) => part !== '').join(': ');
}

/** Which container, and of what batch. */
export function containerWords({ label, batch }: Pick<BalanceRow, 'label' | 'batch'>): string {
  return `${label}${batch === '' ? '' : `, batch ${batch}`}`;
}
