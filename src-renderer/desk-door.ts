import { v7 } from 'uuid';
import type { Fault, Outcome } from '../src-shared/refusal.ts';

/** A paper fetched for showing or saving: an address for a frame or a download link, until `release`. */
export type ShownPaper = { url: string; name: string; mime: string; release(): void };

/** How opening the door went. */
export type Opening = 'open' | 'no-key' | 'not-reached';

/**
 * The door as it is inside, with calls as text. desk.ts gives it the types of the calls. No method throws; trouble
 * comes back in the envelope.
 */
export type PlainDoor = {
  /** To be awaited once before the first call: shows the key in the address, if there is one. */
  open(): Promise<Opening>;
  /** Asks the desk something that changes nothing. */
  call(name: string, request: unknown): Promise<Outcome<unknown>>;
  /**
   * Asks the desk to write. Adds `request: id`; the same id with the same request is written once however
   * often it is sent, so a lost connection is tried once more by itself, and a form keeps its id while it
   * shows `desk-not-reached`.
   */
  write(name: string, request: object, id?: string): Promise<Outcome<unknown>>;
  /** Hands over a file of at most 64 MB; the token goes into a later call. */
  sendFile(file: File): Promise<Outcome<{ token: string }>>;
  /** Fetches a kept paper by its hash. */
  paper(hash: string): Promise<Outcome<ShownPaper>>;
  /** A fresh one-time address for another tab; only where a browser shows the screens. */
  newAddress(): Promise<Outcome<{ address: string }>>;
  /** Hears the deeds that are chosen in the menu of the window, by their ids, until what it returns is called. */
  onCommand(listener: (id: string) => void): () => void;
  /** True where a deed can open another tab: in a browser, not in Foldbook's own window. */
  readonly hasTabs: boolean;
};

/** What the preload of the Electron host puts into the page. Text goes and comes, the same as over the line. */
export type Bridge = {
  call(text: string): Promise<string>;
  file(name: string, bytes: ArrayBuffer): Promise<string>;
  paper(hash: string): Promise<{ name: string; mime: string; bytes: Uint8Array<ArrayBuffer> } | undefined>;
  onCommand(listener: (id: string) => void): () => void;
};

/** What a page in a browser gives to the door. */
export type Surroundings = {
  fetch: typeof fetch;
  storage: Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;
  /** The fragment of the address, and how to take it out of the address and the history. */
  fragment: string;
  clearFragment(): void;
};

/** A new id for a writing call: UUIDv7, so ids sort by when they were made. */
export function newRequestId(): string {
  return v7();
}

/** The most bytes a file may have. */
export const fileLimitBytes = 64 * 1024 * 1024;

const storageName = 'foldbook-token';
const tokenHeader = 'x-foldbook-token';
const fileNameHeader = 'x-foldbook-file';

type Refused = { ok: false; error: Fault };

function refused(code: string, message: string, next: string): Refused {
  return { ok: false, error: { code, message, next } };
}

function notReached(): Refused {
  return refused(
    'desk-not-reached',
    'Foldbook does not answer.',
    'See that Foldbook is still running, then try again. Nothing is written twice.',
  );
}

function noPaper(): Refused {
  return refused('paper-not-found', 'This paper is not in the book.', 'Make the paper again.');
}

function tooBig(): Refused {
  return refused('too-big', 'This file is larger than 64 MB.', 'Split the file and bring in the parts.');
}

function isFault(value: unknown): value is Fault {
  return (
    typeof value === 'object' &&
    value !== null &&
    'code' in value &&
    typeof value.code === 'string' &&
    'message' in value &&
    typeof value.message === 'string'
  );
}

/** Reads an envelope from text; text that is none means that something else than the desk answered. */
export function readEnvelope(text: string): Outcome<unknown> {
  let said: unknown;
  try {
    said = JSON.parse(text);
  } catch {
    return notReached();
  }
  if (typeof said !== 'object' || said === null || !('ok' in said)) return notReached();
  if (said.ok === true) return { ok: true, value: 'value' in said ? said.value : undefined };
  return 'error' in said && isFault(said.error) ? { ok: false, error: said.error } : notReached();
}

function textField<F extends string>(outcome: Outcome<unknown>, field: F): Outcome<Record<F, string>> {
  if (!outcome.ok) return outcome;
  const entries = Object.entries(outcome.value ?? {});
  const found: unknown = entries.find(([name]) => name === field)?.[1];
  // The cast only says that a computed key is the key it was computed from.
  return typeof found === 'string'
    ? { ok: true, value: { [field]: found } as Record<F, string> }
    : notReached();
}

