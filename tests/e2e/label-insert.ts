import type { Ask } from '../../src-shared/calls/all.ts';

type Terms = Ask<'check-label'>['terms'];

/** An insert of an invented medicine, and what must come of typing it. */
export type Insert = {
  /** The style it shows. */
  readonly style: string;
  readonly terms: Terms & { readonly periods: NonNullable<Terms['periods']> };
  /** For each dose line, what the screen says it gives 20, 45 and 80 kg. Worked out by hand. */
  readonly gives: readonly (readonly string[])[];
  /** What must stand in the label read back, word for word. */
  readonly reads: readonly string[];
  /** What the screen asks before it goes on. */
  readonly asks?: string;
  /** The second typing: each field by its name, with what the insert prints. */
  readonly again: Readonly<Record<string, string>>;
};

export const milkNo = { produce: 'milk', says: 'not-for-this-produce' } as const;
export const meat = (value: string) => ({ produce: 'meat', says: 'value', value }) as const;
/** The first of the three samples, 20 kg, under the floor of the label. */
export const TOO_LIGHT = (kg: string) =>
  `No dose. The label is not for animals under ${kg}, and this one is 20 kg.`;
