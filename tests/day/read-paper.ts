import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

/**
 * Papers read back from their bytes, as an inspector would: the text where it stands on the page, sorted into
 * columns by the running headings and into rows by where a row begins. It knows nothing of what printed them.
 */

type Piece = { x: number; y: number; width: number; text: string };

async function pagesOf(bytes: Uint8Array): Promise<Piece[][]> {
  const task = getDocument({ data: new Uint8Array(bytes), useSystemFonts: false, verbosity: 0 });
  const document = await task.promise;
  const pages: Piece[][] = [];
  for (let n = 1; n <= document.numPages; n += 1) {
    const { items } = await (await document.getPage(n)).getTextContent();
    pages.push(
      items.flatMap((item) =>
        'str' in item && item.str.trim() !== ''
          ? [{ x: item.transform[4], y: item.transform[5], width: item.width, text: item.str.trim() }]
          : [],
      ),
    );
  }
  await task.destroy();
  return pages;
}

type Shape = {
  /** How the running headings begin, from left to right. */
  headings: readonly string[];
  /** Whether a piece in this column is where a row begins. */
  begins: (piece: Piece, column: number) => boolean;
  /** The words that stand under the end of the table. */
  ends: RegExp;
};
/** Cells from left to right, and what stands right across the page beneath them. */
type Row = { cells: string[]; beneath: string };

/** Lines of one row do not stand at quite the same height: the larger type sits lower. */
const SLACK = 4;
const FOOT = 50;

function tableOn(page: readonly Piece[], { headings, begins, ends }: Shape): Row[] {
  const head = page.find(
    (piece) =>
      piece.text === headings[0] &&
      headings.every((word) =>
        page.some((other) => Math.abs(other.y - piece.y) < 1 && other.text.startsWith(word)),
      ),
  );
  if (!head) return [];
  const lefts = page
    .filter((piece) => Math.abs(piece.y - head.y) < 1)
    .map((piece) => piece.x)
    .sort((a, b) => a - b);
  if (lefts.length !== headings.length) throw new Error(`${lefts.length} columns, not ${headings.length}`);
  const columnOf = (piece: Piece) => lefts.findLastIndex((left) => left <= piece.x + 1);
  const end = Math.max(FOOT, ...page.filter((piece) => ends.test(piece.text)).map((piece) => piece.y));
  const body = page.filter((piece) => piece.y < head.y - 1 && piece.y > end + 1);
  const tops = body
    .filter((piece) => begins(piece, columnOf(piece)))
    .map((piece) => piece.y)
    .sort((a, b) => b - a);
  return tops.map((top, i) => {
    const next = tops[i + 1] ?? end;
    const own = body
      .filter((piece) => piece.y <= top + SLACK && piece.y > next + SLACK)
      .sort((a, b) => b.y - a.y || a.x - b.x);
    const across = own.find((piece) => columnOf(piece) === 0 && piece.x + piece.width > (lefts[1] ?? 0));
    const isBeneath = (piece: Piece) => across !== undefined && piece.y <= across.y + 1;
    const said = (pieces: readonly Piece[]) => pieces.map((piece) => piece.text).join(' ');
    return {
      cells: lefts.map((_left, at) =>
        said(own.filter((piece) => !isBeneath(piece) && columnOf(piece) === at)),
      ),
      beneath: said(own.filter(isBeneath)),
    };
  });
}

const DATE = /^\d{1,2} [A-Z][a-z]{2} \d{4}/;

function taken(text: string, pattern: RegExp): string[] {
  const match = pattern.exec(text);
  if (!match) throw new Error(`“${text}” does not read as ${pattern}`);
  return match.slice(1).map((part) => part ?? '');
}

/** A clock that runs unseen, because the animal gives no milk, gets a star. */
export function starred(until: string): string {
  return until.replace(/^not in milk; \D*/, '*');
}

function clock(cell: string): [period: string, until: string] {
  const [until = '', period = ''] = taken(cell, /^(.*\d{2}:\d{2}) (\d+ [dh]|zero)$/);
  return [period, starred(until)];
}

