import type { Command } from './command.ts';

export const GO_TO = [
  { id: 'go-today', name: 'Today', group: 'Go to', place: 'today', shortcut: 'g d', at: 'today' },
  { id: 'go-cabinet', name: 'Cabinet', group: 'Go to', place: 'cabinet', shortcut: 'g c', at: 'cabinet' },
  { id: 'go-flock', name: 'Flock', group: 'Go to', place: 'flock', shortcut: 'g f', at: 'flock' },
  { id: 'go-treat', name: 'Treat', group: 'Go to', place: 'treat', shortcut: 'g t', at: 'treat' },
  { id: 'go-book', name: 'Book', group: 'Go to', place: 'book', shortcut: 'g b', at: 'book' },
  {
    id: 'go-declare',
    name: 'Declare',
    group: 'Go to',
    place: 'declare',
    shortcut: 'g l',
    at: 'declare',
    also: 'abattoir slaughter',
  },
  {
    id: 'go-order',
    name: 'Order',
    group: 'Go to',
    place: 'order',
    shortcut: 'g o',
    at: 'order',
    also: 'buy',
  },
  {
    id: 'go-farm',
    name: 'Farm',
    group: 'Go to',
    place: 'farm',
    shortcut: 'g m',
    at: 'farm',
    also: 'settings',
  },
] as const satisfies readonly Command[];
