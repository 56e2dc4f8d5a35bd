/** Codes with their words as choices, and the code behind what was chosen. */

/** The choices of a table of words, in its order. */
export function optionsOf(words: Readonly<Record<string, string>>): { value: string; label: string }[] {
  return Object.entries(words).map(([value, label]) => ({ value, label: upper(label) }));
}

/** The code that was chosen, or nothing. */
export function codeOf<C extends string>(words: Readonly<Record<C, string>>, chosen: string): C | undefined {
  // The keys of the table are its codes, and Object.keys forgets that.
  return (Object.keys(words) as C[]).find((code) => code === chosen);
}

function upper(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
