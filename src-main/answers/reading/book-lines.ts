import type { DataOf } from '../../../src-shared/entries/all.ts';
import { attachedToSchema } from '../../../src-shared/entries/attached.ts';
import { type AmountData, unitsOf } from '../../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { type BookLine, bookLine, type ColumnName } from '../../../src-shared/record/columns.ts';
import { hoursLate, sayLate } from '../../../src-shared/record/gaps.ts';
import { type Instant, instantOf } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { keptPapersOf } from './attachments.ts';
import type { BookItem, BookVersion } from './book.ts';
import { businessOf, holdingOf, type Person, personName, recordOf } from './holding.ts';
import { termsReader } from './labels.ts';
import { lotHeads } from './lot-heads.ts';

type Cells = Partial<Record<ColumnName, string>>;
type Administered = BookVersion['data'];
type Prescription = DataOf<'prescription-received'>;
type Instruction = DataOf<'instruction-given'>;

/** What a version of any entry carries in its line, whatever it is about. */
export type Wrote = {
  no: number;
  local: string;
  zone: string;
  written: string;
  writtenBy: string;
  state: 'stands' | 'voided' | 'replaced';
  correction: { reason: string; by: string; recorded: string } | undefined;
};

const STATES = { stands: 'stands', voided: 'struck out', replaced: 'corrected' } as const;

/** Whole hours from the end of what was said to have happened (a day ends at its end) to when it was written. */
export function lateness(wrote: Pick<Wrote, 'local' | 'zone' | 'written'>): number {
  return hoursLate(instantOf(wrote.local, wrote.zone, 'end'), wrote.written as Instant);
}

/** Makes the lines of the book from what was read; what many lines share is looked up once. */
export function lineMaker(tx: Reader) {
  const once = <T>(look: (key: string) => T) => {
    const known = new Map<string, { value: T }>();
    return (key: string): T => {
      const found = known.get(key) ?? { value: look(key) };
      known.set(key, found);
      return found.value;
    };
  };
  const person = once((id) => personName(tx, id));
  const termsOf = termsReader(tx);
  const medicineCells = once((revision) => labelCells(termsOf(revision)));
  const business = businessOf(tx);
  const holdingCells = once((id): Cells => {
    const { number, name, address, keeper } = holdingOf(tx, id);
    return {
      holding: `${number}, ${name}`,
      location: address,
      keeper: keeper === undefined ? (business?.name ?? name) : person(keeper),
    };
  });
  const personOf = once((id) => recordOf<Person>(tx, 'person', id));
  const zoneOf = once((id) => holdingOf(tx, id).zone);
  const contact = once((id) => contactOf(personOf(id)));
  const batchPrescription = once((container) =>
    tx.get<{ prescription: string | null }>(
      `SELECT batch.data ->> '$.prescription' AS prescription FROM container
       JOIN batch ON batch.id = container.batch WHERE container.id = ?`,
      container,
    ),
  );
  const ordered = once((key): Cells => {
    const [what = '', id = ''] = key.split(' ');
    if (what === 'prescription') {
      const found = recordOf<Prescription>(tx, 'prescription', id);
      return found
        ? {
            prescriber: person(found.vet),
            prescriberContact: contact(found.vet),
            prescription: `Prescription ${found.number}`,
          }
        : {};
    }
    const found = recordOf<Instruction>(tx, 'instruction', id);
    return found
      ? {
          prescriber: person(found.vet),
          prescriberContact: contact(found.vet),
          prescription: `${found.form === 'told' ? 'Told by the vet' : 'Written by the vet'}: ${found.what}`,
        }
      : {};
  });
  const course = once((id) =>
    tx.get<{ first: string | null }>(
      'SELECT min(local) AS first FROM course_dose WHERE subject = ?',
      `course:${id}`,
    ),
  );
  const label = once(
    (id) => tx.get<{ label: string }>('SELECT label FROM container WHERE id = ?', id)?.label ?? id,
  );
  const lots = lotHeads(tx);
  const piece = (revision: string | undefined) =>
    revision === undefined ? undefined : termsOf(revision)?.piece;

  /** Who prescribed it: by the treatment itself, by its order, by the delivery it came from, or the vet who brought it. */
  function prescribedBy(data: Administered): Cells {
    const { source } = data;
    if (data.prescription !== undefined) return ordered(`prescription ${data.prescription}`);
    if (data.instruction !== undefined) return ordered(`instruction ${data.instruction}`);
    if (source.kind === 'ours') {
      for (const draw of source.draws) {
        const id = batchPrescription(draw.container)?.prescription ?? undefined;
        if (id !== undefined) return ordered(`prescription ${id}`);
      }
    }
    const giver = personOf(data.givenBy);
    if (giver?.roles.includes('vet')) {
      return {
        prescriber: giver.name,
        prescriberContact: contact(data.givenBy),
        prescription: 'Given by the vet',
      };
    }
    if (source.kind !== 'vet' || source.who === undefined) return {};
    const known = tx.get<{ id: string }>(
      "SELECT id FROM record WHERE what = 'person' AND name = ? ORDER BY id LIMIT 1",
      source.who,
    );
    return {
      prescriber: source.who,
      prescriberContact: known ? contact(known.id) : '',
      prescription: 'Brought by the vet',
    };
  }

  function wroteCells(entry: { request: string; n: number }, wrote: Wrote): Cells {
    return {
      no: String(wrote.no),
      entry: `${entry.request}#${entry.n}`,
      state: STATES[wrote.state],
      happened: wrote.local,
      zone: wrote.zone,
      written: wrote.written,
      writtenBy: person(wrote.writtenBy),
      late: sayLate(lateness(wrote)),
      ...(wrote.correction === undefined
        ? {}
        : {
            correction: wrote.correction.reason,
            correctedBy: wrote.correction.by,
            correctedOn: wrote.correction.recorded,
          }),
    };
  }

  function animalsKnown(data: Administered, at: string, seq: number): string {
    if (data.subject.startsWith('animal:')) return 'one animal, by its number';
    const heads = lots.before(data.subject, at, seq);
    // What the book cannot count cannot be said to be a part.
    return data.heads >= heads ? `the whole lot, ${data.heads} head` : '';
  }

  /** Names of the papers and photos that are kept with a thing, "batch:ID". */
  const papers = (thing: string): string =>
    keptPapersOf(tx, [thingOf(thing)])
      .filter(({ paper }) => PROOFS.has(paper))
      .map(({ name }) => `${name}, kept in the book`)
      .join('; ');

  return {
    papers,
    person,
    piece,
    label,
    wroteCells,
    medicineCells,
    holdingCells,
    /** One line for each version of a treatment, the struck ones first. */
    given(item: BookItem): BookLine[] {
      return item.versions.map(({ row, data, no, written, writtenBy }) => {
        const zone = zoneOf(data.holding);
        const wrote = { no, local: row.local, zone, written, writtenBy, state: row.state };
        const revision = data.source.kind === 'ours' ? data.source.draws[0]?.revision : data.source.revision;
        const day = row.local.slice(0, 10);
        const first = data.course && course(data.course.course)?.first;
        return bookLine({
          ...(revision === undefined ? {} : medicineCells(revision)),
          ...holdingCells(data.holding),
          ...wroteCells(row.entry, { ...wrote, correction: row.correction }),
          ...prescribedBy(data),
          act: 'given',
          medicine: row.product,
          batch: row.batch,
          expiry: row.expiry,
          container:
            data.source.kind === 'ours'
              ? [...new Set(data.source.draws.map((draw) => label(draw.container)))].join(', ')
              : '',
          quantity: row.quantity,
          dose: row.dosedTo === undefined ? row.dose : `${row.dose} (${row.dosedTo})`,
          lostWith: lostWith(data, piece(revision)),
          heads: String(row.heads),
          subject: row.subject,
          animal: row.shown,
          animalsKnown: animalsKnown(data, item.at, item.seq),
          class: row.class.replaceAll('-', ' '),
          species: 'sheep',
          firstDay: first === undefined || first === null ? day : first.slice(0, 10),
          lastDay: data.course === undefined ? day : data.course.plannedLast.slice(0, 10),
          route: row.route.replaceAll('-', ' '),
          site: [data.side, data.site].filter((part) => part !== undefined).join(' '),
          reason: row.reason,
          givenBy: row.givenBy,
          from: row.source,
          meatPeriod: stated(row.period),
          meatUntil: endIn(row.until),
          milkPeriod: stated(row.milkPeriod),
          milkUntil: endIn(row.milkUntil),
          deviations: row.deviations.join('; '),
        });
      });
    },
  };
}

