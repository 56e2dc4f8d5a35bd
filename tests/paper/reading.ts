import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** What a paper says when it is read back: the text of each page in reading order, and the size of the first. */
export async function readPdf(
  bytes: Uint8Array,
): Promise<{ pages: string[]; text: string; width: number; height: number }> {
  const task = getDocument({ data: new Uint8Array(bytes), useSystemFonts: false, verbosity: 0 });
  const document = await task.promise;
  const pages: string[] = [];
  let size = { width: 0, height: 0 };
  for (let number = 1; number <= document.numPages; number += 1) {
    const page = await document.getPage(number);
    if (number === 1) {
      const { width, height } = page.getViewport({ scale: 1 });
      size = { width, height };
    }
    const { items } = await page.getTextContent();
    pages.push(
      items
        .map((item) => ('str' in item ? item.str : ''))
        .join(' ')
        .replace(/\s+/g, ' '),
    );
  }
  await task.destroy();
  return { pages, text: pages.join(' '), ...size };
}
