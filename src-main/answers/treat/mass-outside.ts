import type { Asked } from '../../../src-shared/calls/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { isOffLabel, sayOffLabel } from '../../../src-shared/withdrawal/off-label-deviations.ts';
import type { Act } from '../context.ts';
import type { Decided } from './core.ts';
import type { LineOfWork } from './give.ts';
import { NOT_FOLLOWED } from './instructed.ts';

/** The vet's instruction a run follows for one medicine: its own, or the one the session was planned with. */
export function followedIn(
  chosen: Asked<'treat-many'>['instructions'],
  { line, instruction }: Pick<LineOfWork, 'line' | 'instruction'>,
): string | undefined {
  const own = chosen.find((one) => one.line === line);
  return own === undefined ? instruction : (own.instruction ?? undefined);
}

/** Refuses (`no-such-line`) an instruction for a medicine that is not in the run. */
export function checkInstructions(
  chosen: Asked<'treat-many'>['instructions'],
  lines: readonly Pick<LineOfWork, 'line'>[],
): void {
  if (chosen.every((one) => lines.some(({ line }) => line === one.line))) return;
  throw new Refusal('no-such-line', "A vet's instruction is named for a medicine that is not in this run.", {
    field: 'instructions',
    next: 'Open the session again and choose the instruction there.',
  });
}

/**
 * Asks before a run is written in which some are outside their label with no word of the vet that holds for them. One
 * figure for all is quickly typed, and nobody looks at each one.
 */
export function askOutside(act: Pick<Act, 'ask'>, decided: readonly Decided[]): void {
  const heads = new Map<string, number>();
  for (const { data } of decided) {
    const isSaid =
      data.instruction !== undefined && !data.deviations.some(({ code }) => NOT_FOLLOWED.has(code));
    if (isSaid || !isOffLabel(data.deviations)) continue;
    const says = `${data.product}: ${sayOffLabel(data.deviations)?.replace(/^O/, 'o')}`;
    heads.set(says, (heads.get(says) ?? 0) + data.heads);
  }
  if (heads.size === 0) return;
  const said = [...heads].map(([says, count]) => `${says} for ${count} head`);
  act.ask(
    'outside-label',
    `${said.join('; ')}. No word of the vet holds for them, so no time clears them until there is one. Is that what happened?`,
    'given',
  );
}
