import { z } from 'zod';
import { type LabelTerms, labelTermsSchema } from '../../../src-shared/label/terms.ts';
import {
  blankSuckling,
  filled,
  otherDraft,
  othersOf,
  rawOthers,
  rawSuckling,
  sucklingDraft,
} from './draft-others.ts';

/**
 * A label while it is being typed: every field a text, a tick or a list, under the same names as the terms it
 * becomes, so that a refusal of "doseLines.0.rate.text" finds its field. An empty text says nothing yet.
 */

const text = z.string();
/** A field that came later: a form kept before it did goes on with it empty. */
const later = z.string().default('');
const texts = z.array(z.string());
const blankNeedle = { gauge: '', length: '', mostLength: '', punctures: '' };
const activeDraft = z.strictObject({ substance: text, strength: text, salt: text, strengthOf: later });
const bandDraft = z.strictObject({ upTo: text, dose: text });
const lineDraft = z.strictObject({
  id: text,
  title: text,
  classes: texts,
  against: text,
  route: text,
  rate: z.strictObject({
    style: text,
    text,
    of: text,
    perVolume: text,
    bands: z.array(bandDraft),
    from: text,
    furtherStep: z.strictObject({ each: text, dose: text }),
  }),
  leastWeight: text,
  mostWeight: text,
  leastAge: text,
  mostAge: text,
  mostPerSite: text,
  mostDose: text,
  rounding: text,
  repeats: z.strictObject({ doses: text, earliest: text, due: text, latest: text, whenLate: later }),
  protects: later,
  followedBy: text,
});
const periodDraft = z.strictObject({
  produce: text,
  says: text,
  value: text,
  countedFrom: text,
  valueFromDose: text,
  classes: texts,
  routes: texts,
  doseLines: texts,
  market: text,
});
const ruleDraft = z.strictObject({ id: text, code: text, value: text, from: text, to: text, says: text });
export const labelDraftSchema = z.strictObject({
  name: text,
  form: text,
  kind: text,
  piece: text,
  purpose: text,
  prescription: text,
  actives: z.array(activeDraft),
  narrowMargin: z.boolean(),
  flowClass: text,
  stains: z.boolean(),
  irritates: z.boolean(),
  /** What came later: a form kept before it did goes on with it unsaid. */
  leaks: z.boolean().default(false),
  needle: z
    .strictObject({ gauge: text, length: text, mostLength: text, punctures: text })
    .default(() => blankNeedle),
  shakeWell: z.boolean(),
  doseLines: z.array(lineDraft),
  periods: z.array(periodDraft),
  others: z.array(otherDraft).default([]),
  notIf: z.array(ruleDraft),
  sucklingYoung: text,
  sucklingMeat: sucklingDraft.default(() => blankSuckling),
  /** "" for a silent label, "period" for what stands in `inUse`, "none" or "at once". */
  inUseHow: text,
  inUse: text,
  storage: z.strictObject({ says: text, leastC: text, mostC: text }),
  hazards: z.strictObject({ people: text, pregnantWomen: text, other: text }),
  note: text,
  /** Why it is corrected; only asked for when something was typed wrongly. */
  why: text,
});

export type LabelDraft = z.infer<typeof labelDraftSchema>;
export type ActiveDraft = LabelDraft['actives'][number];
export type LineDraft = LabelDraft['doseLines'][number];
export type BandDraft = LineDraft['rate']['bands'][number];
export type PeriodDraft = LabelDraft['periods'][number];
export type RuleDraft = LabelDraft['notIf'][number];

export const blankActive: ActiveDraft = { substance: '', strength: '', salt: '', strengthOf: '' };
export const blankBand: BandDraft = { upTo: '', dose: '' };

/** The next id that none of the rows has: "d3". */
export function freeId(letter: string, rows: readonly { id: string }[]): string {
  const taken = new Set(rows.map((row) => row.id));
  for (let n = 1; ; n += 1) if (!taken.has(`${letter}${n}`)) return `${letter}${n}`;
}

/** An empty dose line. */
export function blankLine(id: string): LineDraft {
  return {
    id,
    title: '',
    classes: [],
    against: '',
    route: '',
    rate: {
      style: 'rate',
      text: '',
      of: '0',
      perVolume: '',
      bands: [blankBand],
      from: '',
      furtherStep: { each: '', dose: '' },
    },
    leastWeight: '',
    mostWeight: '',
    leastAge: '',
    mostAge: '',
    mostPerSite: '',
    mostDose: '',
    rounding: '',
    repeats: { doses: '', earliest: '', due: '', latest: '', whenLate: '' },
    protects: '',
    followedBy: '',
  };
}

