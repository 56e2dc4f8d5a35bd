/** What is looked at before work at the race begins. Where no needle is used, no check speaks of one. */

export const CHECK_IDS = [
  'label',
  'weights',
  'weigher',
  'gun',
  'works',
  'needles',
  'air',
  'remedy',
  'skin',
  'hazard',
  'phone',
] as const;
export type CheckId = (typeof CHECK_IDS)[number];

export type Check = { readonly id: CheckId; readonly says: string; readonly why?: string | undefined };

/** What the checks depend on. */
export type CheckFacts = {
  readonly isInjected: boolean;
  readonly usesGun: boolean;
  /** One of the labels says to shake it. */
  readonly shake: boolean;
  /** One of the remedies is thick, so that cold makes it hard to push. */
  readonly thick: boolean;
  /** What the labels say of danger to people, in sentences; the check asks whether it is known. */
  readonly hazards: readonly string[];
};

/** The checks of a session, in the order in which they are made (practice). */
export function checksFor(facts: CheckFacts): Check[] {
  const { isInjected, usesGun, shake, thick, hazards } = facts;
  const remedy = [
    ...(shake ? ['shaken as the label says'] : []),
    ...(thick ? ['at room warmth, because cold makes it thick'] : []),
  ];
  const all: (Check | undefined)[] = [
    { id: 'label', says: 'The label of each remedy is read: dose, how it is given, withdrawal period.' },
    { id: 'weights', says: 'The weights are known, or there is a weigher at the race.' },
    { id: 'weigher', says: 'The weigher shows a known weight rightly.' },
    usesGun ? { id: 'gun', says: 'The gun gives what it stands at: ten shots into a measure.' } : undefined,
    { id: 'works', says: 'Everything works, and nothing leaks or sticks.' },
    isInjected
      ? { id: 'needles', says: 'There are enough needles, sharp and straight, and a box for the used ones.' }
      : undefined,
    isInjected || usesGun
      ? { id: 'air', says: `The air is out of the ${usesGun ? 'gun and its tube' : 'syringe'}.` }
      : undefined,
    {
      id: 'remedy',
      says:
        remedy.length === 0
          ? 'The remedy is clear of lumps and of the right look, and in date.'
          : `The remedy is ${remedy.join(', and ')}.`,
    },
    isInjected ? { id: 'skin', says: 'The sheep are dry and clean where the needle goes in.' } : undefined,
    {
      id: 'hazard',
      says:
        hazards.length === 0
          ? 'Everybody knows what the label says of danger to people. These labels, as typed, name none: look at the box.'
          : 'Everybody knows the danger to people, and what to do.',
      why: hazards.length === 0 ? undefined : hazards.join(' '),
    },
    { id: 'phone', says: 'A phone that has a signal is at hand, with the numbers of doctor and vet.' },
  ];
  return all.filter((check) => check !== undefined);
}
