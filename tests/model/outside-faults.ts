import { OUTSIDE_RULES, type OutsideRules } from './outside.ts';

/** Plausible mistakes about treatments outside their label; each must make book and model disagree. */
export const OUTSIDE_FAULTS: readonly { name: string; rules: Partial<OutsideRules> }[] = [
  { name: "the law's least is ignored", rules: { lawCounts: false } },
  {
    name: 'one and a half times rounded down',
    rules: { oneAndAHalf: (hours) => Math.floor((hours * 3) / 48) },
  },
  { name: "the label's longest is ignored", rules: { labelCounts: false } },
  { name: "the vet's word is ignored where the law has a number", rules: { vetCounts: false } },
  { name: 'the law of today for a treatment of before', rules: { lawDay: () => '2026-05-01' } },
  { name: 'the law before 17 May 2024 for a treatment since', rules: { lawDay: () => '2024-05-16' } },
  { name: "the law's number although sheep are on the label", rules: { exceptsSpecies: () => false } },
  {
    name: 'left to the vet in Great Britain too where sheep are on the label',
    rules: { exceptsSpecies: () => true },
  },
  { name: 'the rows for other animals are ignored', rules: { othersOf: () => [] } },
  { name: 'an instruction after its last day', rules: { stillGood: () => true } },
  { name: 'an instruction for other animals', rules: { isForAnimal: () => true } },
  { name: 'an instruction about another medicine', rules: { isForMedicine: () => true } },
  {
    name: 'another way in is on the label',
    rules: {
      isOutside: (given, terms, day) => OUTSIDE_RULES.isOutside({ ...given, route: 'oral' }, terms, day),
    },
  },
  {
    name: 'twice the dose is on the label',
    rules: {
      isOutside: (given, terms) =>
        OUTSIDE_RULES.isOutside({ ...given, dose: { kind: 'volume', microlitres: 1 } }, terms, []),
    },
  },
  { name: 'two doses of one day are each on the label', rules: { isSameDay: () => false } },
  { name: 'doses of two days are summed', rules: { isSameDay: () => true } },
  { name: 'doses of other animals are summed', rules: { isSameAnimal: () => true } },
  { name: 'judged by what was not written yet', rules: { sumsAsOfThen: false } },
];
