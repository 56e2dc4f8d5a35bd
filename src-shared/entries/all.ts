import { administered } from './administered.ts';
import { animalSet } from './animal-set.ts';
import { atFootSet } from './at-foot-set.ts';
import { attached } from './attached.ts';
import { batchPriced } from './batch-priced.ts';
import { batchReceived } from './batch-received.ts';
import { businessSet } from './business-set.ts';
import { certificateSet } from './certificate-set.ts';
import { consumableMoved } from './consumable-moved.ts';
import { consumableSet } from './consumable-set.ts';
import { containerMadeUp } from './container-made-up.ts';
import { containerOpened } from './container-opened.ts';
import { courseSet } from './course-set.ts';
import { dateConfirmed } from './date-confirmed.ts';
import { declarationCancelled } from './declaration-cancelled.ts';
import { declarationTold } from './declaration-told.ts';
import { declared } from './declared.ts';
import { departed } from './departed.ts';
import { equipmentChecked } from './equipment-checked.ts';
import { equipmentSet } from './equipment-set.ts';
import { eventNoted } from './event-noted.ts';
import { exposure } from './exposure.ts';
import { gapExplained } from './gap-explained.ts';
import { groupSet } from './group-set.ts';
import { held } from './held.ts';
import { holdEnded } from './hold-ended.ts';
import { holdSettled } from './hold-settled.ts';
import { holdingMoved } from './holding-moved.ts';
import { holdingSet } from './holding-set.ts';
import { houseRulesSet } from './house-rules-set.ts';
import { instructionGiven } from './instruction-given.ts';
import type { EntryDraft, EntryKind, Happened } from './kind.ts';
import { labelSet } from './label-set.ts';
import { lotMoved } from './lot-moved.ts';
import { lotSet } from './lot-set.ts';
import { marked } from './marked.ts';
import { needleLost } from './needle-lost.ts';
import { orderSet } from './order-set.ts';
import { organicExcepted } from './organic-excepted.ts';
import { personSet } from './person-set.ts';
import { prescriptionReceived } from './prescription-received.ts';
import { productCodeSet } from './product-code-set.ts';
import { reaction } from './reaction.ts';
import { reassessed } from './reassessed.ts';
import { recordRulesSet } from './record-rules-set.ts';
import { replaced } from './replaced.ts';
import { sessionChecked } from './session-checked.ts';
import { sessionClosed } from './session-closed.ts';
import { sessionExcepted } from './session-excepted.ts';
import { sessionOpened } from './session-opened.ts';
import { sharpsCounted } from './sharps-counted.ts';
import { stockMoved } from './stock-moved.ts';
import { storageLogged } from './storage-logged.ts';
import { storageRead } from './storage-read.ts';
import { substanceSet } from './substance-set.ts';
import { supplySet } from './supply-set.ts';
import { trainingNoted } from './training-noted.ts';
import { useRulesSet } from './use-rules-set.ts';
import { vetVisit } from './vet-visit.ts';
import { voided } from './voided.ts';
import { weighed } from './weighed.ts';
import { workForeseen } from './work-foreseen.ts';

/** Every kind of entry there is. The list is the table of contents of the journal. */
export const KINDS_OF_ENTRY = {
  administered,
  'animal-set': animalSet,
  'at-foot-set': atFootSet,
  attached,
  'batch-priced': batchPriced,
  'batch-received': batchReceived,
  'business-set': businessSet,
  'certificate-set': certificateSet,
  'consumable-moved': consumableMoved,
  'consumable-set': consumableSet,
  'container-made-up': containerMadeUp,
  'container-opened': containerOpened,
  'course-set': courseSet,
  'date-confirmed': dateConfirmed,
  'declaration-cancelled': declarationCancelled,
  'declaration-told': declarationTold,
  declared,
  departed,
  'equipment-checked': equipmentChecked,
  'equipment-set': equipmentSet,
  'event-noted': eventNoted,
  exposure,
  'gap-explained': gapExplained,
  'group-set': groupSet,
  held,
  'hold-ended': holdEnded,
  'hold-settled': holdSettled,
  'holding-moved': holdingMoved,
  'holding-set': holdingSet,
  'house-rules-set': houseRulesSet,
  'instruction-given': instructionGiven,
  'label-set': labelSet,
  'lot-moved': lotMoved,
  'lot-set': lotSet,
  marked,
  'needle-lost': needleLost,
  'order-set': orderSet,
  'organic-excepted': organicExcepted,
  'person-set': personSet,
  'prescription-received': prescriptionReceived,
  'product-code-set': productCodeSet,
  reaction,
  reassessed,
  'record-rules-set': recordRulesSet,
  replaced,
  'session-checked': sessionChecked,
  'session-closed': sessionClosed,
  'session-excepted': sessionExcepted,
  'session-opened': sessionOpened,
  'sharps-counted': sharpsCounted,
  'stock-moved': stockMoved,
  'storage-logged': storageLogged,
  'storage-read': storageRead,
  'supply-set': supplySet,
  'substance-set': substanceSet,
  'training-noted': trainingNoted,
  'use-rules-set': useRulesSet,
  'vet-visit': vetVisit,
  voided,
  weighed,
  'work-foreseen': workForeseen,
} as const;

type Kinds = typeof KINDS_OF_ENTRY;
export type KindName = keyof Kinds;
/** The data of one kind of entry. */
export type DataOf<K extends KindName> = Kinds[K] extends EntryKind<infer D> ? D : never;

/** An entry about to be written, its data held to its kind's type. */
export function draft<K extends KindName>(
  kind: K,
  by: string,
  happened: Happened,
  data: DataOf<K>,
): EntryDraft {
  return { kind, happened, by, data };
}
