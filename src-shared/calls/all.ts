import type { z } from 'zod';
import { attachmentCalls } from './attachment.ts';
import { balanceCalls } from './balance.ts';
import { bookCalls } from './book.ts';
import { cabinetCalls } from './cabinet.ts';
import { costCalls } from './cost.ts';
import { declareCalls } from './declare.ts';
import { drawerCalls } from './drawer.ts';
import { equipmentCalls } from './equipment.ts';
import { farmCalls } from './farm.ts';
import { flockCalls } from './flock.ts';
import { holdCalls } from './hold.ts';
import { instructionCalls } from './instruction.ts';
import { kitCalls } from './kit.ts';
import { medicineCalls } from './medicine.ts';
import { orderCalls } from './order.ts';
import { orderListCalls } from './order-list.ts';
import { organicCalls } from './organic.ts';
import { packCodeCalls } from './pack-code.ts';
import { prescriptionCalls } from './prescription.ts';
import { recallCalls } from './recall.ts';
import { recordCalls } from './record.ts';
import { safetyCalls } from './safety.ts';
import { sharpsCalls } from './sharps.ts';
import { stocktakeCalls } from './stocktake.ts';
import { storageCalls } from './storage.ts';
import { trainingCalls } from './training.ts';
import { treatCalls } from './treat.ts';
import { useCalls } from './use.ts';
import { vaccineCalls } from './vaccine.ts';
import { vetPageCalls } from './vet-page.ts';
import { whereCalls } from './where.ts';
import { workCalls } from './work.ts';

/** Every call there is. */
export const CALLS = {
  ...farmCalls,
  ...equipmentCalls,
  ...medicineCalls,
  ...cabinetCalls,
  ...prescriptionCalls,
  ...recallCalls,
  ...stocktakeCalls,
  ...orderCalls,
  ...orderListCalls,
  ...packCodeCalls,
  ...storageCalls,
  ...flockCalls,
  ...treatCalls,
  ...instructionCalls,
  ...sharpsCalls,
  ...drawerCalls,
  ...holdCalls,
  ...organicCalls,
  ...kitCalls,
  ...whereCalls,
  ...safetyCalls,
  ...vaccineCalls,
  ...declareCalls,
  ...attachmentCalls,
  ...bookCalls,
  ...balanceCalls,
  ...recordCalls,
  ...useCalls,
  ...vetPageCalls,
  ...trainingCalls,
  ...costCalls,
  ...workCalls,
} as const;

export type CallName = keyof typeof CALLS;
/** The request as a caller writes it, defaults left out. */
export type Ask<N extends CallName> = z.input<(typeof CALLS)[N]['request']>;
/** The request as the desk sees it. */
export type Asked<N extends CallName> = z.output<(typeof CALLS)[N]['request']>;
export type Reply<N extends CallName> = z.output<(typeof CALLS)[N]['reply']>;
export type WritingCall = { [N in CallName]: (typeof CALLS)[N]['writes'] extends true ? N : never }[CallName];
