import { writeSync } from 'node:fs';
import { openStore } from '../../src-main/store/store.ts';
import { addedDraft, toyParts } from '../store/toys.ts';

/**
 * A program that writes into a book until it is killed. After each call that has returned it says so, straight
 * to the pipe: what was said is what must be found afterwards.
 */
const [path = '', run = '0'] = process.argv.slice(2);
const store = openStore(path, toyParts, { now: () => new Date().toISOString() }, { create: true });
for (let i = 0; ; i += 1) {
  const request = `run-${run}-call-${i}`;
  // Late entries and two subjects, so that a kill also falls into the folding of whole subjects anew.
  const entries = [addedDraft(['a', `s${i % 4}`], 1, i % 7), addedDraft(['b'], 2, 50 - (i % 9))];
  store.write(request, i, () => ({ entries, reply: i }));
  writeSync(1, `${request} ${store.head().checkCode}\n`);
}
