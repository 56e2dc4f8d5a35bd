import type { Command } from './command.ts';

export const FOLDBOOK = [
  { id: 'find', name: 'Find or do anything', group: 'Foldbook', shortcut: 'Mod+k', also: 'palette search' },
  {
    id: 'find-here',
    name: 'Look through this list',
    group: 'Foldbook',
    shortcut: '/',
    also: 'filter search',
  },
  { id: 'keys', name: 'Show the keys', group: 'Foldbook', shortcut: '?', also: 'shortcuts help keyboard' },
  { id: 'save', name: 'Write it in the book', group: 'Foldbook', shortcut: 'Mod+Enter', also: 'save submit' },
  {
    id: 'look',
    name: 'Light, dark, large or high contrast',
    group: 'Foldbook',
    place: 'farm',
    at: 'farm/look',
    also: 'look theme size appearance',
  },
] as const satisfies readonly Command[];
