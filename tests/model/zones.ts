/**
 * Civil time for the second model, on Intl alone: what the wall clock of a zone shows at an instant, and the reverse
 * by trying. Instants are milliseconds since 1970, UTC. Nothing of the product's own time arithmetic is used.
 */
const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

const formats = new Map<string, Intl.DateTimeFormat>();
const offsets = new Map<string, number>();

function formatOf(zone: string): Intl.DateTimeFormat {
  const known = formats.get(zone);
  if (known) return known;
  const made = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    calendar: 'gregory',
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
  });
  formats.set(zone, made);
  return made;
}

/** How far the wall clock is ahead of UTC at an instant, in milliseconds. */
function offsetAt(instant: number, zone: string): number {
  // Clocks change on whole quarters of an hour: one look at each quarter is enough.
  const quarter = Math.floor(instant / (15 * MINUTE)) * 15 * MINUTE;
  const name = `${zone} ${quarter}`;
  const known = offsets.get(name);
  if (known !== undefined) return known;
  const part = Object.fromEntries(
    formatOf(zone)
      .formatToParts(quarter)
      .map(({ type, value }) => [type, Number(value)]),
  );
  const wall = Date.UTC(
    part.year ?? 0,
    (part.month ?? 1) - 1,
    part.day ?? 1,
    part.hour ?? 0,
    part.minute ?? 0,
    part.second ?? 0,
  );
  if (offsets.size > 20_000) offsets.clear();
  offsets.set(name, wall - quarter);
  return wall - quarter;
}

/** "2026-03-01T08:00" as the wall clock shows it. */
export function wallClock(instant: number, zone: string): string {
  return new Date(instant + offsetAt(instant, zone)).toISOString().slice(0, 16);
}

/** The instant of a local date-time; one that the clocks skip or repeat is the later of the two it could be. */
export function atTime(local: string, zone: string): number {
  const asUtc = Date.parse(`${local.slice(0, 16)}:00.000Z`);
  const tries = [asUtc - offsetAt(asUtc - DAY, zone), asUtc - offsetAt(asUtc + DAY, zone)];
  const exact = tries.filter((each) => wallClock(each, zone) === local.slice(0, 16));
  return Math.max(...(exact.length > 0 ? exact : tries));
}

/** The first instant of a local day, so many days later: the first quarter of an hour that shows that date. */
export function dayBegins(day: string, zone: string, daysLater = 0): number {
  const date = new Date(Date.parse(`${day}T00:00:00.000Z`) + daysLater * DAY).toISOString().slice(0, 10);
  const asUtc = Date.parse(`${date}T00:00:00.000Z`);
  const from = asUtc - Math.max(offsetAt(asUtc - DAY, zone), offsetAt(asUtc + DAY, zone)) - 2 * HOUR;
  for (let at = from; at < from + 6 * HOUR; at += 15 * MINUTE) {
    if (wallClock(at, zone).slice(0, 10) === date) return at;
  }
  throw new Error(`no beginning of ${date} in ${zone} was found`);
}
