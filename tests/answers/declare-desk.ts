import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openDesk } from '../../src-main/answers/desk.ts';
import { type Ask, CALLS, type CallName, type Reply, type WritingCall } from '../../src-shared/calls/all.ts';
import type { Fault } from '../../src-shared/refusal.ts';

type Told<N extends CallName> = N extends WritingCall
  ? Omit<Ask<N>, 'request' | 'by'> & { request?: string; by?: string }
  : Ask<N>;

/**
 * A desk on a new book with one holding, one drench (28 d meat, 0.2 mg/kg of 10 mg/mL), one zero-period pour-on that
 * states no milk, 2 litres and three ewes of 62 kg, in an invented valley. It is 1 March 2026, 09:00, or `start`.
 */
export async function declareDesk(more: { demo?: boolean; start?: string } = {}) {
  const folder = mkdtempSync(join(tmpdir(), 'foldbook-declare-'));
  let now = more.start ?? '2026-03-01T09:00:00.000Z';
  const open = () => openDesk({ book: join(folder, 'test.foldbook'), clock: () => now });
  let desk = open();
  let made = 0;
  let person = 'nobody';
  const requestId = () => `01890000-0000-7000-8000-${String(++made).padStart(12, '0')}`;

  async function outcome<N extends CallName>(name: N, asked: Told<N>) {
    return desk.call(name, CALLS[name].writes ? { request: requestId(), by: person, ...asked } : asked);
  }
  async function call<N extends CallName>(name: N, asked: Told<N>): Promise<Reply<N>> {
    const got = await outcome(name, asked);
    if (!got.ok) throw new Error(`${name}: ${got.error.code}: ${got.error.message}`);
    return got.value as Reply<N>;
  }
  async function refused<N extends CallName>(name: N, asked: Told<N>): Promise<Fault> {
    const got = await outcome(name, asked);
    if (got.ok) throw new Error(`${name} was not refused`);
    return got.error;
  }

  const started = await call('start-book', {
    business: { name: 'Hafod-y-Gwynt Farming', address: 'Cwm Uchaf', demo: more.demo ?? false },
    holding: {
      name: 'Hafod-y-Gwynt',
      number: '99/999/0042',
      address: 'Cwm Uchaf',
      zone: 'Europe/London',
      law: 'gb',
    },
    keeper: { name: 'Siân Ó Briain-Łukasz' },
  });
  person = started.person;
  const { holding } = started;
  const { medicine, revision } = await call('set-label', { act: 'first', terms: DRENCH });
  const batch = await call('receive-batch', {
    medicine,
    number: 'B-17',
    expiry: '2027-03',
    packs: [{ count: 2, size: '1 L' }],
  });
  const ewes: string[] = [];
  for (const tag of ['UK 9999999 00001', 'UK 9999999 00002', 'UK 9999999 00003']) {
    const { animal } = await call('set-animal', { holding, tag, class: 'ewe', sex: 'female' });
    const subject = `animal:${animal}`;
    ewes.push(subject);
    await call('weigh', { subject, weight: '62 kg', how: 'crate' });
  }
  const [first = '', second = '', third = ''] = ewes;

  return {
    call,
    refused,
    requestId,
    holding,
    person,
    medicine,
    revision,
    batch,
    first,
    second,
    third,
    /** Moves the computer's clock. */
    at(instant: string) {
      now = instant;
    },
    /** Treats one subject with the drench. */
    drench: (subject: string, happened?: string) =>
      call('treat', {
        subject,
        single: { medicine, reason: 'worms' },
        ...(happened === undefined ? {} : { happened }),
      }),
    /** A writing call by somebody else, while a paper is being printed. */
    raw: () => desk,
    reopen() {
      desk.close();
      desk = open();
    },
    close() {
      desk.close();
      rmSync(folder, { recursive: true });
    },
  };
}
export type DeclareDesk = Awaited<ReturnType<typeof declareDesk>>;

export const DRENCH = {
  name: 'Vermolin drench',
  form: 'drench' as const,
  kind: 'volume' as const,
  purpose: 'parasites' as const,
  actives: [{ substance: 'vermolin', strength: '10 mg/mL' }],
  doseLines: [
    { id: 'all', route: 'oral' as const, rate: { style: 'rate' as const, text: '0.2 mg/kg', of: 0 } },
  ],
  periods: [
    { produce: 'meat' as const, says: 'value' as const, value: '28 d' },
    { produce: 'milk' as const, says: 'not-for-this-produce' as const },
  ],
};
