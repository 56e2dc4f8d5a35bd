/** What a paper for others is for. All five are numbered together on a holding, frozen and cancelled the same way. */
export const PURPOSES = ['slaughter', 'live-sale', 'milk', 'transfer', 'shearing'] as const;
export type Purpose = (typeof PURPOSES)[number];

export type PurposeRule = {
  /** The head of its paper: "Declaration for slaughter". */
  title: string;
  /** What somebody chooses it by. */
  choice: string;
  /** Who it is made out to. */
  to: string;
  /** Of the moment from which it is reckoned: "Leaves the holding". */
  when: string;
  /** The produce that must be clear of everybody on it; nothing where it only says what still runs. */
  clearOf?: 'meat' | 'milk';
  /** Produce whose holds it says, in this order. */
  says: readonly ('meat' | 'milk' | 'wool-harvest' | 'wool-handling')[];
  /** Word for the end of a hold in the table. */
  until: string;
};

/** What each sort of paper asks and says. */
export const PURPOSE_RULES: Readonly<Record<Purpose, PurposeRule>> = {
  slaughter: {
    title: 'Declaration for slaughter',
    choice: 'To slaughter',
    to: 'To',
    when: 'Leaves the holding',
    clearOf: 'meat',
    says: ['meat'],
    until: 'Meat held until',
  },
  'live-sale': {
    title: 'Declaration of treatments for a buyer',
    choice: 'To a buyer or a market, alive',
    to: 'To',
    when: 'Leaves the holding',
    // Whoever buys them shears them.
    says: ['meat', 'milk', 'wool-harvest', 'wool-handling'],
    until: 'Held until',
  },
  milk: {
    title: 'Declaration for milk',
    choice: 'Of milk',
    to: 'To',
    when: 'Milk from',
    clearOf: 'milk',
    says: ['milk'],
    until: 'Milk held until',
  },
  transfer: {
    title: 'Transfer between holdings',
    choice: 'To another holding of the farm',
    to: 'To the holding',
    when: 'Leaves the holding',
    says: ['meat', 'milk', 'wool-harvest', 'wool-handling'],
    until: 'Held until',
  },
  shearing: {
    title: 'Sheet for the shearers',
    choice: 'For the shearers',
    to: 'For',
    when: 'Shearing from',
    says: ['wool-harvest', 'wool-handling'],
    until: 'Wool held until',
  },
};

/** The question its signer answers with yes; the paper prints it. `notBefore` is the time an abattoir agreed to. */
export function questionOf(purpose: Purpose, notBefore?: string): string {
  const isAll = 'Is every treatment of these animals in this book';
  switch (purpose) {
    case 'slaughter':
      return notBefore === undefined
        ? `${isAll}, and will every withdrawal period for meat have ended when they leave?`
        : `${isAll}, and will every withdrawal period for meat have ended on ${notBefore}, before which they are not to be slaughtered?`;
    case 'milk':
      return `${isAll}, and does this milk come from no other animal?`;
    case 'live-sale':
    case 'transfer':
      return `${isAll}, and is everything said that still runs?`;
    case 'shearing':
      return `${isAll}, and is everything said that still runs for their wool?`;
  }
}
