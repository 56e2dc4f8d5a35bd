import { z } from 'zod';
import type { Job } from '../work/serve.ts';

const jobInput = z.strictObject({ paper: z.string(), data: z.unknown() });

/** The work of the paper press, for a thread of its own: `render-paper` {paper, data} answers the bytes. */
export const paperJobs: Readonly<Record<string, Job>> = {
  async 'render-paper'(input, { progress }) {
    const { paper, data } = jobInput.parse(input);
    // Loaded when a paper is made: the worker does other work too, which need not wait for the press.
    const [{ definePaper }, { pdfBytes }] = await Promise.all([import('./papers.ts'), import('./pdf.ts')]);
    return pdfBytes(definePaper(paper, data), progress);
  },
};
