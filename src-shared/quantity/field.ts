/**
 * The name of a field as it stands at the head of a sentence: "doseLines.0.mostPerSite" is "Most per site".
 * A path that ends in a word that says nothing by itself ("text", "value") takes the word before it.
 */
export function sayField(field: string): string {
  const parts = field.split('.').filter((part) => part !== '' && !/^\d+$/.test(part));
  const last = parts.at(-1) ?? 'value';
  const named = (last === 'text' || last === 'value') && parts.length > 1 ? (parts.at(-2) ?? last) : last;
  const words = named
    // A unit at the end of a name is for whoever writes JSON; the sentence says it in its own words.
    .replace(/(?<=[a-z])(MpaS|MlPerS|GPerMl|Mm|N)$/, '')
    .replace(/[-_]/g, ' ')
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase();
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** A typed text as it may stand in a sentence: cut when long, so that a message stays one line. */
export function quoted(text: string): string {
  const line = text.replace(/\s+/g, ' ').trim();
  return `“${line.length > 40 ? `${line.slice(0, 40)}…` : line}”`;
}
