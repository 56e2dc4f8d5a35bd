import { z } from 'zod';
import type { Job } from '../work/serve.ts';
import { definePaper } from './papers.ts';
import { pdfBytes } from './pdf.ts';

const jobInput = z.strictObject({ paper: z.string(), data: z.unknown() });

/** The work of the paper press, for a thread of its own: `render-paper` {paper, data} answers the bytes. */
export const paperJobs: Readonly<Record<string, Job>> = {
  'render-paper'(input) {
    const { paper, data } = jobInput.parse(input);
    return pdfBytes(definePaper(paper, data));
  },
};
