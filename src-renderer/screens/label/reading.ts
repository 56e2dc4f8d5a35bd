import { type Sample, samplesOf } from '../../../src-shared/label/samples.ts';
import { parseAmount, printAmount } from '../../../src-shared/quantity/amount.ts';
import { parsePeriod, periodInWords } from '../../../src-shared/quantity/period.ts';
import { parseRate, printRate } from '../../../src-shared/quantity/rate.ts';
import { parseStrength, printStrength } from '../../../src-shared/quantity/strength.ts';
import { parseWeight } from '../../../src-shared/quantity/weight.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { blankLine, type LabelDraft, shapeOf } from './draft.ts';

/** What was typed, read back in full words; nothing while it cannot be read. */
function back(work: () => string): string | undefined {
  const outcome = attempt(work);
  return outcome.ok ? outcome.value : undefined;
}

/** The medicine's own word for a piece, if it has one. */
export function pieceOf(draft: Pick<LabelDraft, 'kind' | 'piece'>): { piece?: string } {
  const word = draft.piece.trim();
  return draft.kind === 'pieces' && word !== '' ? { piece: word } : {};
}

export function backRate(text: string, more: { piece?: string }): string | undefined {
  return back(() => printRate(parseRate(text, 'rate', more)));
}
export function backStrength(text: string, more: { piece?: string }): string | undefined {
  return back(() => printStrength(parseStrength(text, 'strength', more)));
}
export function backPeriod(text: string): string | undefined {
  return back(() => periodInWords(parsePeriod(text, 'period')));
}
export function backAmount(text: string, more: { piece?: string }): string | undefined {
  return back(() => printAmount(parseAmount(text, 'amount', more), more.piece));
}
export function backWeight(text: string): string | undefined {
  const names = { kg: 'kilograms', lb: 'pounds' };
  return back(() => {
    const weight = parseWeight(text, 'weight');
    return `${weight.value} ${names[weight.unit]}`;
  });
}

/**
 * What one dose line of the form gives three sheep. Nothing while the line or the strength it needs cannot be read
 * yet; the rest of the label may be as unfinished as it is.
 */
export function sampleDoses(draft: LabelDraft, n: number): readonly Sample[] {
  const line = draft.doseLines[n];
  if (line === undefined) return [];
  // Only what a dose depends on.
  const shape = shapeOf({
    ...draft,
    name: '-',
    form: 'other',
    purpose: draft.purpose === 'parasites' ? 'parasites' : 'other',
    doseLines: [
      { ...line, route: line.route === '' ? 'other' : line.route, followedBy: '', repeats: noRepeats },
    ],
    periods: [],
    notIf: [],
    flowClass: '',
    storage: { says: '', leastC: '', mostC: '' },
  });
  if (!shape.success) return [];
  const [read] = shape.data.doseLines;
  return read === undefined ? [] : samplesOf(shape.data, read);
}

const { repeats: noRepeats } = blankLine('');
