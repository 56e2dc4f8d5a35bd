import { doseForLine } from '../../../src-shared/dose/dose.ts';
import type { LabelTerms, SheepClass } from '../../../src-shared/label/terms.ts';
import { parseAmount, printAmount } from '../../../src-shared/quantity/amount.ts';
import { parsePeriod, periodInWords } from '../../../src-shared/quantity/period.ts';
import { parseRate, printRate } from '../../../src-shared/quantity/rate.ts';
import { parseStrength, printStrength } from '../../../src-shared/quantity/strength.ts';
import { parseWeight } from '../../../src-shared/quantity/weight.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { type LabelDraft, shapeOf } from './draft.ts';

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

/** A lamb, a hogg and a grown ewe. */
const sampleWeights = ['20', '45', '80'] as const;

export type Sample = { readonly weight: string; readonly text: string; readonly isDose: boolean };

/**
 * What one dose line gives a sheep of 20, 45 and 80 kg, worked out like every dose. Nothing while the line or the
 * strength it needs cannot be read yet; where the label gives no dose, why not.
 */
export function sampleDoses(draft: LabelDraft, n: number): readonly Sample[] {
  const line = draft.doseLines[n];
  if (line === undefined) return [];
  // Only what a dose depends on; the rest of the label may be as unfinished as it is.
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
  const terms: LabelTerms = shape.data;
  const samples = sampleWeights.map((kg) => {
    const outcome = attempt(() =>
      doseForLine(terms, line.id, {
        weight: { value: kg, unit: 'kg' },
        class: classOf(terms),
        ageDays: undefined,
      }),
    );
    return { kg, outcome };
  });
  const isReadable = samples.some(({ outcome }) => outcome.ok || belongsToTheWeight(outcome.error.code));
  if (!isReadable) return [];
  return samples.map(({ kg, outcome }) => {
    const weight = `${kg} kg`;
    if (!outcome.ok) return { weight, text: outcome.error.message, isDose: false };
    const { draw, sites } = outcome.value;
    const places = sites.length > 1 ? `, in ${sites.length} places` : '';
    return { weight, text: `${printAmount(draw, terms.piece)}${places}`, isDose: true };
  });
}

const noRepeats = { doses: '', earliest: '', due: '', latest: '' };

function classOf(terms: LabelTerms): SheepClass {
  return terms.doseLines[0]?.classes[0] ?? 'ewe';
}

const ofTheWeight = new Set([
  'below-first-band',
  'above-last-band',
  'too-light',
  'too-heavy',
  'over-most',
  'under-least',
  'draws-to-zero',
  'site-below-graduation',
  'too-many-sites',
]);

/** True when the label can be read and only gives no dose at this weight. */
function belongsToTheWeight(code: string): boolean {
  return ofTheWeight.has(code);
}
