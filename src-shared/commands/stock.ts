import type { Command } from './command.ts';

export const STOCK = [
  {
    id: 'receive-batch',
    name: 'Take in a delivery',
    group: 'Stock',
    place: 'cabinet',
    shortcut: 'n d',
    at: 'cabinet/delivery',
    also: 'batch received bottle',
  },
  {
    id: 'write-label',
    name: 'Add a medicine from its insert',
    group: 'Stock',
    place: 'cabinet',
    shortcut: 'n l',
    at: 'cabinet/label',
    also: 'write down label leaflet new',
  },
  {
    id: 'make-up',
    name: 'Make up a powder or a concentrate',
    group: 'Stock',
    place: 'cabinet',
    shortcut: 'n m',
    at: 'cabinet/make-up',
    also: 'mix dilute dissolve water strength',
  },
  {
    id: 'drawer',
    name: 'Needles, syringes and spares',
    group: 'Stock',
    place: 'cabinet',
    shortcut: 'g e',
    at: 'cabinet/drawer',
    also: 'drawer consumables sharps box marking spray gauge count',
  },
  {
    id: 'receive-here',
    name: 'Take in more of what is shown',
    group: 'Stock',
    shortcut: '+',
    also: 'delivery receive batch',
  },
  {
    id: 'count-here',
    name: 'Count what is shown',
    group: 'Stock',
    shortcut: '=',
    also: 'stock take container bottle',
  },
] as const satisfies readonly Command[];
