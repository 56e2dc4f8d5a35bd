import type { Day } from '../time/day.ts';

/**
 * What each law says of the withdrawal period after a treatment that is not as the label says. The numbers are the
 * least a vet may state; the vet states the period. How far each was confirmed stands beside it, and what was not
 * read is not called the law.
 */

export const OFF_LABEL_LAWS = ['eu', 'ni', 'gb', 'nz', 'us', 'other'] as const;
export type OffLabelLaw = (typeof OFF_LABEL_LAWS)[number];

/** Produce that these laws have numbers for. */
export type LawProduce = 'meat' | 'milk';

export type Confirmed = 'read' | 'second-hand' | 'from memory' | 'not confirmed';

/** A number of days with how far it is confirmed. */
export type LawDays = { readonly days: number; readonly confirmed: Confirmed };

export type ProduceRule = {
  /** The longest period that the label prints, times one and a half, a fraction of a day rounded up. */
  readonly longestTimesOneAndAHalf: Confirmed;
  /** The product has no period for this produce: not authorised for it. */
  readonly notAuthorised: LawDays;
  /** The period is zero. For meat only when the product is for animals of another family; for milk always. */
  readonly zero: LawDays & { readonly onlyOtherFamily: boolean };
};

export type LawText = {
  readonly law: OffLabelLaw;
  readonly name: string;
  readonly citation: string;
  /** First and last day on which it was or is in force, where known. */
  readonly from?: Day;
  readonly to?: Day;
  readonly inForce: Confirmed;
} & (
  | {
      readonly how: 'longest';
      /** Where the label has a period for the very species, the vet states one, and the law has no number. */
      readonly exceptForTheSpecies: boolean;
      readonly meat: ProduceRule;
      readonly milk: ProduceRule;
    }
  /** The same number whatever the label prints. */
  | { readonly how: 'flat'; readonly meat: LawDays; readonly milk: LawDays }
  /** A number that can be applied, and not one that must be. */
  | {
      readonly how: 'default';
      readonly meat: LawDays;
      readonly milk: LawDays;
      readonly says: string;
    }
  | { readonly how: 'vet-states'; readonly says: string }
);

const EU_RULES = {
  how: 'longest',
  exceptForTheSpecies: true,
  meat: {
    longestTimesOneAndAHalf: 'read',
    notAuthorised: { days: 28, confirmed: 'read' },
    zero: { days: 1, confirmed: 'read', onlyOtherFamily: true },
  },
  milk: {
    longestTimesOneAndAHalf: 'read',
    notAuthorised: { days: 7, confirmed: 'read' },
    zero: { days: 1, confirmed: 'read', onlyOtherFamily: false },
  },
} as const;

export const LAW_TEXTS: readonly LawText[] = [
  {
    law: 'eu',
    name: 'European Union',
    citation: 'Regulation (EU) 2019/6 Article 115',
    from: '2022-01-28' as Day,
    inForce: 'from memory',
    ...EU_RULES,
  },
  {
    law: 'ni',
    name: 'Northern Ireland',
    citation: 'Regulation (EU) 2019/6 Article 115, as it applies in Northern Ireland',
    from: '2022-01-28' as Day,
    inForce: 'from memory',
    ...EU_RULES,
  },
  {
    law: 'gb',
    name: 'Great Britain until 16 May 2024',
    citation: 'Veterinary Medicines Regulations 2013 Schedule 4, before the changes of 17 May 2024',
    from: '2013-10-01' as Day,
    to: '2024-05-16' as Day,
    inForce: 'from memory',
    how: 'flat',
    meat: { days: 28, confirmed: 'read' },
    milk: { days: 7, confirmed: 'read' },
  },
  {
    law: 'gb',
    name: 'Great Britain since 17 May 2024',
    citation: 'Veterinary Medicines Regulations 2013 Schedule 4 paragraph 2',
    from: '2024-05-17' as Day,
    inForce: 'read',
    how: 'longest',
    exceptForTheSpecies: false,
    meat: {
      longestTimesOneAndAHalf: 'second-hand',
      notAuthorised: { days: 28, confirmed: 'second-hand' },
      zero: { days: 1, confirmed: 'from memory', onlyOtherFamily: true },
    },
    milk: {
      longestTimesOneAndAHalf: 'read',
      notAuthorised: { days: 7, confirmed: 'read' },
      zero: { days: 1, confirmed: 'read', onlyOtherFamily: false },
    },
  },
  {
    law: 'nz',
    name: 'New Zealand',
    citation: 'New Zealand default withholding periods for sheep (older copies)',
    inForce: 'not confirmed',
    how: 'default',
    meat: { days: 91, confirmed: 'not confirmed' },
    milk: { days: 35, confirmed: 'not confirmed' },
    says: 'It can be applied where no residue data exist. It is not valid for long-acting products.',
  },
  {
    law: 'us',
    name: 'United States',
    citation: '21 CFR 530.20(a)(2)',
    inForce: 'not confirmed',
    how: 'vet-states',
    says: 'The period must be substantially extended; the rule gives no number, so the vet must state it.',
  },
];

/** The law in force on a day, or nothing where none is known here: then the vet must state the period. */
export function lawOn(law: string, on: Day): LawText | undefined {
  return LAW_TEXTS.find(
    (text) =>
      text.law === law &&
      (text.from === undefined || text.from <= on) &&
      (text.to === undefined || on <= text.to),
  );
}

/** What is said once of several medicines in one pass, by the law of the holding. None of it is off label by itself. */
export function severalAtOnce(law: string): { text: string; source: string } {
  const rest =
    'Where they are independent, the one that ends last counts. Look on each label for what it must not be given with.';
  if (law === 'us' || law === 'nz') {
    return {
      text: `Several medicines in one pass: by the guidance of this country the periods of the labels may no longer hold. Ask the vet for the periods. ${rest}`,
      source: 'guidance of the United States, New Zealand and Ontario',
    };
  }
  return {
    text: `Several medicines in one pass: a caution. In some countries the periods of the labels are then held to be open, so ask the vet when in doubt. ${rest}`,
    source: 'guidance of the United States, New Zealand and Ontario; elsewhere practice',
  };
}
