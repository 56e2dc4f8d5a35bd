import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { leakedOf } from '../treat/leaked-values.ts';
import { joinLocal } from './when.ts';

type Line = Reply<'treatment'>;

/** What the form of a correction holds, as text. */
export type CorrectValues = {
  readonly subject: string;
  readonly day: string;
  readonly time: string;
  readonly weight: string;
  readonly given: string;
  /** Drops or an amount; "0 drops" when nothing did after all. */
  readonly leaked: string;
  readonly heads: string;
  readonly why: string;
  readonly givenBy: string;
  readonly containers: readonly string[];
  /** The vet's instruction it follows; empty for none. */
  readonly instruction: string;
  readonly reason: string;
};

/** The form as it begins: what the book says now. */
export function valuesOf(line: Line): CorrectValues {
  const now = line.versions.at(-1);
  return {
    subject: line.subject,
    day: line.local.slice(0, 10),
    time: line.local.slice(11, 16),
    weight: line.weight ?? '',
    given: now?.dose ?? '',
    leaked: line.leaked?.replace(/, booked as .*$/, '') ?? '',
    heads: String(now?.heads ?? 1),
    why: now?.reason ?? '',
    givenBy: line.givenBy,
    containers: [...new Set(line.draws.map((draw) => draw.container))],
    instruction: line.instruction?.instruction ?? '',
    reason: '',
  };
}

type Change = Omit<Ask<'preview-correction'>, 'administration'>;

/** Only what differs from what the book says: what is left alone stays as it was written. */
export function changesOf(before: CorrectValues, now: CorrectValues): Change {
  const heads = Number(now.heads);
  const local = joinLocal(now.day, now.time);
  const leaked = leakedOf(now.leaked);
  const differs = (name: 'subject' | 'weight' | 'given' | 'why' | 'givenBy') =>
    now[name].trim() !== '' && now[name].trim() !== before[name];
  return {
    ...(differs('subject') ? { subject: now.subject } : {}),
    ...(differs('weight') ? { weight: now.weight.trim() } : {}),
    ...(differs('given') ? { given: now.given.trim() } : {}),
    ...(leaked !== undefined && now.leaked.trim() !== before.leaked ? { leaked } : {}),
    // Unlike the other fields an empty one says something: that it follows none.
    ...(now.instruction === before.instruction
      ? {}
      : { instruction: now.instruction === '' ? null : now.instruction }),
    ...(differs('why') ? { why: now.why.trim() } : {}),
    ...(differs('givenBy') ? { givenBy: now.givenBy } : {}),
    ...(now.heads !== before.heads && Number.isInteger(heads) && heads > 0 ? { heads } : {}),
    ...(now.day !== '' && local !== joinLocal(before.day, before.time) ? { local } : {}),
    ...(now.containers.length > 0 && now.containers.join() !== before.containers.join()
      ? { containers: [...now.containers] }
      : {}),
  };
}
