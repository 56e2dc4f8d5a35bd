import { createRequire } from 'node:module';
import pdfmake from 'pdfmake';
import type { TDocumentDefinitions } from 'pdfmake/interfaces.js';
import type { TellProgress } from '../work/serve.ts';
import { rowsOf, watched } from './watched.ts';

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
 * The bytes of a document. It blocks its thread to the end, and tells meanwhile what it is at: the press measures the
 * text of all lines without saying how far it is, then places line after line on pages, then writes what is on them.
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
  onProgress(0, 0, `Measuring the text of ${of.toLocaleString('en-GB')} lines`);
  pdfmake.setProgressCallback((share) => onProgress(Math.round(share * 1000), 1000, 'Writing the pages'));
  const made = pdfmake.createPdf({ ...definition, content });
  await made.getStream();
  onProgress(0, 0, 'Closing the file');
  return new Uint8Array(await made.getBuffer());
}
