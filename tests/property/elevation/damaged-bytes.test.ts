import { deflateSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ascii, cornerAndCell, long, short, writeRaster } from '../../../fixtures/broken/tiff';
import { openElevation } from '../../../lib/elevation/file/open-elevation';
import { readWindow } from '../../../lib/elevation/window/read-window';
import { InputError } from '../../../lib/errors';

const parts = {
  width: 40,
  height: 40,
  z: (column: number, row: number) => 20 + 0.1 * column + 0.05 * row,
  place: cornerAndCell(320_000, 4_300_000, 1),
  keys: { 1024: 1, 1025: 1, 3072: 32618, 4099: 9001 },
  tags: { 42113: ascii('-9999') },
};
const plain = writeRaster(parts);
const packed = writeRaster({
  ...parts,
  tile: 16,
  tags: { ...parts.tags, 259: short(8) },
  pack: (bytes: Uint8Array) => deflateSync(bytes),
});

/** Opens and reads; a refusal with a sentence counts as an answer, anything else does not. */
async function answered(bytes: Uint8Array<ArrayBuffer>): Promise<boolean> {
  try {
    const file = await openElevation({ name: 'damaged.tif', blob: new Blob([bytes]) });
    const { west, south, east, north } = file.description.bounds;
    const [lng, lat] = [(west + east) / 2, (south + north) / 2];
    const { grid } = await readWindow(file, {
      area: [lng, lat, lng, lat],
      marginM: 30,
      verticalUnitM: 1,
    });
    return grid.z.length === grid.width * grid.height;
  } catch (error) {
    if (error instanceof InputError) return true;
    throw error;
  }
}

describe.each([
  ['an unpacked file', plain],
  ['a packed file in tiles', packed],
])('%s', (_, sound) => {
  it('with bytes changed anywhere in its header reads or is refused with a sentence', async () => {
    const change = fc.tuple(fc.integer({ min: 0, max: 420 }), fc.integer({ min: 0, max: 255 }));
    await fc.assert(
      fc.asyncProperty(fc.array(change, { minLength: 1, maxLength: 3 }), async (changes) => {
        const bytes = sound.slice();
        for (const [at, value] of changes) bytes[at] = value;
        expect(await answered(bytes)).toBe(true);
      }),
      { seed: 3, numRuns: 500 },
    );
  });

  it('cut anywhere is refused with a sentence or reads what is left', async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 0, max: sound.length - 1 }), async (length) => {
        expect(await answered(sound.slice(0, length))).toBe(true);
      }),
      { seed: 4, numRuns: 120 },
    );
  });
});

describe('rubbish said to be packed', () => {
  it.each([
    ['LZW', 5],
    ['deflate', 8],
    ['PackBits', 32773],
    ['LERC', 34887],
    ['ZSTD', 50000],
  ])('by %s is refused with a sentence or read as what it unpacks to', async (_, compression) => {
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ minLength: 20, maxLength: 400 }), async (rubbish) => {
        // The first bytes that each packing begins with, so that its decoder goes further than those.
        const begin = { 5: [0x80], 8: [0x78, 0x9c], 50000: [0x28, 0xb5, 0x2f, 0xfd] }[compression];
        const lerc =
          compression === 34887 ? [...new TextEncoder().encode('Lerc2 '), 2, 0, 0, 0] : [];
        const block = Uint8Array.from([...(begin ?? lerc), ...rubbish]);
        const bytes = writeRaster({
          ...parts,
          tags: { ...parts.tags, 259: short(compression), 50674: long(4, 0) },
          pack: () => block,
        });
        expect(await answered(bytes)).toBe(true);
      }),
      { seed: 5, numRuns: 60 },
    );
  });
});
