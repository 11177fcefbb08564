import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { readPhoto } from '../../../../lib/elevation/picture/read-photo';
import { Cancelled } from '../../../../lib/errors';

const idle = (): AbortSignal => new AbortController().signal;

async function photo(name: string): Promise<{ name: string; blob: Blob }> {
  return { name, blob: new Blob([await readFile(`fixtures/backdrop/${name}`)]) };
}

describe('a photograph of the ground', () => {
  it.each(['photo.tif', 'photo-jpeg.tif'])('has its colours in their places: %s', async (name) => {
    const found = await readPhoto(await photo(name), null, 2048, idle());
    if (found === null) throw new Error('it was taken for elevation');
    expect([found.width, found.height]).toEqual([64, 48]);
    const [nw, , se] = found.corners;
    expect(nw[0]).toBeCloseTo(-87.1071179368092, 8);
    expect(nw[1]).toBeCloseTo(42.5104590748913, 8);
    expect(se[0]).toBeCloseTo(-87.1067280499788, 8);
    expect(se[1]).toBeCloseTo(42.5102432979517, 8);
    const at = 4 * (20 * 64 + 40);
    const near = name === 'photo.tif' ? 0 : 12;
    expect(Math.abs(found.data[at] - 160)).toBeLessThanOrEqual(near);
    expect(Math.abs(found.data[at + 1] - 100)).toBeLessThanOrEqual(near);
    expect(found.data[at + 3]).toBe(255);
  });

  it('is read around a place alone, and no larger than asked for', async () => {
    const area = [-87.10703, 42.51034, -87.10695, 42.51039] as const;
    const found = await readPhoto(await photo('photo.tif'), area, 8, idle());
    expect(Math.max(found?.width ?? 99, found?.height ?? 99)).toBe(8);
    const [[west, north]] = found?.corners ?? [[0, 0]];
    expect(west).toBeLessThan(area[0]);
    expect(west).toBeGreaterThan(area[0] - 0.00002);
    expect(north).toBeGreaterThan(area[3]);
  });

  it('of another place is refused, and so is a damaged one, each in a sentence', async () => {
    const elsewhere = [10, 50, 10.001, 50.001] as const;
    await expect(readPhoto(await photo('photo.tif'), elsewhere, 99, idle())).rejects.toThrow(
      /does not reach the ground/,
    );
    const { name, blob } = await photo('photo.tif');
    await expect(readPhoto({ name, blob: blob.slice(0, 300) }, null, 99, idle())).rejects.toThrow(
      /cannot be unpacked/,
    );
    const picture = { name, blob: new Blob(['no picture at all']) };
    await expect(readPhoto(picture, null, 99, idle())).rejects.toThrow(/cannot be unpacked/);
  });

  it('is none where there is one band, and stops when told', async () => {
    const sound = { name: 'a.tif', blob: new Blob([await readFile('fixtures/broken/sound.tif')]) };
    expect(await readPhoto(sound, null, 99, idle())).toBeNull();
    const stop = new AbortController();
    stop.abort();
    await expect(readPhoto(await photo('photo.tif'), null, 99, stop.signal)).rejects.toThrow(
      Cancelled,
    );
  });
});
