import { z } from 'zod';
import { type Identity, readIdentity } from '../flock/identity.ts';
import type { WorkingLine } from '../working.ts';
import { topic } from './work-out-topic.ts';

const askSchema = z.strictObject({ read: z.string().max(200) });

export const identityTopic = topic('What a number off an ear or a reader is.', askSchema, (ask) => {
  const { key, test, ...identity } = readIdentity(ask.read);
  return {
    ...identity,
    working: [explain({ key, ...identity })],
    warnings:
      test === true
        ? [{ code: 'test-code', text: '999 is the code for trying readers out, not an animal’s own.' }]
        : [],
  };
});

function explain(identity: Identity): WorkingLine {
  const source = 'ISO 11784; Reg (EU) 2021/520 Art 12';
  if (identity.kind === 'chip') {
    const owner = identity.maker ?? identity.country ?? '999';
    const what = identity.maker !== undefined ? 'maker' : 'country';
    return { code: 'chip', text: `15 digits: ${what} ${owner}, animal ${identity.number}`, source };
  }
  if (identity.kind === 'tag') {
    return {
      code: 'tag',
      text: `${identity.country} ${identity.number} is ${identity.key} in a chip`,
      source,
    };
  }
  return {
    code: 'management',
    text: 'Neither 15 digits nor a country with its number: a number of the farm’s own',
  };
}
