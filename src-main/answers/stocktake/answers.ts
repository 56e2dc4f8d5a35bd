import type { stocktakeCalls } from '../../../src-shared/calls/stocktake.ts';
import type { Answers } from '../context.ts';
import { drift } from './drift.ts';
import { stocktakePaper, stocktakeSheet } from './sheet.ts';
import { writeStocktake } from './write.ts';

/** Counting the shelf: the sheet, its paper, what was found, and how far book and shelf drift apart. */
export const stocktakeAnswers: Answers<keyof typeof stocktakeCalls> = {
  'stocktake-sheet': stocktakeSheet,
  'stocktake-paper': stocktakePaper,
  'write-stocktake': writeStocktake,
  drift,
};