function shown(bytes: BlobPart, name: string, mime: string): Outcome<ShownPaper> {
  const url = URL.createObjectURL(new Blob([bytes], { type: mime }));
  return { ok: true, value: { url, name, mime, release: () => URL.revokeObjectURL(url) } };
}

/** Adds the writing call that both doors share. */
function withWrite(door: Omit<PlainDoor, 'write'>): PlainDoor {
  return {
    ...door,
    write: async (name, request, id = newRequestId()) => {
      const body = { ...request, request: id };
      const first = await door.call(name, body);
      const lost = !first.ok && first.error.code === 'desk-not-reached';
      return lost ? door.call(name, body) : first;
    },
  };
}

/** The door of a page that the loopback host serves. */
export function loopbackDoor(around: Surroundings): PlainDoor {
  const headers = (more: Record<string, string>): Record<string, string> => ({
    [tokenHeader]: around.storage.getItem(storageName) ?? '',
    ...more,
  });
  const reach = async (path: string, init: RequestInit): Promise<Response | undefined> => {
    try {
      return await around.fetch(path, { ...init, credentials: 'omit', redirect: 'error' });
    } catch {
      // The browser gives one and the same error for every way a line can fail.
      return undefined;
    }
  };
  const readText = async (reply: Response | undefined): Promise<Outcome<unknown>> => {
    if (reply === undefined) return notReached();
    try {
      return readEnvelope(await reply.text());
    } catch {
      return notReached();
    }
  };
  const post = async (path: string, mime: string, body: BodyInit, more: Record<string, string> = {}) =>
    readText(
      await reach(path, { method: 'POST', headers: headers({ 'content-type': mime, ...more }), body }),
    );

  return withWrite({
    open: async () => {
      const key = /^#key=([\w-]{1,200})$/.exec(around.fragment)?.[1];
      if (key !== undefined) {
        // Out of the address before anything else, so that it is in no history, bookmark or picture.
        around.clearFragment();
        const answer = textField(await post('/key', 'application/json', JSON.stringify({ key })), 'token');
        if (answer.ok) {
          around.storage.setItem(storageName, answer.value.token);
          return 'open';
        }
        if (answer.error.code === 'desk-not-reached') return 'not-reached';
      }
      // A used key in the address does no harm to a window that already has a token.
      return around.storage.getItem(storageName) === null ? 'no-key' : 'open';
    },
    call: (name, request) => post('/call', 'application/json', JSON.stringify({ name, request })),
    sendFile: async (file) =>
      file.size > fileLimitBytes
        ? tooBig()
        : textField(
            await post('/file', 'application/octet-stream', file, {
              [fileNameHeader]: encodeURIComponent(file.name),
            }),
            'token',
          ),
    paper: async (hash) => {
      const reply = await reach(`/paper/${encodeURIComponent(hash)}`, {
        method: 'GET',
        headers: headers({}),
      });
      if (reply?.status === 404) return noPaper();
      if (reply === undefined || !reply.ok) {
        const said = await readText(reply);
        return said.ok ? notReached() : said;
      }
      const name = decodeURIComponent(reply.headers.get(fileNameHeader) ?? 'paper');
      try {
        return shown(await reply.arrayBuffer(), name, reply.headers.get('content-type') ?? '');
      } catch {
        return notReached();
      }
    },
    newAddress: async () => textField(await post('/fresh-key', 'application/json', '{}'), 'address'),
    // A browser has no menu of ours.
    onCommand: () => () => {},
    hasTabs: true,
  });
}

/** The door of the Electron window. */
export function bridgeDoor(bridge: Bridge): PlainDoor {
  const attempt = async <T>(work: () => Promise<Outcome<T>>): Promise<Outcome<T>> => {
    try {
      return await work();
    } catch {
      return notReached();
    }
  };
  return withWrite({
    open: () => Promise.resolve('open'),
    call: (name, request) =>
      attempt(async () => readEnvelope(await bridge.call(JSON.stringify({ name, request })))),
    sendFile: (file) =>
      file.size > fileLimitBytes
        ? Promise.resolve(tooBig())
        : attempt(async () =>
            textField(readEnvelope(await bridge.file(file.name, await file.arrayBuffer())), 'token'),
          ),
    paper: (hash) =>
      attempt(async () => {
        const paper = await bridge.paper(hash);
        return paper === undefined ? noPaper() : shown(paper.bytes, paper.name, paper.mime);
      }),
    newAddress: () =>
      Promise.resolve(
        refused(
          'not-in-a-browser',
          'Foldbook runs in its own window here.',
          'Start it with npm start -- --in-browser to use a browser.',
        ),
      ),
    onCommand: (listener) => bridge.onCommand(listener),
    hasTabs: false,
  });
}
