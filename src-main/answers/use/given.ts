import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { type Amount, amountOf, inDoseUnits, printAmount } from '../../../src-shared/quantity/amount.ts';
import {
  add,
  type Fraction,
  fraction,
  multiply,
  toDecimal,
  toPlaces,
  ZERO,
} from '../../../src-shared/quantity/fraction.ts';
import { checkPieces, parseStrength } from '../../../src-shared/quantity/strength.ts';
import { activePerUnit, printUseWorking } from '../../../src-shared/record/use.ts';
import { isAntimicrobial } from '../../../src-shared/record/use-classes.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { WorkingLine } from '../../../src-shared/working.ts';
import type { Reader } from '../../store/store.ts';
import { medicineName } from '../reading/labels.ts';
import { type Lack, labelsByRevision, type Substances, substancesOf } from './substances.ts';

/** Instants: the first counted in, the last not. */
export type Between = { holding?: string | undefined; from: string; to: string };

/** What went into animals of one label and one strength in a year. */
type Drawn = {
  year: string;
  medicine: string;
  revision: string | null;
  strength: string | null;
  kind: Amount['kind'];
  units: number;
};
/** How often a medicine was given in a year. */
export type Doses = { year: string; medicine: string; treatments: number; heads: number };

/** Antimicrobials of one year. */
export type Used = {
  /** By group; "not-said" for an antibiotic of a group that nobody has named. */
  mg: Map<string, Fraction>;
  missing: string[];
  working: WorkingLine[];
};
export const NOT_SAID = 'not-said';

/** What an earlier keeper gave was given on another farm. */
const HERE = "a.data ->> '$.source.kind' <> 'earlier-keeper'";
const IN = 'a.at >= ? AND a.at < ? AND (? IS NULL OR a.holding = ?)';

function drawnOf(tx: Reader, { holding, from, to }: Between): Drawn[] {
  const units = (path: string) =>
    `coalesce(d.value ->> '$.${path}.microlitres', d.value ->> '$.${path}.micrograms', d.value ->> '$.${path}.pieces', 0)`;
  return tx.all<Drawn>(
    `SELECT substr(a.local, 1, 4) AS year, a.medicine, coalesce(d.value ->> '$.revision', a.revision) AS revision,
       c.strength, coalesce(d.value ->> '$.amount.kind', a.kind) AS kind,
       sum(CASE WHEN d.value IS NULL THEN a.total ELSE ${units('amount')} + ${units('leaked')} END) AS units
     FROM administration AS a LEFT JOIN json_each(a.data, '$.source.draws') AS d
       LEFT JOIN container AS c ON c.id = d.value ->> '$.container'
     WHERE ${HERE} AND ${IN}
     GROUP BY 1, 2, 3, 4, 5 ORDER BY 1, 2, 3, 4`,
    from,
    to,
    holding ?? null,
    holding ?? null,
  );
}

/** How often each medicine was given, by year and medicine. */
export function dosesOf(tx: Reader, { holding, from, to }: Between): Doses[] {
  return tx.all<Doses>(
    `SELECT substr(a.local, 1, 4) AS year, a.medicine, count(*) AS treatments, sum(a.heads) AS heads
     FROM administration AS a WHERE ${HERE} AND ${IN} GROUP BY 1, 2 ORDER BY 1, 2`,
    from,
    to,
    holding ?? null,
    holding ?? null,
  );
}

/**
 * mg of antimicrobial substance that went into animals, by year ("" when `byYear` is false) and group. What lacks a
 * strength or a factor is named in `missing` and is no zero.
 */
