import type { Ask } from '../../../src-shared/calls/all.ts';
import { checkGun, type GunFound } from '../../../src-shared/dose/gun.ts';
import { parseAmount } from '../../../src-shared/quantity/amount.ts';
import { attempt, type Outcome } from '../../../src-shared/refusal.ts';

export type GunValues = {
  setTo: string;
  /** What it should give; empty when it is what it stands at. */
  wanted: string;
  /** "each" shot by itself, or "all" in one measure. */
  way: string;
  /** What each shot gave, with spaces between: "5.1 5.0 4.9". */
  each: string;
  shots: string;
  total: string;
  medicine: string;
};

/** The shots that stand in the one box, each with its unit; a bare number is mL, as the box says. */
export function shotsIn(text: string): string[] {
  return text
    .replace(/\s+mL\b/gi, 'mL')
    .split(/[\s;]+/)
    .filter((part) => part !== '')
    .map(inMillilitres);
}

/** A bare number typed into a box that says mL. */
export function inMillilitres(text: string): string {
  return /^[\d.,]+$/.test(text.trim()) ? `${text.trim()} mL` : text.trim();
}

/** What of a form goes to the desk, apart from the gun itself. */
export function gunAsk(values: GunValues): Omit<Ask<'check-gun'>, 'request' | 'by' | 'equipment'> {
  const shots = Number(values.shots.trim());
  return {
    setTo: inMillilitres(values.setTo),
    ...(values.wanted.trim() === '' ? {} : { wanted: inMillilitres(values.wanted) }),
    ...(values.way === 'each'
      ? { each: shotsIn(values.each) }
      : { ...(values.shots.trim() === '' ? {} : { shots }), total: inMillilitres(values.total) }),
    ...(values.medicine === '' ? {} : { medicine: values.medicine }),
  };
}

/** What the shots typed so far say, by the same rules as the desk; a refusal while something is missing. */
export function gunSoFar(values: GunValues, graduation: string | undefined): Outcome<GunFound> {
  const ask = gunAsk(values);
  return attempt(() =>
    checkGun({
      setTo: parseAmount(ask.setTo, 'setTo'),
      wanted: ask.wanted === undefined ? undefined : parseAmount(ask.wanted, 'wanted'),
      shots: ask.shots,
      total: ask.total === undefined ? undefined : parseAmount(ask.total, 'total'),
      each: ask.each?.map((text) => parseAmount(text, 'each')),
      graduation: graduation === undefined ? undefined : parseAmount(graduation, 'graduation'),
    }),
  );
}
