import { createHash, randomBytes } from 'node:crypto';

const keyLifetimeMs = 12 * 60 * 60 * 1000;
const keysHeld = 8;
const tokensHeld = 64;

function fingerprint(secret: string): string {
  return createHash('sha256').update(secret).digest('hex');
}

function secret(): string {
  return randomBytes(32).toString('base64url');
}

function dropOldest(held: Map<string, number>, most: number): void {
  for (const oldest of held.keys()) {
    if (held.size <= most) return;
    held.delete(oldest);
  }
}

/** What became of a key that somebody showed. `wait` says in how many seconds to come again. */
export type KeyAnswer =
  | { kind: 'token'; token: string }
  | { kind: 'wrong' }
  | { kind: 'wait'; seconds: number };

/**
 * The keys to one running host. A key (256 bits, in the address that is printed) opens the door once and
 * dies, or dies unused after 12 hours; it is exchanged for a token that lasts as long as the host runs. Only
 * fingerprints are kept, so looking one up compares hashes and its timing tells nothing about a secret.
 */
export class Keys {
  readonly #keys = new Map<string, number>();
  readonly #tokens = new Map<string, number>();
  readonly #nowMs: () => number;
  readonly #wrongMost: number;
  readonly #wrongWindowMs: number;
  #wrongAtMs: number[] = [];

  /** `nowMs` is a clock that never runs backwards; at most `wrongMost` wrong keys are heard in a window. */
  constructor(nowMs: () => number, wrongMost = 5, wrongWindowMs = 60_000) {
    this.#nowMs = nowMs;
    this.#wrongMost = wrongMost;
    this.#wrongWindowMs = wrongWindowMs;
  }

  /** A new one-time key. At most 8 wait at once; the oldest gives way. */
  newKey(): string {
    const key = secret();
    this.#keys.set(fingerprint(key), this.#nowMs());
    dropOldest(this.#keys, keysHeld);
    return key;
  }

  /**
   * Exchanges a key for a token. After too many wrong keys no key is heard at all, right or wrong, until the
   * oldest wrong one is a window old: guessing gains nothing from speed.
   */
  exchange(key: string): KeyAnswer {
    const now = this.#nowMs();
    this.#wrongAtMs = this.#wrongAtMs.filter((at) => now - at < this.#wrongWindowMs);
    const [oldestWrong] = this.#wrongAtMs;
    if (oldestWrong !== undefined && this.#wrongAtMs.length >= this.#wrongMost) {
      return { kind: 'wait', seconds: Math.ceil((oldestWrong + this.#wrongWindowMs - now) / 1000) };
    }
    const print = fingerprint(key);
    const madeAt = this.#keys.get(print);
    if (madeAt === undefined || now - madeAt >= keyLifetimeMs) {
      this.#keys.delete(print);
      this.#wrongAtMs.push(now);
      return { kind: 'wrong' };
    }
    this.#keys.delete(print);
    const token = secret();
    this.#tokens.set(fingerprint(token), now);
    dropOldest(this.#tokens, tokensHeld);
    return { kind: 'token', token };
  }

  /** True when the token was given out by this host. */
  isToken(token: string | undefined): boolean {
    return token !== undefined && this.#tokens.has(fingerprint(token));
  }
}
