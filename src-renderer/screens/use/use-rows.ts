import type { Reply } from '../../../src-shared/calls/all.ts';
import { listed } from '../../../src-shared/list-words.ts';
import { type Day, printDay } from '../../../src-shared/time/day.ts';
import type { UseYear } from '../../drawings/use-chart.tsx';

type Use = Reply<'use'>;
type Year = Use['years'][number];

/** "2025", "2026, to 1 Mar 2026". */
export function yearTitle({ year, to, isRunning }: Pick<Year, 'year' | 'to' | 'isRunning'>): string {
  return isRunning ? `${year}, to ${printDay(to as Day)}` : String(year);
}

/** True for a year in which nothing that is counted here was given. */
export function isNothing(year: Year): boolean {
  return year.doses === 0 && year.missing.length + year.parasites.length + year.vaccines.length === 0;
}

/** The years as the chart draws them, newest first. */
export function usedYears(years: readonly Year[]): UseYear[] {
  return years.map((year) => ({
    key: String(year.year),
    title: yearTitle(year),
    total: { key: 'all', name: 'All', ...year.total },
    groups: year.antimicrobials.map((one) => ({ key: one.group, ...one })),
    isPart: year.missing.length > 0,
  }));
}

const NEEDS = {
  group: 'to which group it belongs',
  iu: 'how many mg are in one IU',
  salt: 'which part of the salt is the substance',
} as const;

/** What is still to be said of a substance, as a sentence. */
export function needWords(needs: Use['substances'][number]['needs']): string {
  return `say ${listed(needs.map((need) => NEEDS[need]))}.`;
}

/** Kilograms for reading: whole ones, thousands apart. */
export function wholeKg(kg: string): string {
  return Math.round(Number(kg)).toLocaleString('en-GB');
}

type HeadsSaid = { year: number; living?: number; slaughtered?: number };

/** The farm's own head numbers as typed, or what is wrong with them; an empty box is the book's to count. */
export function typedHeads(values: { year: string; living: string; slaughtered: string }): {
  said?: HeadsSaid;
  problems: { field: string; message: string }[];
} {
  const isEmpty = (text: string) => text.trim() === '';
  const isCount = (text: string) => isEmpty(text) || /^\d{1,6}$/.test(text.trim());
  const { year, living, slaughtered } = values;
  const problems = [
    ...(/^(19|20|21)\d\d$/.test(year.trim())
      ? []
      : [{ field: 'year', message: 'Write the year in four digits, as in 2026.' }]),
    ...(isCount(living) ? [] : [{ field: 'living', message: 'Write a whole number of sheep, as in 420.' }]),
    ...(isCount(slaughtered)
      ? []
      : [{ field: 'slaughtered', message: 'Write a whole number of sheep, as in 180.' }]),
  ];
  if (problems.length > 0) return { problems };
  return {
    problems,
    said: {
      year: Number(year),
      ...(isEmpty(living) ? {} : { living: Number(living) }),
      ...(isEmpty(slaughtered) ? {} : { slaughtered: Number(slaughtered) }),
    },
  };
}
