import { runJob } from '../work/run.ts';
import type { TellProgress } from '../work/serve.ts';

/**
 * Renders a paper to PDF bytes; the same data gives the same bytes. In a thread of its own when the host hands in
 * the worker module (a long paper blocks its thread for many seconds), else in this one.
 * @throws Refusal `paper-too-long`, `cancelled`
 */
export function renderPaper(
  job: { paper: string; data: unknown },
  workerUrl?: URL,
  signal?: AbortSignal,
  onProgress?: TellProgress,
): Promise<Uint8Array> {
  if (!workerUrl) return renderHere(job, onProgress);
  return runJob<Uint8Array>('render-paper', job, {
    workerUrl,
    ...(signal ? { signal } : {}),
    ...(onProgress ? { onProgress } : {}),
  });
}

async function renderHere(
  job: { paper: string; data: unknown },
  onProgress?: TellProgress,
): Promise<Uint8Array> {
  // Loaded when a paper is made: the renderer is most of what a call from a terminal would otherwise wait for.
  const [{ definePaper }, { pdfBytes }] = await Promise.all([import('./papers.ts'), import('./pdf.ts')]);
  return pdfBytes(definePaper(job.paper, job.data), onProgress);
}
