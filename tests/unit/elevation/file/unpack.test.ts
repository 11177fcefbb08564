import { describe, expect, it } from 'vitest';
import { unpackLzw } from '../../../../lib/elevation/file/unpack-lzw';
import { unpackPackBits } from '../../../../lib/elevation/file/unpack-packbits';

/** Packs by LZW as TIFF has it, the plain way: for tests only. */
function packLzw(bytes: Uint8Array): Uint8Array {
  const out: number[] = [];
  let bits = 0;
  let held = 0;
  let width = 9;
  const put = (code: number): void => {
    bits = (bits << width) | code;
    held += width;
    while (held >= 8) {
      held -= 8;
      out.push((bits >> held) & 255);
      bits &= (1 << held) - 1;
    }
  };
  let table = new Map<string, number>();
  const clear = (): void => {
    put(256);
    table = new Map(Array.from({ length: 256 }, (_, i) => [String.fromCharCode(i), i]));
    width = 9;
  };
  clear();
  let next = 258;
  let string = '';
  for (const byte of bytes) {
    const longer = string + String.fromCharCode(byte);
    if (table.has(longer)) {
      string = longer;
      continue;
    }
    put(table.get(string)!);
    table.set(longer, next++);
    // One code early, as TIFF has it: the writer's table runs one entry ahead of the reader's.
    if (next === 512 || next === 1024 || next === 2048) width++;
    if (next === 4095) {
      clear();
      next = 258;
    }
    string = String.fromCharCode(byte);
  }
  put(table.get(string)!);
  put(257);
  if (held > 0) out.push((bits << (8 - held)) & 255);
  return Uint8Array.from(out);
}

function noise(length: number, values: number): Uint8Array {
  let seed = 12345;
  return Uint8Array.from({ length }, () => {
    seed = (seed * 16807) % 2147483647;
    return seed % values;
  });
}

describe('unpackLzw', () => {
  it.each([
    ['a run', new Uint8Array(5000).fill(7)],
    ['few values', noise(40_000, 3)],
    ['noise', noise(40_000, 256)],
    ['one byte', Uint8Array.of(200)],
  ])('gives back %s', (_, bytes) => {
    expect(unpackLzw(packLzw(bytes), bytes.length)).toEqual(bytes);
  });

  it('makes no more than asked for, and stops where the input ends', () => {
    const bytes = noise(1000, 4);
    const packed = packLzw(bytes);
    expect(unpackLzw(packed, 300)).toEqual(bytes.slice(0, 300));
    const part = unpackLzw(packed.slice(0, packed.length / 2), 1000);
    expect(part.length).toBeLessThan(1000);
    expect(part).toEqual(bytes.slice(0, part.length));
  });

  it('ends on any input', () => {
    for (let seed = 1; seed < 300; seed++) {
      const rubbish = noise(2000, 256).map((byte) => (byte * seed) & 255);
      let length = 0;
      try {
        length = unpackLzw(rubbish, 5000).length;
      } catch (error) {
        expect((error as Error).message).toMatch(/^LZW code \d+/);
      }
      expect(length).toBeLessThanOrEqual(5000);
    }
  });
});

describe('unpackPackBits', () => {
  it('takes bytes as they are, and repeats', () => {
    // The example of TIFF 6.0, section 9.
    const packed = [
      0xfe, 0xaa, 0x02, 0x80, 0x00, 0x2a, 0xfd, 0xaa, 0x03, 0x80, 0x00, 0x2a, 0x22, 0xf7, 0xaa,
    ];
    const bytes = [
      ...[0xaa, 0xaa, 0xaa, 0x80, 0x00, 0x2a, 0xaa, 0xaa, 0xaa, 0xaa, 0x80, 0x00, 0x2a, 0x22],
      ...new Array<number>(10).fill(0xaa),
    ];
    expect(Array.from(unpackPackBits(Uint8Array.from(packed), 24))).toEqual(bytes);
    expect(Array.from(unpackPackBits(Uint8Array.from([0x80, ...packed]), 10))).toEqual(
      bytes.slice(0, 10),
    );
    expect(unpackPackBits(Uint8Array.from([0x05, 1, 2]), 24)).toEqual(Uint8Array.of(1, 2));
    expect(unpackPackBits(Uint8Array.of(0xf0), 24)).toHaveLength(0);
  });
});
