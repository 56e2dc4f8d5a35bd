/** A reply that ends a request before it reaches the desk. */
export type Turned = { status: number; code: string; message: string; next: string };

/** The parts of a request that decide whether it may come in at all. */
export type Knock = {
  method: string;
  target: string;
  hosts: readonly string[];
  origins: readonly string[];
  fetchSite: string | undefined;
};

const printed = 'Open the address that Foldbook printed.';

/** Every value of one header, from the raw list: the parsed headers keep only the first of two. */
export function headerValues(raw: readonly string[], name: string): string[] {
  const values: string[] = [];
  for (let at = 0; at + 1 < raw.length; at += 2) {
    if (raw[at]?.toLowerCase() === name) values.push(raw[at + 1] ?? '');
  }
  return values;
}

/**
 * Looks at a request before anything of it is read. `authority` is `127.0.0.1:PORT`. Lets in only GET and
 * POST, for exactly this host (another name that leads here is a rebinding attack), from this origin; a POST
 * without an origin comes from no page of ours. Returns what to answer instead, or undefined.
 */
export function turnAway(knock: Knock, authority: string): Turned | undefined {
  if (knock.method !== 'GET' && knock.method !== 'POST') {
    return {
      status: 405,
      code: 'method-not-allowed',
      message: 'Foldbook does not answer this.',
      next: printed,
    };
  }
  if (knock.hosts.length !== 1 || knock.hosts[0] !== authority) {
    return {
      status: 421,
      code: 'wrong-host',
      message: 'This is not the address of Foldbook.',
      next: printed,
    };
  }
  if (!knock.target.startsWith('/') || knock.target.startsWith('//')) {
    return { status: 400, code: 'wrong-target', message: 'Foldbook does not answer this.', next: printed };
  }
  const foreign = knock.origins.some((origin) => origin !== `http://${authority}`);
  const unsaid = knock.method === 'POST' && knock.origins.length !== 1;
  // Typed addresses and links come with none; a page of ours with same-origin; anything else is another page.
  const elsewhere =
    knock.method === 'POST' && knock.fetchSite !== undefined && knock.fetchSite !== 'same-origin';
  if (foreign || unsaid || elsewhere) {
    return {
      status: 403,
      code: 'wrong-origin',
      message: 'Another page tried to use Foldbook. It was refused.',
      next: printed,
    };
  }
  return undefined;
}
