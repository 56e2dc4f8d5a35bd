import type { orderCalls } from '../../../src-shared/calls/order.ts';
import type { orderListCalls } from '../../../src-shared/calls/order-list.ts';
import type { Answers } from '../context.ts';
import { endForeseenWork, foreseenWork, foreseeWork } from './foreseen-work.ts';
import { orders } from './lists.ts';
import { orderOutlook, outlook } from './outlook.ts';
import { orderFile, orderPaper } from './paper.ts';
import { setSupply, supply } from './supply.ts';
import { closeOrderLine, writeOrder } from './write-order.ts';

/** How stock will last, and what to buy of it. */
export const orderAnswers: Answers<keyof typeof orderCalls> = {
  supply,
  'set-supply': setSupply,
  'foresee-work': foreseeWork,
  'end-foreseen-work': endForeseenWork,
  'foreseen-work': foreseenWork,
  outlook,
  'order-outlook': orderOutlook,
};

/** Order lists and what came of them. */
export const orderListAnswers: Answers<keyof typeof orderListCalls> = {
  'write-order': writeOrder,
  'close-order-line': closeOrderLine,
  orders,
  'order-paper': orderPaper,
  'order-file': orderFile,
};
