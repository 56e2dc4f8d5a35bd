/** Groups of active substances under which use is counted: trade words, set out by us. */

/** Groups of antimicrobials. */
export const ANTIMICROBIALS = {
  penicillins: 'Penicillins',
  'cephalosporins-1-2': 'Cephalosporins, first and second generation',
  'cephalosporins-3-4': 'Cephalosporins, third and fourth generation',
  tetracyclines: 'Tetracyclines',
  macrolides: 'Macrolides',
  lincosamides: 'Lincosamides',
  aminoglycosides: 'Aminoglycosides',
  amphenicols: 'Amphenicols',
  sulfonamides: 'Sulfonamides',
  trimethoprim: 'Trimethoprim',
  fluoroquinolones: 'Fluoroquinolones',
  polymyxins: 'Polymyxins',
  pleuromutilins: 'Pleuromutilins',
  'other-antimicrobial': 'Other antimicrobials',
} as const;

/** Groups of substances against parasites. */
export const PARASITE_GROUPS = {
  benzimidazoles: 'Benzimidazoles',
  imidazothiazoles: 'Imidazothiazoles',
  'macrocyclic-lactones': 'Macrocyclic lactones',
  'amino-acetonitriles': 'Amino-acetonitrile derivatives',
  spiroindoles: 'Spiroindoles',
  salicylanilides: 'Salicylanilides',
  triazines: 'Triazines',
  organophosphates: 'Organophosphates',
  pyrethroids: 'Pyrethroids',
  'growth-regulators': 'Insect growth regulators',
  'other-parasites': 'Others against parasites',
} as const;

/** The group of a substance that is neither, said so that it is not counted as unknown. */
export const NEITHER = 'neither';

export type Antimicrobial = keyof typeof ANTIMICROBIALS;
export type ParasiteGroup = keyof typeof PARASITE_GROUPS;
export type SubstanceGroup = Antimicrobial | ParasiteGroup | typeof NEITHER;

const keysOf = <K extends string>(words: Readonly<Record<K, string>>) => Object.keys(words) as K[];

/** Every group a label may name for a substance. */
export const SUBSTANCE_GROUPS: readonly SubstanceGroup[] = [
  ...keysOf(ANTIMICROBIALS),
  ...keysOf(PARASITE_GROUPS),
  NEITHER,
];

/** True for a group of antimicrobials. */
export function isAntimicrobial(group: string | undefined): group is Antimicrobial {
  return group !== undefined && Object.hasOwn(ANTIMICROBIALS, group);
}

/** True for a group of remedies against parasites. */
export function isParasiteGroup(group: string | undefined): group is ParasiteGroup {
  return group !== undefined && Object.hasOwn(PARASITE_GROUPS, group);
}

/** The words of a group; of one that is not known here the text itself. */
export function groupWords(group: string): string {
  if (isAntimicrobial(group)) return ANTIMICROBIALS[group];
  if (isParasiteGroup(group)) return PARASITE_GROUPS[group];
  return group === NEITHER ? 'Neither an antimicrobial nor against parasites' : group;
}
