/**
 * What a screen may load, by kind. Everything starts forbidden; each line that allows something says why.
 * Both windowed hosts send it with every reply.
 */
export const contentPolicy: readonly (readonly [string, string])[] = [
  ['default-src', "'none'"],
  ['script-src', "'self'"],
  ['style-src', "'self'"],
  // blob: pictures the user has just chosen; data: drawings that the build puts inline.
  ['img-src', "'self' blob: data:"],
  ['connect-src', "'self'"],
  ['font-src', "'self'"],
  // blob: a paper shown beside the screen it belongs to.
  ['frame-src', "'self' blob:"],
  ['object-src', "'none'"],
  ['base-uri', "'none'"],
  ['frame-ancestors', "'none'"],
  ['form-action', "'none'"],
];

/** The content policy as the one line of its header. */
export const contentPolicyLine = contentPolicy.map(([kind, sources]) => `${kind} ${sources}`).join('; ');

/** The headers that every reply of both windowed hosts carries, errors included. */
export const strictHeaders: Readonly<Record<string, string>> = {
  'content-security-policy': contentPolicyLine,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'x-frame-options': 'DENY',
  'permissions-policy': 'camera=(), microphone=(), geolocation=(), usb=(), serial=(), hid=(), payment=()',
  'cache-control': 'no-store',
};
