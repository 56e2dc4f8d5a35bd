/** Of two local times, each a day or a day and time, the later. A day alone stands for its end. */
export function laterLocal(a: string, b: string): string {
  const end = (local: string) => (local.length === 10 ? `${local}T24:00` : local);
  return end(a) >= end(b) ? a : b;
}