/**
 * Other dose lines in place of those of the form. A row of the periods that was only for a line taken out must be
 * answered again: without the line it would speak of every dose. What was typed in it stays.
 */
export function putLines(
  draft: LabelDraft,
  lines: readonly LineDraft[],
): Pick<LabelDraft, 'doseLines' | 'periods'> {
  const ids = new Set(lines.map((line) => line.id));
  return {
    doseLines: lines.map((line) => (ids.has(line.followedBy) ? line : { ...line, followedBy: '' })),
    periods: draft.periods.map((row) => {
      const left = row.doseLines.filter((id) => ids.has(id));
      if (left.length === row.doseLines.length) return row;
      return { ...row, doseLines: left, says: left.length === 0 ? '' : row.says };
    }),
  };
}

/** A row of the periods that says nothing yet. */
export function blankPeriod(produce: string): PeriodDraft {
  return {
    produce,
    says: '',
    value: '',
    countedFrom: 'last-dose',
    valueFromDose: '',
    classes: [],
    routes: [],
    doseLines: [],
    market: 'domestic',
  };
}

export function blankRule(id: string): RuleDraft {
  return { id, code: '', value: '', from: '', to: '', says: '' };
}

/** An empty label: one dose line, and meat and milk to be answered, because a period not chosen is not known. */
export const blankLabel: LabelDraft = {
  name: '',
  form: '',
  kind: '',
  piece: '',
  purpose: '',
  prescription: 'not-stated',
  actives: [blankActive],
  narrowMargin: false,
  flowClass: '',
  stains: false,
  irritates: false,
  leaks: false,
  needle: blankNeedle,
  shakeWell: false,
  doseLines: [blankLine('d1')],
  periods: [blankPeriod('meat'), blankPeriod('milk')],
  others: [],
  notIf: [],
  sucklingYoung: '',
  sucklingMeat: blankSuckling,
  inUseHow: '',
  inUse: '',
  storage: { says: '', leastC: '', mostC: '' },
  hazards: { people: '', pregnantWomen: '', other: '' },
  note: '',
  why: '',
};

/** True for a row in which nothing was typed or ticked. */
export function isBlank(row: Readonly<Record<string, unknown>>, beside: readonly string[] = []): boolean {
  return Object.entries(row).every(([name, value]) => {
    if (beside.includes(name)) return true;
    if (Array.isArray(value)) return value.length === 0;
    return value === '';
  });
}

/** A label that is on record, as it would have been typed. */
export function draftOf(terms: LabelTerms): LabelDraft {
  const inUse = terms.inUse?.trim().toLowerCase();
  const isWord = inUse === 'none' || inUse === 'at once';
  return {
    name: terms.name,
    form: terms.form,
    kind: terms.kind,
    piece: terms.piece ?? '',
    purpose: terms.purpose,
    prescription: terms.prescription,
    actives:
      terms.actives.length === 0
        ? [blankActive]
        : terms.actives.map((one) => ({
            substance: one.substance,
            strength: one.strength ?? '',
            salt: one.salt ?? '',
            strengthOf: one.strengthOf ?? '',
          })),
    narrowMargin: terms.narrowMargin,
    flowClass: terms.flowClass ?? '',
    stains: terms.stains,
    irritates: terms.irritates,
    leaks: terms.leaks === true,
    needle: {
      ...over(blankNeedle, { ...terms.needle, punctures: undefined }),
      punctures: terms.needle?.punctures === undefined ? '' : String(terms.needle.punctures),
    },
    shakeWell: terms.shakeWell,
    doseLines: terms.doseLines.map(draftOfLine),
    periods: terms.periods.map((row) => over(blankPeriod(row.produce), row)),
    others: othersOf(terms),
    notIf: terms.notIf.map((row) => over(blankRule(row.id), row)),
    sucklingYoung: terms.sucklingYoung ?? '',
    sucklingMeat: over(blankSuckling, { ...terms.sucklingMeat }),
    inUseHow: inUse === undefined ? '' : isWord ? inUse : 'period',
    inUse: inUse === undefined || isWord ? '' : (terms.inUse ?? ''),
    storage: {
      says: terms.storage.says ?? '',
      leastC: terms.storage.leastC === undefined ? '' : String(terms.storage.leastC),
      mostC: terms.storage.mostC === undefined ? '' : String(terms.storage.mostC),
    },
    hazards: {
      people: terms.hazards.people ?? '',
      pregnantWomen: terms.hazards.pregnantWomen ?? '',
      other: terms.hazards.other ?? '',
    },
    note: terms.note ?? '',
    why: '',
  };
}

/** A blank row with what is given put over it. */
function over<T extends object>(blank: T, given: { readonly [K in keyof T]?: T[K] | undefined }): T {
  return {
    ...blank,
    ...Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)),
  };
}

