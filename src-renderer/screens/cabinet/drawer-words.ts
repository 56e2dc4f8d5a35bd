import type { Reply } from '../../../src-shared/calls/all.ts';

type What = Reply<'consumables'>['consumables'][number]['what'];

/** What each is, in words. */
export const whatWords: Readonly<Record<What, string>> = {
  needle: 'Needles',
  syringe: 'Syringes',
  'gun-spare': 'Spares for a gun',
  'sharps-box': 'Boxes for used needles',
  'marking-spray': 'Marking spray',
};

export const whatOptions = [
  { value: 'needle', label: 'Needles', hint: 'by gauge and length' },
  { value: 'syringe', label: 'Syringes', hint: 'by what they hold' },
  { value: 'gun-spare', label: 'Spares for a gun', hint: 'seals, valves, tubes' },
  { value: 'sharps-box', label: 'Boxes for used needles' },
  { value: 'marking-spray', label: 'Marking spray', hint: 'by its colour' },
] as const satisfies readonly { value: What; label: string; hint?: string }[];

/** What to write as the name of one that is no needle. */
export const nameHints: Readonly<Record<What, string>> = {
  needle: '',
  syringe: 'What it holds, as in 10 mL.',
  'gun-spare': 'As in seals for the blue gun.',
  'sharps-box': 'As in 2 L box.',
  'marking-spray': 'Its colour, as in red.',
};
