import type { Reply } from '../../../src-shared/calls/all.ts';

type Session = Reply<'session'>;

/** Who is held when this many went through: everybody unread, as soon as one more went through than is recorded. */
export function unreadBy(
  session: Pick<Session, 'waiting' | 'session'>,
  headsTyped: string,
  absent: readonly string[],
): { state: 'unknown' | 'even' | 'fewer' | 'more'; by: number; unread: Session['waiting'] } {
  const waiting = session.waiting.filter((one) => !absent.includes(one.subject));
  if (!/^\d{1,7}$/.test(headsTyped.trim())) return { state: 'unknown', by: 0, unread: waiting };
  const by = Number(headsTyped) - session.session.treated;
  if (by === 0) return { state: 'even', by, unread: [] };
  return by < 0 ? { state: 'fewer', by: -by, unread: [] } : { state: 'more', by, unread: waiting };
}
