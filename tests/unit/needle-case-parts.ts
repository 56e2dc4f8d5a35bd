/** The shape of a needle case, and the animals and remedies the cases share. All invented. */

/** A needle as it is read off the box: gauge without the G, length in inches. */
export type Needle = {
  gauge: '14' | '16' | '18' | '20' | '22' | '25';
  lengthIn: '1/4' | '1/2' | '5/8' | '3/4' | '1' | '1 1/2';
};

export type NeedleAsk = {
  route: 'sc' | 'im';
  class: 'lamb' | 'ewe' | 'ram';
  /** kg */
  weight: number;
  flowClass: 'watery' | 'syrupy' | 'suspension' | 'oily';
  /** mL in one treatment */
  volume: number;
  stains?: boolean;
  irritates?: boolean;
  leaks?: boolean;
  condition?: 'thin' | 'fair' | 'fat';
  fleece?: 'short' | 'full';
  /** Tent: into a lifted fold. Flat: along the body. Slant: 45° and straight: 90°, skin not lifted. */
  technique?: 'tent' | 'flat' | 'slant' | 'straight';
  site?: 'neck' | 'ribs';
  /** What the label states; maxPerSite in mL, mostLengthMm the longest needle it allows. */
  label?: Partial<Needle> & { maxPerSite?: number; mostLengthMm?: string };
  house?: Partial<Needle> & { maxPerSite?: number };
  /** Left out: any needle that can be bought. */
  inStock?: Needle[];
};

/** `conflict` names the sides that must be shown; `perSite` is in mL, with the number of places it makes. */
export type NeedleExpect =
  | { choice: Needle; conflict?: string[]; perSite?: { mostMl: number; places: number } }
  | { oneOf: Needle[] }
  | { refused: true; because: string };

export type NeedleCase = { name: string; ask: NeedleAsk; expect: NeedleExpect; why: string };

/** Shorthand for one needle. */
export const n = (gauge: Needle['gauge'], lengthIn: Needle['lengthIn']): Needle => ({ gauge, lengthIn });

export const ewe = { class: 'ewe', weight: 70, volume: 2 } as const;
export const ram = { class: 'ram', weight: 95, volume: 5 } as const;
export const lamb5 = { class: 'lamb', weight: 5, volume: 0.5 } as const;
export const lamb20 = { class: 'lamb', weight: 20, volume: 1 } as const;
export const lamb42 = { class: 'lamb', weight: 42, volume: 1 } as const;

export const skin = { route: 'sc', flowClass: 'watery' } as const;
export const muscle = { route: 'im', flowClass: 'watery' } as const;
export const thickSkin = { route: 'sc', flowClass: 'suspension' } as const;
export const thickMuscle = { route: 'im', flowClass: 'suspension' } as const;
