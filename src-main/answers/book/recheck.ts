import { setImmediate } from 'node:timers/promises';
import type { Reply } from '../../../src-shared/calls/all.ts';
import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { WorkTools } from '../../work/board.ts';
import { cancelled } from '../../work/run.ts';
import type { Answer, Context } from '../context.ts';
import { holdingOf } from '../reading/holding.ts';
import { termsReader } from '../reading/labels.ts';
import { untilText } from '../reading/say-hold.ts';
import { subjectsOf } from '../reading/subjects.ts';
import type { Administered } from '../treat/core.ts';
import { decideAnew, type GivenRow, standingHolds } from '../treat/decide-anew.ts';

type Different = { administration: string; shown: string; produce: string; written: string; today: string };

/** So long it decides without a break; the desk answers others in between. */
const breatheMs = 50;

/**
 * Answers `recheck`: decides every standing treatment again by today's rules and labels. Changes nothing. It reads
 * the open book, so it has no thread of its own: it gives way many times a second instead, and can be ended then.
 */
export const recheck: Answer<'recheck'> = (context, asked) =>
  context.board.run(asked.work, (tools) => decideAll(context, tools));

async function decideAll(context: Context, { signal, onProgress }: WorkTools): Promise<Reply<'recheck'>> {
  const tx = context.store.read;
  const stored = termsReader(tx);
  const termsOf = (revision: string): LabelTerms => {
    const terms = stored(revision);
    if (!terms) throw new Refusal('no-such-label', 'Its label is not in the book any more.');
    return terms;
  };
  let checked = 0;
  const different: Different[] = [];
  const ids = tx.all<{ id: string }>('SELECT id FROM administration ORDER BY at, seq');
  // At once, so that it can be asked about and ended from its beginning.
  let rested = Number.NEGATIVE_INFINITY;
  for (const { id } of ids) {
    if (performance.now() - rested > breatheMs) {
      onProgress(checked, ids.length);
      await setImmediate();
      if (signal.aborted) throw cancelled();
      rested = performance.now();
    }
    const row = tx.get<GivenRow>(
      'SELECT id, seq, subject, at, local, data FROM administration WHERE id = ?',
      id,
    );
    // Struck out while the others were looked at: there is nothing to decide.
    if (row === undefined) continue;
    checked += 1;
    different.push(...recheckOne(context, row, termsOf));
  }
  return { checked, different };
}

function recheckOne(context: Context, row: GivenRow, termsOf: (revision: string) => LabelTerms): Different[] {
  const tx = context.store.read;
  const { zone } = holdingOf(tx, (JSON.parse(row.data) as Administered).holding);
  const base = { administration: row.id, shown: subjectsOf(tx, [row.subject])[0]?.shown ?? row.subject };
  const written = food(standingHolds(tx, row));
  let today: HoldDecision[];
  try {
    today = food(decideAnew(context.store, tx, row, termsOf).holds);
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    // What cannot be decided today is a finding, and the rest is still to be checked.
    return [{ ...base, produce: 'all', written: 'decided', today: thrown.message }];
  }
  const keys = new Set([...written, ...today].map(keyOf));
  return [...keys].flatMap((key) => {
    const [was, is] = [written, today].map((holds) => holds.find((hold) => keyOf(hold) === key));
    if (was && is && alike(was, is)) return [];
    return [{ ...base, produce: key, written: said(was, zone), today: said(is, zone) }];
  });
}

function alike(was: HoldDecision, is: HoldDecision): boolean {
  const isYoung = was.young?.until === is.young?.until && was.young?.instead === is.young?.instead;
  return isYoung && was.state === is.state && was.until === is.until && was.event === is.event;
}

function food(holds: readonly HoldDecision[]): HoldDecision[] {
  return holds.filter((hold) => hold.clock === 'food');
}

/** "meat", or "meat, export". */
function keyOf(hold: HoldDecision): string {
  return hold.market === 'export' ? `${hold.produce}, export` : hold.produce;
}

function said(hold: HoldDecision | undefined, zone: string): string {
  if (!hold) return 'nothing';
  return untilText({ state: hold.state, until: hold.until ?? null, event: hold.event ?? null }, zone);
}