function draftOfLine(line: LabelTerms['doseLines'][number]): LineDraft {
  const blank = blankLine(line.id);
  const { rate, repeats, ...rest } = line;
  return {
    ...over(blank, rest),
    rate:
      rate.style === 'rate'
        ? { ...blank.rate, text: rate.text, of: String(rate.of), perVolume: rate.perVolume ?? '' }
        : {
            ...blank.rate,
            style: 'bands',
            bands: rate.bands,
            from: rate.from ?? '',
            furtherStep: rate.furtherStep ?? blank.rate.furtherStep,
          },
    repeats:
      repeats === undefined
        ? blank.repeats
        : over(blank.repeats, { ...repeats, doses: String(repeats.doses) }),
  };
}

const injected = ['subcutaneous', 'intramuscular', 'intravenous'];

/** True when a dose line of the label goes in through a needle: only then is there a site, a needle and a flow. */
export function isInjected(line: { route: string }): boolean {
  return injected.includes(line.route);
}

/** What a strength counts is only asked where a salt is named. */
function rawActive({ strengthOf, ...rest }: ActiveDraft): Record<string, unknown> {
  return filled({ ...rest, strengthOf: rest.salt.trim() === '' ? '' : strengthOf });
}

function rawLine(line: LineDraft): Record<string, unknown> {
  const { rate, repeats, mostPerSite, ...rest } = line;
  const step = filled(rate.furtherStep);
  const again = filled(repeats);
  return filled({
    ...rest,
    mostPerSite: isInjected(line) ? mostPerSite : undefined,
    rate:
      rate.style === 'bands'
        ? filled({
            style: 'bands',
            bands: rate.bands,
            from: rate.from,
            furtherStep: Object.keys(step).length === 0 ? undefined : step,
          })
        : filled({ style: 'rate', text: rate.text, of: Number(rate.of), perVolume: rate.perVolume }),
    repeats:
      Object.keys(again).length === 0
        ? undefined
        : { ...again, ...(repeats.doses === '' ? {} : { doses: Number(repeats.doses) }) },
  });
}

/** What a dose line is called on the form. */
export function nameOfLine(line: LineDraft | undefined, n: number): string {
  const title = line?.title.trim() ?? '';
  return title === '' ? `Dose ${n + 1}` : title;
}

/** What the insert says of the needle; nothing when it says nothing. */
function rawNeedle({ punctures, ...rest }: LabelDraft['needle']): Record<string, unknown> | undefined {
  const said = filled({
    ...rest,
    punctures: punctures.trim() === '' ? undefined : Number(punctures),
  });
  return Object.keys(said).length === 0 ? undefined : said;
}

/** What has been typed, in the shape of terms; not yet checked by anything but their shape. */
export function shapeOf(draft: LabelDraft): ReturnType<typeof labelTermsSchema.safeParse> {
  const { why: _why, inUseHow, inUse, actives, kind, piece, ...rest } = draft;
  const [only] = actives;
  const isOnlyBlank = actives.length === 1 && only !== undefined && isBlank(only);
  const hasNeedle = draft.doseLines.some(isInjected);
  const degrees = (typed: string) => (typed.trim() === '' ? undefined : Number(typed));
  return labelTermsSchema.safeParse(
    filled({
      ...rest,
      kind,
      piece: kind === 'pieces' ? piece : undefined,
      actives: isOnlyBlank ? [] : actives.map(rawActive),
      flowClass: hasNeedle ? draft.flowClass : '',
      stains: hasNeedle && draft.stains,
      irritates: hasNeedle && draft.irritates,
      // False says the same as not said, and older labels do not have it.
      leaks: hasNeedle && draft.leaks ? true : undefined,
      needle: hasNeedle ? rawNeedle(draft.needle) : undefined,
      doseLines: draft.doseLines.map(rawLine),
      periods: draft.periods.map((row) =>
        filled({
          ...row,
          value: row.says === 'value' ? row.value : undefined,
          countedFrom: row.says === 'value' ? row.countedFrom : 'last-dose',
          valueFromDose:
            row.says === 'value' && row.countedFrom === 'later-of-two' ? row.valueFromDose : undefined,
        }),
      ),
      others: rawOthers(draft.others),
      notIf: draft.notIf.map(filled),
      sucklingMeat: rawSuckling(draft.sucklingMeat),
      inUse: inUseHow === 'period' ? inUse : inUseHow,
      storage: filled({
        says: draft.storage.says,
        leastC: degrees(draft.storage.leastC),
        mostC: degrees(draft.storage.mostC),
      }),
      hazards: filled(draft.hazards),
    }),
  );
}
