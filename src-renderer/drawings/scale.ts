/** Where the marks of a scale stand, in the unit of the scale, and which of them carry a figure. */
export type Mark = { readonly at: number; readonly isLong: boolean };

/**
 * The marks of a syringe: one for each graduation, a long one with its figure at every 1, 2, 5, 10 … of them so
 * that no more than `figures` carry one. Never more than 120 marks: finer ones would run together.
 */
export function marksOf(capacity: number, graduation: number, figures = 6): Mark[] {
  if (!(capacity > 0) || !(graduation > 0)) return [];
  const count = Math.floor(capacity / graduation + 1e-9);
  const steps = [1, 2, 5, 10, 20, 50, 100, 200, 500];
  const long = steps.find((step) => count / step <= figures) ?? count;
  const shown = steps.find((step) => count / step <= 120) ?? long;
  const marks: Mark[] = [];
  for (let n = 0; n <= count; n += shown) marks.push({ at: n * graduation, isLong: n % long === 0 });
  return marks;
}

/** A share between 0 and 1. */
export function shareOf(part: number, whole: number): number {
  return whole > 0 ? Math.max(0, Math.min(1, part / whole)) : 0;
}

const dayMs = 86_400_000;

/** The days on which a timeline gets a mark: firsts of months, or every so many days when it is short. */
export function dayMarks(fromMs: number, toMs: number, most = 6): number[] {
  const days = (toMs - fromMs) / dayMs;
  const marks: number[] = [];
  if (days > 92) {
    const step = [1, 2, 3, 6, 12, 24].find((months) => days / 30 / months <= most) ?? 60;
    const start = new Date(fromMs);
    for (let n = 1; ; n += step) {
      const at = Date.UTC(start.getUTCFullYear(), start.getUTCMonth() + n, 1);
      if (at > toMs) return marks;
      marks.push(at);
    }
  }
  const step = [1, 2, 7, 14].find((width) => days / width <= most) ?? 28;
  for (let at = Math.ceil(fromMs / dayMs) * dayMs; at <= toMs; at += step * dayMs) marks.push(at);
  return marks;
}
