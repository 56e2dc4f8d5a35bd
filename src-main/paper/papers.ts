import type { TDocumentDefinitions } from 'pdfmake/interfaces.js';
import { Refusal } from '../../src-shared/refusal.ts';
import { costDefinition, costPaperSchema, costRows } from './cost.ts';
import { declarationDefinition, declarationPaperSchema, declarationRows } from './declaration.ts';
import { emergencySheetDefinition, emergencySheetSchema } from './emergency-sheet.ts';
import { medicineBookDefinition, medicineBookRows, medicineBookSchema } from './medicine-book.ts';
import { orderDefinition, orderPaperSchema } from './order.ts';
import { MOST_ROWS } from './parts.ts';
import { reactionReportDefinition, reactionReportSchema } from './reaction-report.ts';
import { recallDefinition, recallPaperSchema, recallRows } from './recall.ts';
import { stocktakeDefinition, stocktakePaperSchema, stocktakeRows } from './stocktake.ts';
import { treatmentRecordDefinition, treatmentRecordSchema } from './treatment-record.ts';
import { definitionOfUse, rowsOfUse, usePaperSchema } from './use.ts';
import { vetPageDefinition, vetPageRows, vetPageSchema } from './vet-page.ts';
import { workSheetDefinition, workSheetRows, workSheetSchema } from './work-sheet.ts';

/** Every paper there is: its data is checked, its rows are counted, and its page is defined. Nothing here is rendered. */
const PAPERS: Readonly<
  Record<string, (data: unknown) => { rows: number; define: () => TDocumentDefinitions }>
> = {
  cost(data) {
    const paper = costPaperSchema.parse(data);
    return { rows: costRows(paper), define: () => costDefinition(paper) };
  },
  declaration(data) {
    const paper = declarationPaperSchema.parse(data);
    return { rows: declarationRows(paper), define: () => declarationDefinition(paper) };
  },
  'emergency-sheet'(data) {
    const paper = emergencySheetSchema.parse(data);
    return { rows: paper.medicines.length, define: () => emergencySheetDefinition(paper) };
  },
  order(data) {
    const paper = orderPaperSchema.parse(data);
    return { rows: paper.rows.length, define: () => orderDefinition(paper) };
  },
  'medicine-book'(data) {
    const paper = medicineBookSchema.parse(data);
    return { rows: medicineBookRows(paper), define: () => medicineBookDefinition(paper) };
  },
  'reaction-report'(data) {
    const paper = reactionReportSchema.parse(data);
    return { rows: 1, define: () => reactionReportDefinition(paper) };
  },
  recall(data) {
    const paper = recallPaperSchema.parse(data);
    return { rows: recallRows(paper), define: () => recallDefinition(paper) };
  },
  stocktake(data) {
    const paper = stocktakePaperSchema.parse(data);
    return { rows: stocktakeRows(paper), define: () => stocktakeDefinition(paper) };
  },
  'treatment-record'(data) {
    const paper = treatmentRecordSchema.parse(data);
    return { rows: paper.rows.length, define: () => treatmentRecordDefinition(paper) };
  },
  use(data) {
    const paper = usePaperSchema.parse(data);
    return { rows: rowsOfUse(paper), define: () => definitionOfUse(paper) };
  },
  'vet-page'(data) {
    const paper = vetPageSchema.parse(data);
    return { rows: vetPageRows(paper), define: () => vetPageDefinition(paper) };
  },
  'work-sheet'(data) {
    const paper = workSheetSchema.parse(data);
    return { rows: workSheetRows(paper), define: () => workSheetDefinition(paper) };
  },
};

/** Refuses (`paper-too-long`) a paper of more rows than one document may have. */
export function checkRows(rows: number): void {
  if (rows <= MOST_ROWS) return;
  throw new Refusal(
    'paper-too-long',
    `This paper would have ${rows} lines, and one paper holds at most ${MOST_ROWS}.`,
    {
      field: 'to',
      next: 'Choose a shorter period or fewer animals, and make several papers.',
    },
  );
}

/** The document of a paper. @throws Refusal `paper-too-long`; Error when there is no such paper or its data is not right */
export function definePaper(paper: string, data: unknown): TDocumentDefinitions {
  const make = Object.hasOwn(PAPERS, paper) ? PAPERS[paper] : undefined;
  if (!make) throw new Error(`there is no paper called ${paper}`);
  const { rows, define } = make(data);
  checkRows(rows);
  return define();
}
