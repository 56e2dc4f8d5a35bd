import { expect, test, vi } from 'vitest';
import { addressOf } from '../../src-renderer/routes.ts';
import { readPdf } from '../paper/reading.ts';
import { goTo } from './browser.ts';
import { recordPage } from './record-page.ts';
import { tabTo } from './treat-farm.ts';

// Half a minute is little for a browser on a computer that does other work as well.
vi.setConfig({ testTimeout: 90_000 });

const on = recordPage();
const { key, type, heading, show, goBy, saved, expectClean } = on;

test('a substance is said and counted, printed, the vet’s visit and training are written down', async () => {
  const { desk } = on;
  const { medicine } = await desk.call('set-label', {
    act: 'first',
    terms: {
      name: 'Sorbacin injection',
      form: 'injection',
      kind: 'volume',
      purpose: 'antibiotic',
      actives: [{ substance: 'sorbacin', strength: '300000 IU/mL' }],
      doseLines: [{ id: 'd1', route: 'subcutaneous', rate: { style: 'rate', text: '1 mL per 10 kg' } }],
      periods: [{ produce: 'meat', says: 'value', value: '10 d' }],
    },
  });
  await desk.call('set-person', { name: 'Vera Quill', roles: ['vet'] });
  await desk.call('treat', {
    subject: desk.first,
    single: { medicine, source: 'vet', reason: 'lame' },
    given: '6 mL',
    happened: '2026-02-20',
  });
  await desk.drench(desk.second, '2026-02-21');
  await show();

  // From the book to what was used; the strength is in IU, so it is named and not counted.
  await goBy('g', 'b', 'Book');
  await tabTo(on.page, /^See what was used by year/);
  await key('Enter');
  await heading('What was used').waitFor();
  await on.page.getByText(/^Sorbacin injection, 6 mL: its strength is in IU/).waitFor();
  await expectClean('what was used, with something still to be said');
  const line = on.page.getByRole('listitem').filter({ hasText: 'sorbacin: say' });
  await line.getByRole('link', { name: 'Say it' }).focus();
  await key('Enter');
  await heading('What sorbacin counts as').waitFor();
  await on.page.getByLabel('Group').selectOption('penicillins');
  await tabTo(on.page, /^mg in one IU/);
  await type('0,0006');
  await key('Control+Enter');
  await on.page
    .getByRole('alert')
    .getByText(/a point, not a comma/)
    .waitFor();
  await expectClean('a substance with a fault');
  await tabTo(on.page, /^mg in one IU/);
  await key('Control+a');
  await type('0.0006');
  await key('Control+Enter');
  await heading('What was used').waitFor();
  // 6 mL × 180 mg over three ewes of 62 kg, and over 3 × 75 kg.
  await on.page.getByRole('row', { name: 'Penicillins 1.08 g 5.81 4.8', exact: true }).waitFor();
  // The yearly count of livestock had four: 1080 mg over 4 × 75 kg.
  await tabTo(on.page, /^Enter your own count/);
  await key('Enter');
  await heading('Heads by your own count').waitFor();
  await tabTo(on.page, /^Living sheep/);
  await type('4');
  await expectClean('heads by the farm’s own count');
  await key('Control+Enter');
  await on.page.getByRole('row', { name: 'Penicillins 1.08 g 5.81 3.6', exact: true }).waitFor();
  await tabTo(on.page, /^Print it/);
  await key('Enter');
  await tabTo(on.page, /^Save use-of-medicines\.pdf/);
  const { text } = await readPdf((await saved()).bytes);
  const own = '4 living by the farm’s own word; the book counts 3.';
  for (const said of ['Penicillins', '1.08 g', '5.81', 'Group not said yet', own]) {
    expect(text).toContain(said);
  }

  await tabTo(on.page, /^See the page for the vet/);
  await key('Enter');
  await heading('For the vet').waitFor();
  await on.page.getByRole('row', { name: /Sorbacin injection \(antimicrobial\) lame 1/ }).waitFor();
  await expectClean('the page for the vet');
  await tabTo(on.page, /^Write down a visit of the vet/);
  await key('Enter');
  await heading('The vet was here').waitFor();
  await tabTo(on.page, /^What for/);
  await type('Lame ewes');
  await key('Control+Enter');
  await heading('For the vet').waitFor();
  await on.page.getByText('Vera Quill: Lame ewes').waitFor();

  await goTo(on.page, addressOf('farm/training/note'));
  await on.page.getByLabel('Who', { exact: true }).selectOption(desk.person);
  await tabTo(on.page, /^What/);
  await type('Giving medicine by injection');
  await tabTo(on.page, /^By whom/);
  await type('Vera Quill');
  await tabTo(on.page, /^Look again on/);
  await type('5 Mar 2026');
  await key('Control+Enter');
  await heading('Training and competence').waitFor();
  await goTo(on.page, addressOf('today'));
  await on.page.getByText(/To be looked at again by 5 Mar 2026\./).waitFor();
  await expectClean('training on Today');

  await goTo(on.page, addressOf('book/cost'));
  await on.page.getByText(/^Vermolin drench.*left bottles without a price/).waitFor();
  await expectClean('cost without a price');
  await tabTo(on.page, /^Enter its price/);
  await key('Enter');
  await heading('What a delivery cost').waitFor();
  await tabTo(on.page, /^Price/);
  // Two litres: the 1.3 mL that were drawn of them are 13 p.
  await type('200 GBP');
  await key('Control+Enter');
  await heading('What medicines cost').waitFor();
  await on.page.getByRole('row', { name: /^Vermolin drench 1 0\.13 GBP 0\.13 GBP/ }).waitFor();
  await on.watch.expectQuiet();
});
