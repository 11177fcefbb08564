import { deflateSync } from 'node:zlib';
import { expect, it } from 'vitest';
import {
  cornerAndCell,
  geoKeys,
  long,
  short,
  writeRaster,
  writeTiff,
} from '../../../../fixtures/broken/tiff';
import { openElevation } from '../../../../lib/elevation/file/open-elevation';
import { readWindow } from '../../../../lib/elevation/window/read-window';
import { EAST, NORTH, planeM, planeRaster, UTM_KEYS, worstErrorM } from '../plane';

/** A file that counts how often it is read from. */
class CountedBlob extends Blob {
  reads = 0;
  override slice(start?: number, end?: number): Blob {
    this.reads++;
    return super.slice(start, end);
  }
}

const [width, height] = [1500, 400];

/** The plane in strips of one row each, packed, in this order in the file and so many bytes apart. */
function strips(
  order: readonly number[],
  apart: number,
  pack: (row: Uint8Array) => Uint8Array,
  bigEndian = false,
) {
  const west = EAST - width / 2;
  const north = NORTH + height / 2;
  const rows = Array.from({ length: height }, (_, r) => {
    const z = Float32Array.from({ length: width }, (_, c) =>
      planeM(west + c + 0.5, north - r - 0.5),
    );
    const bytes = new Uint8Array(z.buffer);
    if (bigEndian)
      for (let at = 0; at < bytes.length; at += 4) bytes.subarray(at, at + 4).reverse();
    return pack(bytes);
  });
  const blocks = order.flatMap((r) => [rows[r], new Uint8Array(apart)]);
  const tags = (offsets: readonly number[]) => ({
    256: long(width),
    257: long(height),
    258: short(32),
    259: short(pack === deflated ? 8 : 1),
    262: short(1),
    277: short(1),
    278: long(1),
    339: short(3),
    ...cornerAndCell(west, north, 1),
    34735: geoKeys(UTM_KEYS),
    273: long(...offsets),
    279: long(...rows.map(({ length }) => length)),
  });
  const empty = writeTiff({ tags: tags(rows.map(() => 0)), blocks: [], bigEndian });
  const offsets = new Array<number>(height);
  let at = empty.length;
  for (const r of order) {
    offsets[r] = at;
    at += rows[r].length + apart;
  }
  return new CountedBlob([writeTiff({ tags: tags(offsets), blocks, bigEndian })]);
}

const plain = (row: Uint8Array): Uint8Array => row;
const deflated = (row: Uint8Array): Uint8Array => deflateSync(row);
const inOrder = Array.from({ length: height }, (_, r) => r);

it.each([
  ['one behind the other', inOrder, 0, plain, 12],
  ['packed, one behind the other', inOrder, 0, deflated, 12],
  ['packed, on even places', inOrder, 2, deflated, 12],
  ['from the last to the first', inOrder.toReversed(), 0, plain, 1000],
  ['packed, with much between them', inOrder, 400, deflated, 1000],
])('strips of a row each are read many at a time: %s', async (_, order, apart, pack, most) => {
  const blob = strips(order, apart, pack);
  const file = await openElevation({ name: 'strips.tif', blob });
  const before = blob.reads;
  const elevation = await readWindow(file);
  expect([elevation.grid.width, elevation.grid.height]).toEqual([width, height]);
  expect(worstErrorM(elevation)).toBeLessThan(1e-3);
  expect(blob.reads - before).toBeLessThan(most);
});

it.each([plain, deflated])('many strips are found in big-endian files', async (pack) => {
  const blob = strips(inOrder, 0, pack, true);
  const elevation = await readWindow(await openElevation({ name: 'strips.tif', blob }));
  expect(worstErrorM(elevation)).toBeLessThan(1e-3);
});

it('differences and planes of bytes are undone in both byte orders', async () => {
  for (const bigEndian of [false, true]) {
    const parts = {
      ...planeRaster(),
      bigEndian,
      tags: { 259: short(8), 317: short(3) },
      pack: (bytes: Uint8Array) => deflateSync(planes(bytes, 80)),
    };
    const file = await openElevation({ name: 'p.tif', blob: new Blob([writeRaster(parts)]) });
    expect(worstErrorM(await readWindow(file))).toBeLessThan(1e-4);
  }
});

/** Predictor 3: in each row all last bytes of the numbers come last, and each byte as its difference from the one before. */
function planes(bytes: Uint8Array, perRow: number): Uint8Array {
  const out = new Uint8Array(bytes.length);
  for (let start = 0; start < bytes.length; start += 4 * perRow) {
    for (let i = 0; i < perRow; i++) {
      for (let byte = 0; byte < 4; byte++) {
        out[start + (3 - byte) * perRow + i] = bytes[start + 4 * i + byte];
      }
    }
    for (let i = 4 * perRow - 1; i > 0; i--) out[start + i] -= out[start + i - 1];
  }
  return out;
}
