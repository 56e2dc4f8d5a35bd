import type { Command } from './command.ts';

export const FARM = [
  {
    id: 'farm-papers',
    name: "The vet's instructions and prescriptions",
    group: 'Farm',
    place: 'farm',
    shortcut: 'g v',
    at: 'farm/papers',
    also: 'veterinarian papers',
  },
  {
    id: 'record-instruction',
    name: 'Write down what the vet ordered',
    group: 'Farm',
    place: 'farm',
    shortcut: 'n i',
    at: 'farm/papers/instruction',
    also: 'instruction told off label period',
  },
  {
    id: 'record-prescription',
    name: 'Write down a prescription',
    group: 'Farm',
    place: 'farm',
    shortcut: 'n v',
    at: 'farm/papers/prescription',
    also: 'vet paper number',
  },
  { id: 'set-person', name: 'Add a person or firm', group: 'Farm', place: 'farm', at: 'farm/person' },
  { id: 'set-holding', name: 'Add a holding', group: 'Farm', place: 'farm', at: 'farm/holding' },
  {
    id: 'book-file',
    name: 'Check the book and back it up',
    group: 'Farm',
    place: 'farm',
    at: 'farm/file',
    also: 'verify backup restore check code',
  },
  {
    id: 'confirm-date',
    name: 'Confirm the date',
    group: 'Farm',
    place: 'farm',
    at: 'farm/date',
    also: 'clock',
  },
] as const satisfies readonly Command[];
