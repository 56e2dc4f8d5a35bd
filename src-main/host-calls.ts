import type { Fault, Outcome } from '../src-shared/refusal.ts';
import { faultOf, Refusal } from '../src-shared/refusal.ts';
import type { Desk, Log } from './desk-type.ts';

/** Bounds that every host keeps, in bytes and levels. */
export const callLimits = { callBytes: 4 * 1024 * 1024, fileBytes: 64 * 1024 * 1024, depth: 64 } as const;

const namePattern = /^[a-z][A-Za-z0-9./-]{0,79}$/;
const hashPattern = /^[0-9a-f]{64}$/;

/** True for a name a kept paper can have: SHA-256 in lower-case hex. */
export function isPaperHash(text: string): boolean {
  return hashPattern.test(text);
}

/** A refusal in an envelope. */
export function refused(code: string, message: string, next: string): { ok: false; error: Fault } {
  return { ok: false, error: { code, message, next } };
}

/** What is said when the program itself is at fault; the reason goes to the log, not to the screen. */
function deskFailed(log: Log, what: string, thrown: unknown): Outcome<never> {
  log(`${what} failed: ${thrown instanceof Error ? (thrown.stack ?? thrown.message) : String(thrown)}`);
  return refused(
    'desk-failed',
    'Foldbook could not finish this because of a fault in the program.',
    'Look in the book whether it was written. Trying the same again never writes it twice.',
  );
}

/** True when `value` is nested deeper than `limit` levels. Walks without recursion, so depth cannot break it. */
function isDeeperThan(value: unknown, limit: number): boolean {
  let level: unknown[] = [value];
  for (let depth = 0; level.length > 0; depth += 1) {
    if (depth > limit) return true;
    level = level.flatMap((item) => (typeof item === 'object' && item !== null ? Object.values(item) : []));
  }
  return false;
}

function parseCall(text: string): Outcome<{ name: string; request: unknown }> {
  const shape = refused(
    'call-not-understood',
    'This is not a call that the desk understands.',
    'Send JSON text with a name and a request.',
  );
  let call: unknown;
  try {
    call = JSON.parse(text);
  } catch {
    return shape;
  }
  if (typeof call !== 'object' || call === null || Array.isArray(call)) return shape;
  if (!('name' in call) || typeof call.name !== 'string' || !namePattern.test(call.name)) return shape;
  const request = 'request' in call ? call.request : undefined;
  if (Object.keys(call).some((key) => key !== 'name' && key !== 'request')) return shape;
  if (isDeeperThan(request, callLimits.depth)) return shape;
  return { ok: true, value: { name: call.name, request } };
}

/**
 * Carries one call to the desk: JSON text `{name, request}` in, JSON text of the envelope out, the same in
 * every host. Never throws: a fault in the program becomes the envelope `desk-failed` and a line in the log.
 */
export async function answerText(desk: Desk, text: string, log: Log): Promise<string> {
  const call = parseCall(text);
  if (!call.ok) return JSON.stringify(call);
  try {
    return JSON.stringify(await desk.call(call.value.name, call.value.request));
  } catch (thrown) {
    return JSON.stringify(deskFailed(log, `call ${call.value.name}`, thrown));
  }
}

/**
 * Hands a file to the desk. The name is only ever shown, never opened; it is cut to 255 characters and loses
 * any folder part and control characters.
 */
export function takeFile(desk: Desk, name: string, bytes: Uint8Array, log: Log): Outcome<{ token: string }> {
  const shown = name
    .replace(/^.*[/\\]/su, '')
    .replace(/\p{Cc}/gu, '')
    .slice(0, 255);
  try {
    return { ok: true, value: desk.file(shown, bytes) };
  } catch (thrown) {
    return thrown instanceof Refusal
      ? { ok: false, error: faultOf(thrown) }
      : deskFailed(log, 'taking a file', thrown);
  }
}
