import { createRequire } from 'node:module';
import pdfmake from 'pdfmake';
import type { TDocumentDefinitions } from 'pdfmake/interfaces.js';

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

/** The bytes of a document. It blocks its thread to the end. */
export async function pdfBytes(definition: TDocumentDefinitions): Promise<Uint8Array> {
  const bytes = await pdfmake.createPdf(definition).getBuffer();
  return new Uint8Array(bytes);
}
