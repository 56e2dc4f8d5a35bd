import type { vetPageCalls } from '../../../src-shared/calls/vet-page.ts';
import type { Answers } from '../context.ts';
import { vetPage } from './page.ts';
import { vetPagePaper } from './paper.ts';
import { recordVisit, visitsOf } from './visits.ts';

/** Visits of the vet, and the page for the next one. */
export const vetPageAnswers: Answers<keyof typeof vetPageCalls> = {
  'vet-visits': (context) => ({ visits: visitsOf(context) }),
  'record-vet-visit': recordVisit,
  'vet-page': vetPage,
  'vet-page-paper': vetPagePaper,
};
