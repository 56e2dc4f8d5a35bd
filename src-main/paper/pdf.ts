import { createRequire } from 'node:module';
import pdfmake from 'pdfmake';
import type { TDocumentDefinitions } from 'pdfmake/interfaces.js';
import type { TellProgress } from '../work/serve.ts';
import { rowsOf, textsOf, watched, watchedStyle } from './watched.ts';

const find = createRequire(import.meta.url);
const face = (name: string) => find.resolve(`pdfmake/fonts/Roboto/Roboto-${name}.ttf`);
const ROBOTO = {
  normal: face('Regular'),
  bold: face('Medium'),
  italics: face('Italic'),
  bolditalics: face('MediumItalic'),
};
const allowed = new Set(Object.values(ROBOTO));

// A paper is made of text only. Nothing in its data may make the renderer read a file or fetch an address.
pdfmake.setFonts({ Roboto: ROBOTO });
pdfmake.setUrlAccessPolicy(() => false);
pdfmake.setLocalAccessPolicy((path) => allowed.has(path));

/**
 * The bytes of a document. It blocks its thread to the end, and tells meanwhile what it is at: the press measures every
 * text, then places line after line on pages, then writes what is on them, and closes the file.
 */
export async function pdfBytes(
  definition: TDocumentDefinitions,
  onProgress: TellProgress = () => {},
): Promise<Uint8Array> {
  const of = rowsOf(definition.content);
  let placed = 0;
  const content = watched(definition.content, () => {
    placed += 1;
    onProgress(placed, of, 'Placing the lines on pages');
  });
  const texts = textsOf(definition.content);
  let measured = 0;
  const defaultStyle = watchedStyle(definition.defaultStyle, () => {
    measured += 1;
    // What stands at the head and foot of each page is measured later.
    if (measured <= texts)
      onProgress(measured, texts, `Measuring the text of ${of.toLocaleString('en-GB')} lines`);
  });
  pdfmake.setProgressCallback((share) => onProgress(Math.round(share * 1000), 1000, 'Writing the pages'));
  const made = pdfmake.createPdf({ ...definition, content, defaultStyle });
  await made.getStream();
  onProgress(0, 0, 'Closing the file');
  return new Uint8Array(await made.getBuffer());
}
