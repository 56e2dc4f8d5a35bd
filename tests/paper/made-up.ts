import type { DeclarationPaper } from '../../src-main/paper/declaration.ts';
import type { PaperHead } from '../../src-main/paper/parts.ts';
import type { RecordRow, TreatmentRecord } from '../../src-main/paper/treatment-record.ts';

/** Invented papers for the tests of the press. */
export function madeUpHead(more: Partial<PaperHead> = {}): PaperHead {
  return {
    size: 'a4',
    stated: '2026-04-12T08:00:00.000Z',
    statedText: '12 Apr 2026, 09:00',
    believedDay: '2026-04-12',
    believedText: '12 Apr 2026',
    demo: false,
    business: { name: 'Hafod-y-Gwynt Farming', address: 'Hafod-y-Gwynt, Cwm Uchaf', phone: '01000 000000' },
    holding: { name: 'Hafod-y-Gwynt', number: '99/999/0042', address: 'Cwm Uchaf', zone: 'Europe/London' },
    keeper: 'Siân Ó Briain-Łukasz',
    counting: 'the later of two ends.',
    checkCode: '1234-ab12-cd34-ef56',
    ...more,
  };
}

export function madeUpRow(n: number, more: Partial<RecordRow> = {}): RecordRow {
  return {
    date: '3 Mar 2026, 08:00',
    shown: `ZZ ${String(n).padStart(6, '0')}`,
    class: 'ewe',
    heads: 1,
    product: 'Vermolin drench',
    batch: 'B-17',
    expiry: '2027-03',
    dose: '12.4 mL',
    quantity: '12.4 mL',
    route: 'oral',
    reason: 'worms',
    givenBy: 'Siân Ó Briain',
    source: '',
    period: '28 d',
    until: '1 Apr 2026, 00:00',
    milkPeriod: 'not stated',
    milkUntil: 'not known',
    deviations: [],
    state: 'stands',
    ...more,
  };
}

export function madeUpRecord(rows: RecordRow[], head: Partial<PaperHead> = {}): TreatmentRecord {
  return {
    head: madeUpHead(head),
    from: '1 Mar 2026',
    to: '31 Mar 2026',
    rows,
    totals: {
      administrations: rows.length,
      heads: rows.length,
      struck: 0,
      products: [
        {
          product: 'Vermolin drench',
          administrations: rows.length,
          heads: rows.length,
          quantity: '4321.5 mL',
        },
      ],
    },
  };
}

export function madeUpDeclaration(heads: number, head: Partial<PaperHead> = {}): DeclarationPaper {
  return {
    head: madeUpHead(head),
    title: 'Declaration for slaughter no. 7',
    number: 7,
    to: 'Abattoir of the Test',
    words: {
      to: 'To',
      when: 'Leaves the holding',
      until: 'Meat held until',
      none: 'no treatment with a withdrawal period in the book',
    },
    facts: [],
    content: 'What is said here follows nothing but this test.',
    departs: '12 Apr 2026, 06:00',
    lines: Array.from({ length: heads }, (_, i) => ({
      shown: `ZZ ${String(i + 1).padStart(6, '0')}`,
      class: 'lamb',
      heads: 1,
      treatments:
        i % 3 === 0
          ? [
              {
                product: 'Vermolin drench',
                batch: 'B-17',
                given: '3 Mar 2026, 08:00',
                quantity: '6.2 mL',
                period: '28 d',
                until: '1 Apr 2026, 00:00',
              },
            ]
          : [],
    })),
    sentences: [`${heads} head are declared.`],
    question: 'Is it all in the book?',
    signer: 'Żaneta Ørsted',
  };
}
