import type { Command } from './command.ts';

export const PAPERS = [
  {
    id: 'clear-list',
    name: 'See who is under withdrawal',
    group: 'Papers',
    place: 'declare',
    shortcut: 'g h',
    at: 'declare/clear',
    also: 'clear held hold meat milk',
  },
  {
    id: 'declare',
    name: 'Sign a declaration',
    group: 'Papers',
    place: 'declare',
    shortcut: 'n s',
    at: 'declare/new',
    also: 'abattoir slaughter',
  },
  {
    id: 'book-paper',
    name: 'Print the treatment record',
    group: 'Papers',
    place: 'book',
    shortcut: 'n r',
    at: 'book/paper',
    also: 'pdf inspector',
  },
  {
    id: 'entries',
    name: 'Read the journal',
    group: 'Papers',
    place: 'book',
    shortcut: 'g j',
    at: 'book/entries',
    also: 'history who wrote when strike out',
  },
  {
    id: 'check-book',
    name: 'Check the book against a paper',
    group: 'Papers',
    place: 'book',
    shortcut: 'g k',
    at: 'book/check',
    also: 'verify check code recheck rules',
  },
] as const satisfies readonly Command[];
