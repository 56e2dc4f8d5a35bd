// In a file of its own: Today needs it and nothing else of the record.

/** The last day of the record's usual view is today, its first the day after the same date a year ago. */
export function lastYear(today: string): { from: string; to: string } {
  const from = new Date(`${today}T00:00:00Z`);
  from.setUTCFullYear(from.getUTCFullYear() - 1);
  from.setUTCDate(from.getUTCDate() + 1);
  return { from: from.toISOString().slice(0, 10), to: today };
}