export type PaperRead = {
  /** date | animal | heads | product | batch | dose | quantity | period | until | milk period | milk until | state */
  rows: string[][];
  beneath: string[];
  /** Reason and giver of each row. */
  reasons: string[];
  totals: string[][];
  checkCode: string;
  text: string;
};

/** A treatment record, row by row. */
export async function readPaperRows(bytes: Uint8Array): Promise<PaperRead> {
  const pages = await pagesOf(bytes);
  const found = pages.flatMap((page) =>
    tableOn(page, {
      headings: ['Date', 'Animal', 'Product', 'Dose', 'Route', 'Reason', 'Meat', 'Milk'],
      begins: (piece, column) => column === 0 && DATE.test(piece.text),
      ends: /^Totals$/,
    }),
  );
  const totals = pages.flatMap((page) =>
    tableOn(page, {
      headings: ['Product', 'Treatments', 'Head', 'Quantity'],
      begins: (_piece, column) => column === 1,
      ends: /^The label and the vet come first/,
    }),
  );
  const rows = found.map(({ cells, beneath }) => {
    const [date = '', who = '', product = '', dose = '', , , meat = '', milk = ''] = cells;
    const [animal = '', heads = ''] = taken(who, /^(.+?) (?:ewe-lamb|ewe|ram|wether|lamb)(?:, (\d+) head)?$/);
    const [name = '', batch = ''] = taken(product, /^(.+?) batch (.+?), exp\. .+$|^(.+?) batch (.+)$/).filter(
      (part) => part !== '',
    );
    const [each = '', all = ''] = taken(dose, /^(\S+ mL)(?: (\S+ mL) in all)?$/);
    const state = /^(Corrected|Struck out) by /.test(beneath) ? 'struck' : 'stands';
    return [
      date,
      animal,
      heads || '1',
      name,
      batch,
      each,
      all || each,
      ...clock(meat),
      ...clock(milk),
      state,
    ];
  });
  const text = textOf(pages);
  return {
    rows,
    beneath: found.map((row) => row.beneath),
    reasons: found.map((row) => row.cells[5] ?? ''),
    totals: totals.map((row) => row.cells),
    checkCode: checkCodeIn(text),
    text,
  };
}

export type DeclarationRead = {
  /** animal | heads | product | batch | given | quantity | period | until */
  rows: string[][];
  checkCode: string;
  text: string;
};

/** A declaration, row by row; each treatment names its animal. */
export async function readDeclarationRows(bytes: Uint8Array): Promise<DeclarationRead> {
  const pages = await pagesOf(bytes);
  const found = pages.flatMap((page) =>
    tableOn(page, {
      headings: ['Identification', 'Class', 'Heads', 'Product', 'Given', 'Quantity', 'Period', 'Meat'],
      begins: (piece, column) =>
        (column === 4 && DATE.test(piece.text)) || (column === 3 && piece.text.startsWith('no treatment')),
      ends: /^Signed$/,
    }),
  );
  let who = ['', ''];
  const rows = found.map(({ cells }) => {
    const [shown = '', , heads = '', product = '', given = '', quantity = '', period = '', until = ''] =
      cells;
    if (shown !== '') who = [shown, heads];
    if (product.startsWith('no treatment')) return [...who, 'nothing', '', '', '', '', ''];
    // What nobody recorded has no batch.
    const named = product.includes(' batch ') ? taken(product, /^(.+?) batch (.+)$/) : [product, ''];
    return [...who, ...named, given, quantity, period, until];
  });
  const text = textOf(pages);
  return { rows, checkCode: checkCodeIn(text), text };
}

function textOf(pages: readonly Piece[][]): string {
  return pages.flatMap((page) => page.map((piece) => piece.text)).join(' ');
}

function checkCodeIn(text: string): string {
  return taken(text, /Check code (\d+-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4})/)[0] ?? '';
}
