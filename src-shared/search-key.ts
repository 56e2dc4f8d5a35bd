/**
 * What a search compares: SQLite's own lower() and LIKE fold ASCII only, so a folded key is stored beside each
 * name. Accents go, case goes, runs of space become one.
 */
export function searchKey(text: string): string {
  return text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().replace(/\s+/g, ' ').trim();
}
