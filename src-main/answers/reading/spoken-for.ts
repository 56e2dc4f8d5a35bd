import type { Day } from '../../../src-shared/time/day.ts';
import { startOfDay } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import type { Instruction } from './instructions.ts';
import { changesOfLot, type LotChange } from './lot-heads.ts';

/** Somebody as they were just before an instant, or just before an entry of that instant. */
type Then = { who: string; at: string; seq: number };

/**
 * Whether an instruction of the vet speaks for every head that a subject had at an instant.
 *
 * It speaks for the animals it names, and for the heads that were in a lot it names when it was given: those take its
 * word along when they are named out of that lot or go into another one. Who joined later was not spoken of, so a lot
 * that received others, or was counted up, is spoken for no longer, and nor is whoever comes out of it. An
 * instruction given after the treatment speaks for those it names, and no others.
 *
 * A lot that had no heads yet at that time is taken as it was when the word was written down: the vet named it ahead.
 * Of an instruction with a day and no time the cautious reading is taken at both ends of that day.
 */
export function isSpokenFor(
  tx: Reader,
  instruction: Pick<Instruction, 'data' | 'at' | 'local' | 'zone' | 'seq'>,
  subject: string,
  at: string,
): boolean {
  const { subjects } = instruction.data;
  if (subjects.length === 0) return true;
  if (at < instruction.at || !subjects.some((named) => named.startsWith('lot:'))) {
    return subjects.includes(subject);
  }
  const said = { ...instruction, named: new Set<string>(subjects), ended: endOfSaying(instruction) };
  const seen = new Set<string>();
  const open: Then[] = [{ who: subject, at, seq: Number.POSITIVE_INFINITY }];
  for (let then = open.pop(); then !== undefined; then = open.pop()) {
    const key = `${then.who} ${then.seq}`;
    if (seen.has(key)) continue;
    seen.add(key);
    const from = then.who.startsWith('lot:') ? lotWas(tx, said, then) : animalWas(tx, said, then);
    if (from === undefined) return false;
    open.push(...from);
  }
  return true;
}

type Said = Pick<Instruction, 'at' | 'seq'> & { named: ReadonlySet<string>; ended: string };

/** The last instant at which it may have been given. */
function endOfSaying({ at, local, zone }: Pick<Instruction, 'at' | 'local' | 'zone'>): string {
  return local.length > 'yyyy-mm-dd'.length ? at : startOfDay(local as Day, zone, 1);
}

/** Out of which lot it was named since, so that it is asked of that lot as it was; undefined: not spoken for. */
function animalWas(tx: Reader, { named, ended, seq }: Said, { who, at }: Then): Then[] | undefined {
  if (named.has(who)) return [];
  const came = tx.get<{ parent: string; at: string; seq: number }>(
    'SELECT parent, at, seq FROM lineage WHERE subject = ? AND at <= ? ORDER BY at DESC, seq DESC LIMIT 1',
    who,
    at,
  );
  if (came === undefined || isBefore(came, { at: ended, seq })) return undefined;
  return [{ who: came.parent, at: came.at, seq: came.seq }];
}

/** The lots that gave it heads since, each as it was then; undefined: it has heads that are not spoken for. */
function lotWas(tx: Reader, said: Said, then: Then): Then[] | undefined {
  const isNamed = said.named.has(then.who);
  const changes = changesOfLot(tx, then.who).filter((change) => isBefore(change, then));
  const first = firstSince(changes, said, isNamed);
  let isKnown = isNamed || first === 0 || (changes[first - 1]?.heads ?? 0) === 0;
  let from: Then[] = [];
  for (const { at, seq, heads, more, giver } of changes.slice(first)) {
    if (heads === 0) {
      // Nobody is left in it of whoever was not spoken for.
      isKnown = true;
      from = [];
    } else if (giver !== undefined && !isBefore({ at, seq }, { at: said.ended, seq: said.seq })) {
      from.push({ who: giver, at, seq });
    } else if (more > 0) isKnown = false;
  }
  const hasHeads = (changes.at(-1)?.heads ?? 0) > 0;
  return isKnown && hasHeads ? from : undefined;
}

/** Number of the first change that came after the vet's word. */
function firstSince(changes: readonly LotChange[], said: Said, isNamed: boolean): number {
  const since = changes.filter((change) => isBefore(change, said));
  const wasThere = (since.at(-1)?.heads ?? 0) > 0;
  if (wasThere || !isNamed) return since.length;
  const later = changes.findIndex((change) => change.seq > said.seq);
  return later < 0 ? changes.length : Math.max(later, since.length);
}

function isBefore(change: { at: string; seq: number }, then: { at: string; seq: number }): boolean {
  return change.at < then.at || (change.at === then.at && change.seq < then.seq);
}
