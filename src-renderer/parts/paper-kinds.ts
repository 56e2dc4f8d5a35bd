import type { Ask } from '../../src-shared/calls/all.ts';

export type PaperKind = Ask<'attach'>['paper'];
/** A thing a paper is kept with. */
export type KeptWith = Ask<'attach'>['to'];

/** What each kind of paper is called. */
export const PAPER_WORDS: Readonly<Record<PaperKind, string>> = {
  insert: 'Package insert',
  prescription: 'Prescription',
  invoice: 'Invoice',
  statement: "Seller's statement",
  instruction: "Vet's instruction",
  proof: 'Proof of purchase',
  photo: 'Photo',
  readings: 'Readings of a logger',
  other: 'Another paper',
};

/** Which kinds are likely with each thing, the likeliest first; the others may be chosen too. */
const LIKELY: Readonly<Record<KeptWith['what'], readonly PaperKind[]>> = {
  medicine: ['insert'],
  revision: ['insert', 'photo'],
  batch: ['invoice', 'proof', 'statement'],
  container: ['photo'],
  prescription: ['prescription'],
  instruction: ['instruction'],
  subject: ['photo', 'statement'],
  declaration: ['statement'],
  treatment: ['photo', 'instruction'],
  storage: ['photo'],
};

/** The kinds in the order in which they are offered with a thing. A logger's file is taken in elsewhere. */
export function kindsFor(what: KeptWith['what']): readonly PaperKind[] {
  const all: readonly PaperKind[] = [
    'insert',
    'prescription',
    'invoice',
    'statement',
    'instruction',
    'proof',
    'photo',
    'other',
  ];
  const first = LIKELY[what];
  return [...first, ...all.filter((kind) => !first.includes(kind))];
}
