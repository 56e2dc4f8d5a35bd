import { createRequire } from 'node:module';
import pdfmake from 'pdfmake';

/**
 * A process that prints one bare table with pdfmake alone: as many rows, as many columns of the same widths, the same
 * font, and no book behind it. What the book's own paper is held against. Says milliseconds and megabytes as JSON.
 */
const find = createRequire(import.meta.url);
const face = (name: string) => find.resolve(`pdfmake/fonts/Roboto/Roboto-${name}.ttf`);
pdfmake.setFonts({
  Roboto: {
    normal: face('Regular'),
    bold: face('Medium'),
    italics: face('Italic'),
    bolditalics: face('MediumItalic'),
  },
});
pdfmake.setUrlAccessPolicy(() => false);
pdfmake.setLocalAccessPolicy(() => true);

const rows = Number(process.argv[2]);
const before = process.memoryUsage.rss();
const begun = performance.now();
const cells = (i: number) => [
  '3 Mar 2026, 08:00',
  `UK 0 123456 ${String(i + 1).padStart(5, '0')}\newe`,
  'Calverol drench\nbatch CD-12, exp. Mar 2028',
  '5.6 mL',
  'oral',
  'Worms\nGiven by Isla Thorn',
  '31 Mar 2026, 08:00\n28 d',
  'not in milk\nlabel: not for animals giving it',
];
const bytes = await pdfmake
  .createPdf({
    pageSize: 'A4',
    pageOrientation: 'landscape',
    pageMargins: [40, 58, 40, 52],
    defaultStyle: { font: 'Roboto', fontSize: 9.5, lineHeight: 1.12 },
    content: [
      {
        table: {
          headerRows: 1,
          dontBreakRows: true,
          widths: [52, 92, 140, 58, 60, '*', 104, 72],
          body: [
            ['Date', 'Animal', 'Product', 'Dose', 'Route', 'Reason', 'Meat', 'Milk'],
            ...Array.from({ length: rows }, (_, i) => cells(i)),
          ],
        },
      },
    ],
  })
  .getBuffer();
const ms = performance.now() - begun;
// maxRSS is in kibibytes.
const megabytes = (process.resourceUsage().maxRSS * 1024 - before) / 1e6;
process.stdout.write(JSON.stringify({ ms, megabytes, bytes: bytes.length }));