/** Kinds of paper that prove where a delivery came from. */
const PROOFS: ReadonlySet<string> = new Set(['invoice', 'proof', 'statement']);

function thingOf(thing: string): DataOf<'attached'>['to'] {
  const at = thing.indexOf(':');
  return attachedToSchema.parse({ what: thing.slice(0, at), id: thing.slice(at + 1) });
}

/** A period that the label does not state is none. */
function stated(period: string): string {
  return period === 'not stated' ? '' : period;
}

/** An end that is not stated is not known. */
function endIn(until: string): string {
  return until.startsWith('not stated') ? '' : until;
}

/** What left the bottles with the doses and did no good: dead space, priming, spill, and what ran out again. */
function lostWith(data: Administered, word: string | undefined): string {
  if (data.source.kind !== 'ours') return '';
  const text = (amount: AmountData) => printAmount(amountOf(amount.kind, unitsOf(amount)), word);
  return data.source.draws
    .flatMap((draw) => [
      ...(draw.leaked ? [`${text(draw.leaked)} leaked back`] : []),
      ...(draw.lost ? [`${text(draw.lost)} ${draw.lostWhy ?? 'lost'}`] : []),
    ])
    .join(', ');
}

/** What the label in the box says of the medicine itself. */
function labelCells(terms: LabelTerms | undefined): Cells {
  if (!terms) return {};
  return {
    form: terms.form,
    purpose: terms.purpose,
    supply: terms.prescription,
    strength: terms.actives.every((active) => active.strength === undefined)
      ? ''
      : terms.actives.map((active) => `${active.substance} ${active.strength ?? '(not stated)'}`).join(', '),
  };
}

function contactOf(person: Person | undefined): string {
  if (!person) return '';
  return [person.address, person.phone, person.email]
    .filter((part) => part !== undefined && part !== '')
    .join(', ');
}
