import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { openDesk } from '../../src-main/answers/desk.ts';
import type { Desk } from '../../src-main/desk-type.ts';
import { type Ask, CALLS, type CallName, type Reply } from '../../src-shared/calls/all.ts';

type Bare<N extends CallName> = Omit<Ask<N>, 'request' | 'by'>;

/** An injection of an invented substance: 1 mL for each 10 kg into muscle, meat 28 d. */
const INJECTION = {
  name: 'Orvandrex injection',
  form: 'injection',
  kind: 'volume',
  purpose: 'antibiotic',
  actives: [{ substance: 'orvandrine', strength: '50 mg/mL' }],
  doseLines: [
    {
      id: 'im',
      route: 'intramuscular',
      rate: { style: 'rate', text: '5 mg/kg', perVolume: '1 mL per 10 kg' },
      repeats: { doses: 3, due: '1 d' },
    },
  ],
  periods: [
    { produce: 'meat', says: 'value', value: '28 d' },
    { produce: 'milk', says: 'value', value: '72 h' },
  ],
  shakeWell: true,
  inUse: '28 d',
} satisfies Ask<'check-label'>['terms'];

/** A drench of an invented substance: 1 mL for each 10 kg, meat 28 d. */
const DRENCH = {
  name: 'Calverol drench',
  form: 'drench',
  kind: 'volume',
  purpose: 'parasites',
  actives: [{ substance: 'calverol', strength: '10 mg/mL' }],
  doseLines: [
    { id: 'd1', route: 'oral', rate: { style: 'rate', text: '1 mg/kg', perVolume: '1 mL per 10 kg' } },
  ],
  periods: [
    { produce: 'meat', says: 'value', value: '28 d' },
    { produce: 'milk', says: 'not-for-this-produce' },
  ],
  inUse: '28 d',
} satisfies Ask<'check-label'>['terms'];

/** The number on the tag of animal `n`. */
export function tagOf(n: number): string {
  return `UK 0 700123 ${String(n).padStart(5, '0')}`;
}

/** A book in a folder of its own, whose desk can be closed and opened again. */
export function treatFarm() {
  const folder = mkdtempSync(path.join(tmpdir(), 'foldbook-treat-'));
  const book = path.join(folder, 'farm.foldbook');
  const open = (): Desk => openDesk({ book, clock: () => new Date().toISOString() });
  let desk = open();
  let by = 'nobody';

  const ask = async <N extends CallName>(name: N, request: Bare<N>): Promise<Reply<N>> => {
    const asked = CALLS[name].writes ? { request: randomUUID(), by, ...request } : request;
    const outcome = await desk.call(name, asked);
    if (!outcome.ok) throw new Error(`${name}: ${outcome.error.code}: ${outcome.error.message}`);
    // The desk checked its reply against the schema of this call.
    return outcome.value as Reply<N>;
  };

  return {
    ask,
    desk: () => desk,
    folder,
    book,
    /** Closes the book, so that another process can open it. */
    leave: () => desk.close(),
    /** Opens it again after `leave`. */
    comeBack(): void {
      desk = open();
    },
    /** Ewes of 51, 52 … kg in one group, a lot of 40 lambs, two medicines. */
    async seed(ewes: number) {
      const started = await ask('start-book', {
        business: { name: 'Thistle Bank Farm', address: '1 Thistle Bank' },
        holding: {
          name: 'Thistle Bank',
          number: 'TB 0001',
          address: '1 Thistle Bank',
          zone: 'Europe/London',
          law: 'gb',
        },
        keeper: { name: 'Isla Thorn' },
      });
      by = started.person;
      const { holding } = started;
      const receive = async (terms: Ask<'check-label'>['terms'], number: string) => {
        const { medicine } = await ask('set-label', { act: 'first', terms });
        await ask('receive-batch', {
          medicine,
          number,
          expiry: `${new Date().getUTCFullYear() + 2}-03`,
          packs: [{ count: 1, size: '500 mL' }],
          supplier: 'Quillow Farm Stores',
        });
        return medicine;
      };
      const injection = await receive(INJECTION, 'OR-51');
      const drench = await receive(DRENCH, 'CD-12');
      const subjects: string[] = [];
      for (let n = 1; n <= ewes; n += 1) {
        const { animal } = await ask('set-animal', { holding, tag: tagOf(n), class: 'ewe' });
        subjects.push(`animal:${animal}`);
        await ask('weigh', { subject: `animal:${animal}`, weight: `${50 + n} kg`, how: 'scale' });
      }
      const { lot } = await ask('set-lot', { holding, name: 'Hill lambs', class: 'lamb', heads: 40 });
      await ask('weigh', { subject: `lot:${lot}`, weight: '31 kg', how: 'scale' });
      const { group } = await ask('set-group', { holding, name: 'Lame ewes', add: subjects });
      return { holding, injection, drench, subjects, lot: `lot:${lot}`, group };
    },
    async close(): Promise<void> {
      await desk.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
export type TreatFarm = ReturnType<typeof treatFarm>;

/** Goes on with Tab until the cursor stands on what has this name; fails when it comes round without. */
export async function tabTo(page: Page, name: RegExp): Promise<void> {
  // A page that has only just been opened has nothing yet that Tab could lead to.
  await page.getByRole('heading', { level: 1 }).first().waitFor();
  const seen: string[] = [];
  for (let n = 0; n < 120; n += 1) {
    const here = await page.evaluate(() => {
      const at = document.activeElement;
      // The body holds all that is written on the page: a cursor that is nowhere is on none of it.
      if (!(at instanceof HTMLElement) || at === document.body) return '';
      const labels = 'labels' in at && at.labels instanceof NodeList ? [...at.labels] : [];
      return [
        ...labels.map((label) => label.textContent ?? ''),
        at.getAttribute('aria-label') ?? '',
        at.textContent ?? '',
      ]
        .join(' ')
        .trim();
    });
    if (name.test(here)) return;
    seen.push(here.slice(0, 40));
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab leads to nothing called ${name}; it leads to: ${[...new Set(seen)].join(' | ')}`);
}
