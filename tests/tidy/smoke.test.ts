import { expect, test } from 'vitest';

test('node is the pinned one', () => expect(process.versions.node.split('.')[0]).toBe('24'));
