import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import type { BookPart } from '../../paper/medicine-book.ts';
import type { Reader } from '../../store/store.ts';
import { medicineName, printLocal, termsReader } from '../reading/labels.ts';
import { subjectsOf } from '../reading/subjects.ts';

type Move = {
  medicine: string;
  kind: 'volume' | 'mass' | 'pieces';
  revision: string;
  label: string;
  batch: string;
  at: string;
  local: string;
  cause: string;
  units: number;
  note: string | null;
  treated: string | null;
  heads: number | null;
  product: string | null;
};

const WORDS: Readonly<Record<string, string>> = {
  received: 'Received',
  'made-up': 'Made up',
  'used-to-make': 'Used to make up',
  drawn: 'Given',
  lost: 'Lost',
  disposed: 'Disposed of',
  returned: 'Returned',
  counted: 'Counted otherwise',
};

type BalancePart = Extract<BookPart, { kind: 'balance' }>;

/**
 * A page a medicine: everything that moved it in a period, in the order it happened, with what the book had of it
 * after each. What is measured in two ways (a powder, and what was made up of it) has a page for each.
 * @param range instants, the first included and the last not
 */
export function balanceParts(
  tx: Reader,
  range: { from: string; to: string },
  filter: { medicine?: string | undefined; batch?: ((batch: string) => boolean) | undefined },
): BalancePart[] {
  const moves = tx.all<Move>(
    `SELECT c.medicine, c.kind, c.revision, c.label, coalesce(b.number, c.batch_text, '') AS batch, m.at, m.local, m.cause,
       m.units, m.note, a.subject AS treated, a.heads, a.product
     FROM movement AS m JOIN container AS c ON c.subject = m.subject
     LEFT JOIN batch AS b ON b.id = c.batch
     LEFT JOIN administration AS a ON a.id = m.administration
     WHERE m.at < ? AND (? IS NULL OR c.medicine = ?) ORDER BY m.at, m.seq, m.i`,
    range.to,
    filter.medicine ?? null,
    filter.medicine ?? null,
  );
  const termsOf = termsReader(tx);
  const pages = new Map<string, { name: string; word: string | undefined; moves: Move[] }>();
  for (const move of moves) {
    if (filter.batch?.(move.batch) === false) continue;
    const key = `${move.medicine} ${move.kind}`;
    const page = pages.get(key) ?? {
      name: medicineName(tx, move.medicine),
      word: termsOf(move.revision)?.piece,
      moves: [],
    };
    page.moves.push(move);
    pages.set(key, page);
  }
  const shown = new Map<string, string>();
  const who = (subject: string): string => {
    const known = shown.get(subject) ?? subjectsOf(tx, [subject])[0]?.shown ?? subject;
    shown.set(subject, known);
    return known;
  };
  return [...pages.values()]
    .sort((a, b) => a.name.localeCompare(b.name, 'en'))
    .map(({ name, word, moves: all }) => pageOf(name, word, all, range.from, who));
}

function pageOf(
  name: string,
  word: string | undefined,
  moves: readonly Move[],
  from: string,
  who: (subject: string) => string,
): BalancePart {
  const kind = moves[0]?.kind ?? 'volume';
  const text = (units: number) => {
    const amount = printAmount(amountOf(kind, Math.abs(units)), word);
    return units < 0 ? `−${amount}` : amount;
  };
  let balance = 0;
  let opening = 0;
  const sums = { in: 0, out: 0 };
  const rows: BalancePart['rows'] = [];
  for (const move of moves) {
    balance += move.units;
    if (move.at < from) {
      opening = balance;
      continue;
    }
    if (move.units > 0) sums.in += move.units;
    else sums.out -= move.units;
    const treated =
      move.treated === null
        ? ''
        : `${who(move.treated)}${(move.heads ?? 1) > 1 ? `, ${move.heads} head` : ''}`;
    rows.push({
      date: printLocal(move.local),
      what: [WORDS[move.cause] ?? move.cause, move.note ?? ''].filter((part) => part !== '').join(': '),
      who: [treated, `${move.label}${move.batch === '' ? '' : `, batch ${move.batch}`}`]
        .filter((part) => part !== '')
        .join('; '),
      in: move.units > 0 ? text(move.units) : '',
      out: move.units < 0 ? text(-move.units) : '',
      balance: text(balance),
    });
  }
  return {
    kind: 'balance',
    title: name,
    lead: [
      `At the beginning ${text(opening)}; in ${text(sums.in)}, out ${text(sums.out)}; at the end ${text(balance)}.`,
    ],
    ownPage: true,
    rows,
  };
}
