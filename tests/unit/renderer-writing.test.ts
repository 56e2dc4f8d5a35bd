import { describe, expect, it } from 'vitest';
import { CallCache } from '../../src-renderer/hooks/call-cache.ts';
import { WriteRun } from '../../src-renderer/hooks/write-run.ts';
import type { Outcome } from '../../src-shared/refusal.ts';

type Sent = { ask: object; confirmed: readonly string[]; id: string };

/** A run over a desk that answers what it is told to, and what reached that desk. */
function runOver(answers: Outcome<string>[]) {
  const sent: Sent[] = [];
  let ids = 0;
  const run = new WriteRun<string>(
    async (ask, confirmed, id) => {
      sent.push({ ask, confirmed, id });
      const answer = answers.shift();
      if (answer === undefined) throw new Error('the desk was asked once too often');
      return answer;
    },
    () => `id-${++ids}`,
    () => {},
  );
  return { run, sent };
}
const yes: Outcome<string> = { ok: true, value: 'written' };
const no = (code: string): Outcome<string> => ({ ok: false, error: { code, message: 'No.' } });

describe('one act of writing', () => {
  it('sends a double Enter once', async () => {
    const { run, sent } = runOver([yes]);
    const [first, second] = await Promise.all([run.send({ a: 1 }), run.send({ a: 1 })]);
    expect([first, second]).toEqual(['written', undefined]);
    expect(sent.length).toBe(1);
  });

  it('keeps its id for the same content after it was written: the desk answers the first reply again', async () => {
    const { run, sent } = runOver([yes, yes]);
    await run.send({ a: 1 });
    await run.send({ a: 1 });
    expect(sent.map((one) => one.id)).toEqual(['id-1', 'id-1']);
  });

  it('gives other content a new id once the first was written', async () => {
    const { run, sent } = runOver([yes, yes]);
    await run.send({ a: 1 });
    await run.send({ a: 2 });
    expect(sent.map((one) => one.id)).toEqual(['id-1', 'id-2']);
  });

  it('keeps its id while nothing is known to be written, so that a lost reply writes nothing twice', async () => {
    const { run, sent } = runOver([no('desk-not-reached'), yes]);
    await run.send({ a: 1 });
    expect(run.state).toMatchObject({ state: 'failed', fault: { code: 'desk-not-reached' } });
    await run.send({ a: 1 });
    expect(sent.map((one) => one.id)).toEqual(['id-1', 'id-1']);
  });

  it('asks the questions of the desk one after another and sends all that were answered', async () => {
    const { run, sent } = runOver([no('ask:heavy'), no('ask:again'), yes]);
    expect(await run.send({ a: 1 })).toBeUndefined();
    expect(run.state).toEqual({ state: 'asked', question: { code: 'heavy', message: 'No.' } });
    expect(await run.yes()).toBeUndefined();
    expect(await run.yes()).toBe('written');
    expect(sent.map((one) => one.confirmed)).toEqual([[], ['heavy'], ['heavy', 'again']]);
    expect(new Set(sent.map((one) => one.id)).size).toBe(1);
  });

  it('forgets a yes when the form is sent again', async () => {
    const { run, sent } = runOver([no('ask:heavy'), no('ask:heavy'), no('ask:heavy')]);
    await run.send({ a: 1 });
    await run.yes();
    run.no();
    expect(run.state).toEqual({ state: 'idle' });
    await run.send({ a: 2 });
    expect(sent.at(-1)?.confirmed).toEqual([]);
  });

  it('makes the next sending a new act when told so', async () => {
    const { run, sent } = runOver([yes, yes]);
    await run.send({ a: 1 });
    run.next();
    await run.send({ a: 1 });
    expect(sent.map((one) => one.id)).toEqual(['id-1', 'id-2']);
  });
});

/** A promise that is kept from outside. */
function later<T>() {
  let settle: (value: T) => void = () => {};
  const promise = new Promise<T>((resolve) => {
    settle = resolve;
  });
  return { promise, settle };
}

describe('answers kept for the screens', () => {
  const ready = (value: string) => ({ state: 'ready', value, isRefreshing: false });

  it('asks again after something was written, and shows the old answer meanwhile', async () => {
    const cache = new CallCache();
    const second = later<Outcome<unknown>>();
    const answers = [Promise.resolve<Outcome<unknown>>({ ok: true, value: 'one' }), second.promise];
    cache.follow(
      'k',
      () => answers.shift() ?? second.promise,
      () => {},
    );
    await cache.refresh('none');
    await Promise.resolve();
    expect(cache.answer('k')).toEqual(ready('one'));
    const done = cache.changed();
    expect(cache.answer('k')).toEqual({ state: 'ready', value: 'one', isRefreshing: true });
    second.settle({ ok: true, value: 'two' });
    await done;
    expect(cache.answer('k')).toEqual(ready('two'));
  });

  it('never lets a slow early answer replace a late one', async () => {
    const cache = new CallCache();
    const slow = later<Outcome<unknown>>();
    const answers = [slow.promise, Promise.resolve<Outcome<unknown>>({ ok: true, value: 'new' })];
    cache.follow(
      'k',
      () => answers.shift() ?? slow.promise,
      () => {},
    );
    await cache.refresh('k');
    slow.settle({ ok: true, value: 'old' });
    await slow.promise;
    await Promise.resolve();
    expect(cache.answer('k')).toEqual(ready('new'));
  });

  it('keeps the last answer on the screen when asking again fails, and says so', async () => {
    const cache = new CallCache();
    const fault = { code: 'desk-not-reached', message: 'Foldbook does not answer.' };
    const answers: Outcome<unknown>[] = [
      { ok: true, value: 'one' },
      { ok: false, error: fault },
    ];
    cache.follow(
      'k',
      async () => answers.shift() ?? { ok: false, error: fault },
      () => {},
    );
    await Promise.resolve();
    await cache.refresh('k');
    expect(cache.answer('k')).toEqual({ ...ready('one'), old: fault });
  });

  it('forgets what is on no screen once something was written', async () => {
    const cache = new CallCache();
    const stop = cache.follow(
      'k',
      async () => ({ ok: true, value: 'one' }),
      () => {},
    );
    await cache.refresh('k');
    stop();
    expect(cache.answer('k')).toEqual(ready('one'));
    await cache.changed();
    expect(cache.answer('k')).toEqual({ state: 'loading' });
  });
});