export function antimicrobialsOf(tx: Reader, between: Between, byYear = true): Map<string, Used> {
  const labels = labelsByRevision(tx);
  const substances = substancesOf(tx);
  const found = new Map<string, Used>();
  for (const drawn of drawnOf(tx, between)) {
    const key = byYear ? drawn.year : '';
    const used = found.get(key) ?? { mg: new Map<string, Fraction>(), missing: [], working: [] };
    found.set(key, used);
    const terms = labels.get(drawn.revision ?? '')?.terms;
    const name = terms?.name ?? medicineName(tx, drawn.medicine);
    if (terms === undefined) used.missing.push(`${name}: its label is not in the book.`);
    else countIn(used, { drawn, terms, name }, substances);
  }
  for (const used of found.values()) used.missing = [...new Set(used.missing)];
  return found;
}

function countIn(
  used: Used,
  { drawn, terms, name }: { drawn: Drawn; terms: LabelTerms; name: string },
  substances: Substances,
): void {
  const amount = amountOf(drawn.kind, drawn.units);
  const text = printAmount(amount, terms.piece);
  const counted = antimicrobialsIn(terms, substances);
  if (terms.purpose === 'antibiotic' && terms.actives.length === 0) {
    used.missing.push(`${name}, ${text}: its label names no active substance.`);
  }
  for (const { active, group } of counted) {
    const lacks = (why: string) => used.missing.push(`${name}, ${text}: ${why}`);
    const factor = substances.toMg(active, terms.piece);
    if (typeof factor === 'string' || active.strength === undefined) {
      lacks(LACKS[typeof factor === 'string' ? factor : 'strength'](active.substance));
      continue;
    }
    if (drawn.strength !== null && terms.actives.length > 1) {
      lacks(
        'it was made up on the farm and has several substances, so how much of each was in it is not known.',
      );
      continue;
    }
    const strength = parseStrength(drawn.strength ?? active.strength, 'strength', { piece: terms.piece });
    try {
      if (amount.kind === 'pieces') checkPieces(strength, terms.piece ?? 'piece');
      const { mg, step } = activePerUnit(strength, amount.kind, factor);
      const sum = multiply(inDoseUnits(amount), mg);
      used.mg.set(group, add(used.mg.get(group) ?? ZERO, sum));
      const [line] = printUseWorking([step]);
      used.working.push({
        code: 'used',
        text: `${name}, ${active.substance}: ${text} at ${line?.text ?? ''} = ${toDecimal(sum)} mg`,
        ...(step.source === undefined ? {} : { source: step.source }),
      });
    } catch (thrown) {
      // A strength that does not fit its amount is a gap of the record, said as such.
      if (!(thrown instanceof Refusal)) throw thrown;
      lacks(thrown.message);
    }
  }
}

/** The substances of a label that count as antimicrobials, with their group. */
export function antimicrobialsIn(
  terms: LabelTerms,
  substances: Substances,
): { active: LabelTerms['actives'][number]; group: string }[] {
  return terms.actives.flatMap((active) => {
    const group = substances.said(active)?.group;
    if (isAntimicrobial(group)) return [{ active, group }];
    return group === undefined && terms.purpose === 'antibiotic' ? [{ active, group: NOT_SAID }] : [];
  });
}

const LACKS: Readonly<Record<Lack, (substance: string) => string>> = {
  strength: (substance) => `the strength of ${substance} is not on its label.`,
  iu: (substance) =>
    `its strength is in IU, and how many mg of ${substance} are in one IU has not been said.`,
  salt: (substance) =>
    `its strength counts the salt, and which part of that is ${substance} has not been said.`,
  'salt-or-base': (substance) =>
    `its label does not say whether the strength counts ${substance} or its salt.`,
};

/** Plain mg as people read it: "12.4 g", "850 mg". Rounded to three figures after the point of a gram. */
export function gramsText(mg: Fraction): string {
  const gram = fraction(1000);
  if (mg.n < gram.n * mg.d) return `${toPlaces(mg, 1)} mg`;
  const kilo = fraction(1_000_000);
  if (mg.n < kilo.n * mg.d) return `${toPlaces(multiply(mg, fraction(1, 1000)), 2)} g`;
  return `${toPlaces(multiply(mg, fraction(1, 1_000_000)), 3)} kg`;
}
