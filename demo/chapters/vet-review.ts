import type { Said } from '../player.ts';
import type { Scenario } from '../scenario.ts';

/** Groups of the invented substances, so that use can be counted. One is left for whoever looks at the demo. */
const SUBSTANCES: readonly Said<'set-substance'>[] = [
  { substance: 'tarnicolate', group: 'tetracyclines' },
  { substance: 'pellurate', group: 'penicillins', iuToMg: '0.0006' },
  { substance: 'lactorinate', group: 'cephalosporins-1-2' },
  { substance: 'orvethanic base', group: 'macrocyclic-lactones' },
  { substance: 'grennovate', group: 'salicylanilides' },
  { substance: 'marlexane', group: 'benzimidazoles' },
  { substance: 'cradmorane', group: 'pyrethroids' },
];

/** The paper of the first boluses went with the water in the old office: the gap stays, with the word for it. */
export async function explainTheLostPaper({ player }: Scenario): Promise<void> {
  const { gaps } = await player.ask('book-gaps', { from: '2024-11-18', to: '2024-11-30' });
  const lost = gaps.find(({ item, text }) => item === 'proof' && text.includes('CB77'));
  if (!lost) throw new Error('The delivery without its paper is not in the list of what is missing.');
  await player.write('explain-gap', {
    gap: lost.gap,
    says: 'The delivery note was in the tray by the office window and got wet in the storm of December 2024.',
  });
}

/** The office gets ready for the vet: substances, the last visit, and what the shepherds were taught. */
export async function readyForTheVet({ player, person }: Scenario): Promise<void> {
  for (const said of SUBSTANCES) await player.write('set-substance', said);
  await player.write('record-vet-visit', {
    vet: person('vet'),
    what: 'Flock health review before turning out',
    found: 'Feet: fewer lame than last year. Faecal samples before each drench from now on.',
    happened: '2026-03-25',
    next: '2026-12-08',
  });
  await player.write('note-training', {
    person: person('bram'),
    what: 'Giving medicine by injection',
    with: 'Ines Followfell',
    happened: '2024-12-02',
    reviewOn: '2026-12-02',
    proof: 'DEMO certificate 31, folder in the office',
  });
  await player.write('note-training', {
    person: person('sorrel'),
    what: 'Using the dosing gun',
    how: 'seen',
    with: 'Ottilie Garrowmoss',
    happened: '2026-10-21',
  });
}
