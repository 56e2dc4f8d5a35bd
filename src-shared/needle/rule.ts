import type { Amount } from '../quantity/amount.ts';
import type { Needle, NeedleLength } from './needle.ts';
import type { Situation } from './situation.ts';
import type { Gauge } from './tubing.ts';

/**
 * What a row of the table of rules is. Five kinds: a guide says which needles a source gives; a limit throws needles
 * out; a preference orders what is left; a most says how much goes in one place; a change says how long one needle
 * serves.
 */

/** Read at its source, what people do without a source, from memory, or stated by the label or the farm itself. */
export type RuleMark = 'read' | 'practice' | 'memory' | 'stated';

type Row = {
  readonly id: string;
  /** The rule in one sentence. */
  readonly says: string;
  readonly source: string;
  readonly mark: RuleMark;
  readonly strength: 'safety' | 'preference';
};

export type Guide = Row & {
  readonly kind: 'guide';
  /** As short as it stands in a list of sides: "16-18G 1/2-3/4". */
  readonly short: string;
  readonly gauge: { readonly widest: Gauge; readonly thinnest: Gauge };
  /** Absent: every length. */
  readonly length?: { readonly shortest: NeedleLength; readonly longest: NeedleLength };
  /** Whether it is about this animal, route and remedy. */
  readonly applies: (s: Situation) => boolean;
};

/** What the rules are judged by. */
export type Facts = {
  readonly s: Situation;
  /** The guides of the table that are about this animal, route and remedy. */
  readonly guides: readonly Guide[];
  /** Those about this animal by either route: what its class bears. */
  readonly ofClass: readonly Guide[];
};

export type Limit = Row & {
  readonly kind: 'limit';
  /** Guidance about what the label states is not applied: the label stands over it. `technique` always is. */
  readonly about: 'label' | 'house' | 'gauge' | 'length' | 'technique';
  /** Why the needle is out, as the rest of a sentence after its name, or undefined. */
  readonly breaks: (needle: Needle, facts: Facts) => string | undefined;
};

export type Preference = Row & {
  readonly kind: 'preference';
  /** Lower is better; preferences count in the order of the table. */
  readonly cost: (needle: Needle, facts: Facts) => number;
  /** What speaks for the best of them, and against the others. */
  readonly pro: (needle: Needle, facts: Facts) => string;
  readonly con: (needle: Needle, facts: Facts) => string;
};

export type MostPerSite = Row & {
  readonly kind: 'most';
  readonly from: 'label' | 'house' | 'guidance';
  /** As it stands in a list of sides: "5 mL". */
  readonly short: string;
  /** µL in one place; undefined where whoever is asked is silent. */
  readonly microlitres: (stated: StatedMost) => number | undefined;
};

/** What label and farm say of the most in one place. */
export type StatedMost = { readonly label?: Amount | undefined; readonly house?: Amount | undefined };

export type Rule = Guide | Limit | Preference | MostPerSite;

/** One source of those that disagree. */
export type Side = {
  readonly rule: string;
  readonly says: string;
  readonly source: string;
  readonly mark: RuleMark;
};

/** Guidance that disagrees, side by side, and what is taken of it. */
export type Conflict = { readonly topic: string; readonly sides: readonly Side[]; readonly taken: string };
