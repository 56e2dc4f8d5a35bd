import { keepHere, keptHere, useKeptHere } from '../hooks/kept-here.ts';

/** How the screens look on this computer, by choice; the first of each is what happens without one. */
export const LOOKS = {
  theme: ['system', 'light', 'dark'],
  contrast: ['usual', 'high'],
  size: ['usual', 'large', 'larger'],
} as const;
export type Look = keyof typeof LOOKS;

/** Puts the choices on the page, where the style sheets read them. */
export function applyLook(): void {
  for (const [look, choices] of Object.entries(LOOKS)) {
    const chosen = keptHere(look);
    const known = choices.some((choice) => choice === chosen) && chosen !== choices[0];
    if (known) document.documentElement.dataset[look] = chosen;
    else delete document.documentElement.dataset[look];
  }
}

/** One of the choices, and how to change it. */
export function useLook(look: Look): { chosen: string; choose(value: string): void } {
  const kept = useKeptHere(look);
  return {
    chosen: kept === '' ? LOOKS[look][0] : kept,
    choose: (value) => {
      keepHere(look, value);
      applyLook();
    },
  };
}
