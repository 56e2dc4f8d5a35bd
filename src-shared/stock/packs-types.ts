import type { Amount } from '../quantity/amount.ts';

/** What is asked about packs, and the mix that is found. Amounts inside are whole base units (µL, µg, pieces). */

export type PackNeed = {
  /** A local day, or day and time: "2026-05-01", "2026-05-01T08:00". Needs of the same are one occasion. */
  readonly on: string;
  readonly amount: Amount;
};
export type PackOffer = { readonly size: Amount; readonly price: number };
export type PacksAsk = {
  readonly needs: readonly PackNeed[];
  readonly packs: readonly PackOffer[];
  /** As on the label: "28 d", "10 h", "at once", "none". Absent: opened packs keep. */
  readonly inUse?: string | undefined;
  /** IANA zone, for hours that run over a change of the clocks. Absent: the clock on the wall is taken as even. */
  readonly zone?: string | undefined;
  /** Money as it is to be read; whole minor units by themselves where absent. */
  readonly printMoney?: ((minorUnits: number) => string) | undefined;
};

/** One occasion: what is needed, what comes from the pack that stands open, what is opened, what is left after it. */
export type PackDay = {
  readonly on: string;
  readonly need: number;
  readonly fromOpen: number;
  /** Counts by the place of the pack in the question. */
  readonly opens: readonly number[];
  readonly left: number;
  /** First local time at which what is left may no longer be used; absent where opened packs keep. */
  readonly unusableFrom?: string | undefined;
  /** Whether what is left can serve the next occasion. */
  readonly servesNext: boolean;
};
export type PackPlan = {
  readonly buy: readonly { pack: number; count: number }[];
  /** Whole minor units. */
  readonly cost: number;
  /** Bought less needed: what is left at the end, and what died on the way. */
  readonly leftOver: Amount;
  readonly days: readonly PackDay[];
};

/** What another rule would buy: its cost, and counts by the place of the pack in the question. */
export type PackCounts = { readonly cost: number; readonly counts: readonly number[] };
