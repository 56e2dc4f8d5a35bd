import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import type { BookLine } from '../../../src-shared/record/columns.ts';
import { type Day, printDay } from '../../../src-shared/time/day.ts';
import { dayOf, type Instant, printInstant } from '../../../src-shared/time/zone.ts';
import type { StockRow } from '../../paper/medicine-book.ts';
import type { RecordRow, TreatmentRecord } from '../../paper/treatment-record.ts';
import { type pieceWords, revisionIn } from '../declare/lines.ts';
import { optional } from '../optional.ts';
import type { BookItem, BookRow } from '../reading/book.ts';
import { printLocal } from '../reading/labels.ts';
import type { GivenItem } from './collect.ts';

/** What a line does not say, and why. */
export type Explain = (line: BookLine) => string[];

/** The versions of a treatment as a paper prints them, with what stands beneath each. */
export function givenRows({ item, lines }: GivenItem, zone: string, explained: Explain): RecordRow[] {
  return item.rows.map((row, i) => {
    const printed = recordRow(row, zone);
    const line = lines[i];
    return line === undefined
      ? printed
      : {
          ...printed,
          ...optional('site', line.site.replaceAll('-', ' ') || undefined),
          beneath: [...beneathGiven(line, zone), ...explained(line)],
        };
  });
}

function recordRow(row: BookRow, zone: string): RecordRow {
  const { administration, entry, local, recorded, subject, correction, route, untilAt, ...same } = row;
  const written = (at: string) => printDay(dayOf(at as Instant, zone));
  const said =
    correction &&
    (row.state === 'voided'
      ? `Struck out by ${correction.by} on ${written(correction.recorded)}: ${correction.reason}`
      : `Corrected by ${correction.by} on ${written(correction.recorded)}: ${correction.reason}. The corrected line follows.`);
  return {
    ...same,
    date: printLocal(local),
    route: route.replaceAll('-', ' '),
    ...(said === undefined ? {} : { correction: said }),
  };
}

function beneathGiven(line: BookLine, zone: string): string[] {
  const { prescriber, prescriberContact, prescription } = line;
  const vet = [prescriber, prescriberContact].filter((part) => part !== '').join(', ');
  const says: string[] = [];
  if (vet !== '' || prescription !== '') {
    says.push(
      [vet === '' ? '' : `Prescribed by ${vet}`, prescription].filter((part) => part !== '').join('. '),
    );
  }
  if (line.firstDay !== line.lastDay) {
    says.push(`Treatment from ${printDay(line.firstDay as Day)} to ${printDay(line.lastDay as Day)}`);
  }
  if (line.subject.startsWith('lot:') && line.animalsKnown === '') {
    says.push('Only part of the lot was treated; the book cannot say which head');
  }
  if (line.lostWith !== '') says.push(`With it: ${line.lostWith}`);
  if (line.late !== '') says.push(lateWords(line, zone));
  return says;
}

/** "Written 9 Mar 2026, 20:12 by Isla Thorn, written 5 days after it happened". */
function lateWords(line: BookLine, zone: string): string {
  return `Late entry: ${line.late}, on ${printInstant(line.written as Instant, zone)}, by ${line.writtenBy}`;
}

/** Why a line does not stand, as it is printed beneath it. */
function correctionWords(line: BookLine, zone: string): string[] {
  if (line.correction === '') return [];
  const on = printDay(dayOf(line.correctedOn as Instant, zone));
  const what = line.state === 'struck out' ? 'Struck out' : 'Corrected';
  const then = line.state === 'struck out' ? '' : '. The corrected line follows.';
  return [`${what} by ${line.correctedBy} on ${on}: ${line.correction}${then}`];
}

const WHAT: Readonly<Record<string, string>> = {
  lost: 'Lost',
  disposed: 'Disposed of',
  returned: 'Returned',
  counted: 'Counted; this much was there',
  'made up': 'Made up on the farm',
};

/** A line of the stock as a paper prints it: what came in, what went, or what is left. */
export function stockRow(line: BookLine, of: 'received' | 'gone' | 'left', zone: string): StockRow {
  const detail = [
    line.batch === '' ? 'batch not known' : `batch ${line.batch}`,
    line.expiry === '' ? '' : `exp. ${line.expiry}`,
    ...(of === 'received' ? [line.form, line.strength] : []),
  ].filter((part) => part !== '');
  const cells = {
    received:
      line.act === 'made up'
        ? ['Made up on the farm', '']
        : [[line.supplier, line.supplierAddress].filter((part) => part !== '').join(', '), line.proof],
    gone: [
      [WHAT[line.act] ?? line.act, line.how].filter((part) => part !== '').join(': '),
      line.where,
      line.why,
    ],
    left: [],
  }[of];
  return {
    date: line.happened === '' ? '' : printLocal(line.happened),
    medicine: line.medicine,
    detail: detail.join(', '),
    container: line.container,
    quantity: line.quantity,
    cells,
    struck: line.state !== 'stands',
    beneath: [...(line.late === '' ? [] : [lateWords(line, zone)]), ...correctionWords(line, zone)],
  };
}

/** Sums over what stands, in whole units, so that nothing is lost in the adding. */
export function totalsOf(
  items: readonly BookItem[],
  piece: ReturnType<typeof pieceWords>,
): TreatmentRecord['totals'] {
  const standing = items.flatMap((item) => (item.stands ? [item.stands] : []));
  const products = new Map<
    string,
    {
      product: string;
      administrations: number;
      heads: number;
      kind: 'volume' | 'mass' | 'pieces';
      units: number;
      word: string | undefined;
    }
  >();
  for (const data of standing) {
    const { kind } = data.total;
    const word = piece(revisionIn(data));
    const key = JSON.stringify([data.medicine, data.product, kind, kind === 'pieces' ? word : '']);
    const sum = products.get(key) ?? {
      product: data.product,
      administrations: 0,
      heads: 0,
      kind,
      units: 0,
      word,
    };
    products.set(key, {
      ...sum,
      administrations: sum.administrations + 1,
      heads: sum.heads + data.heads,
      units: sum.units + unitsOf(data.total),
    });
  }
  return {
    administrations: standing.length,
    heads: standing.reduce((sum, data) => sum + data.heads, 0),
    struck: items.reduce((sum, item) => sum + item.rows.filter((row) => row.state !== 'stands').length, 0),
    products: [...products.values()]
      .sort((a, b) => a.product.localeCompare(b.product, 'en'))
      .map(({ product, administrations, heads, kind, units, word }) => ({
        product,
        administrations,
        heads,
        quantity: printAmount(amountOf(kind, units), word),
      })),
  };
}
