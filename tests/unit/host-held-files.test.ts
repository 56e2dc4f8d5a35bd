import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { heldFiles, heldLimits } from '../../src-main/answers/files.ts';

const bytes = (text: string) => new TextEncoder().encode(text);

describe('files that wait for their call', () => {
  test('the same bytes have the same token, whatever the file is called', () => {
    const files = heldFiles();
    const token = files.put('flock.csv', bytes('tag,class'));
    expect(token).toBe(createHash('sha256').update('tag,class').digest('hex'));
    expect(files.put('flock (1).csv', bytes('tag,class'))).toBe(token);
    expect(files.get(token)).toEqual({ name: 'flock (1).csv', bytes: bytes('tag,class') });
    expect(files.put('flock.csv', bytes('tag,class\n'))).not.toBe(token);
    expect(files.get('no such token')).toBeUndefined();
  });

  test('the oldest give way: by number, and one that was sent again is new again', () => {
    const files = heldFiles();
    const tokens = Array.from({ length: heldLimits.files }, (_, i) => files.put('f', bytes(`file ${i}`)));
    files.put('f', bytes('file 0'));
    files.put('f', bytes('one more'));
    expect(tokens.map((token) => files.get(token) !== undefined)).toEqual(tokens.map((_, i) => i !== 1));
  });

  test('the oldest give way: by bytes, counted once for the same file', () => {
    const files = heldFiles({ files: 8, bytes: 10 });
    const four = files.put('a', bytes('4444'));
    files.put('a', bytes('4444'));
    const six = files.put('b', bytes('666666'));
    expect([files.get(four)?.name, files.get(six)?.name]).toEqual(['a', 'b']);
    const one = files.put('c', bytes('1'));
    expect([files.get(four), files.get(six)?.name, files.get(one)?.name]).toEqual([undefined, 'b', 'c']);
    const ten = files.put('d', bytes('1010101010'));
    expect([files.get(six), files.get(one), files.get(ten)?.name]).toEqual([undefined, undefined, 'd']);
  });

  test('what would not fit by itself is refused and pushes nothing out', () => {
    const files = heldFiles({ files: 8, bytes: 10 });
    const kept = files.put('a', bytes('abc'));
    expect(() => files.put('big.csv', bytes('12345678901'))).toThrow(
      expect.objectContaining({ name: 'Refusal', code: 'file-too-big', field: 'file' }),
    );
    expect(files.get(kept)?.name).toBe('a');
  });

  test('two files of the largest size a host takes wait beside one another', () => {
    expect(heldLimits).toEqual({ files: 8, bytes: 2 * 64 * 1024 * 1024 });
  });
});
