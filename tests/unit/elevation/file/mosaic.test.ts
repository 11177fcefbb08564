import { beforeAll, describe, expect, it } from 'vitest';
import { mosaicOf } from '../../../../lib/elevation/file/mosaic';
import { openElevation, type ElevationFile } from '../../../../lib/elevation/file/open-elevation';
import type { Grid } from '../../../../lib/elevation/grid';
import { readWindow } from '../../../../lib/elevation/window/read-window';
import { writeGeoTiff } from '../../../../lib/elevation/writing/write-geotiff';
import { localFrame } from '../../../../lib/frame/frame';

const [width, height, cellM] = [24, 16, 0.5];
const whole: Grid = {
  width,
  height,
  cellM,
  westM: 0,
  northM: 0,
  z: Float32Array.from({ length: width * height }, (_, i) => 1 + ((i * 37) % 101) / 50),
  datumM: 200,
  frame: localFrame([-88, 40]),
};

/** A part of it, or of another cell or place. */
async function fileOf(
  name: string,
  [left, top, right, bottom]: readonly [number, number, number, number],
  like: Partial<Grid> = {},
): Promise<ElevationFile> {
  const z: number[] = [];
  for (let row = top; row < bottom; row++) {
    for (let column = left; column < right; column++) z.push(whole.z[row * width + column]);
  }
  const part: Grid = {
    ...whole,
    width: right - left,
    height: bottom - top,
    westM: left * cellM,
    northM: -top * cellM,
    z: Float32Array.from(z),
    ...like,
  };
  const bytes = await writeGeoTiff(part, { tileSize: 128 });
  return openElevation({ name, blob: new Blob([bytes]) });
}

describe('several adjoining files', () => {
  let one: ElevationFile;
  let west: ElevationFile;
  beforeAll(async () => {
    one = await fileOf('one.tif', [0, 0, width, height]);
    west = await fileOf('west.tif', [0, 0, 10, height]);
  });

  it('are read as the one file that they were cut from, overlaps and all', async () => {
    const upper = await fileOf('upper.tif', [10, 0, width, 9]);
    const lower = await fileOf('lower.tif', [8, 7, width, height]);
    const expected = await readWindow(one);
    for (const files of [
      [west, upper, lower],
      [lower, west, upper],
    ]) {
      const read = await readWindow(mosaicOf(files, 'all'));
      expect(read.grid).toMatchObject({
        width,
        height,
        cellM: expected.grid.cellM,
        westM: expected.grid.westM,
        northM: expected.grid.northM,
        datumM: expected.grid.datumM,
      });
      expect(read.grid.z).toEqual(expected.grid.z);
      expect(read.notes.map(({ code }) => code)).toContain('mosaic');
    }
  });

  it('have no data where none of them lies', async () => {
    const upper = await fileOf('upper.tif', [10, 0, width, 9]);
    const joined = mosaicOf([west, upper], 'both');
    expect(joined.description).toMatchObject({ width, height });
    const { grid } = await readWindow(joined);
    const missing = grid.z.reduce((sum, z) => sum + (Number.isNaN(z) ? 1 : 0), 0);
    expect(missing).toBe((width - 10) * (height - 9));
  });

  it('that do not fit are refused, the first that does not by its name', async () => {
    const apart = await fileOf('apart.tif', [14, 0, width, height]);
    expect(() => mosaicOf([west, apart], 'both')).toThrow(
      /^apart\.tif: there is a gap of 4 cells between it and west\.tif/,
    );
    const coarse = await fileOf('coarse.tif', [10, 0, width, height], { cellM: 1 });
    expect(() => mosaicOf([west, coarse], 'both')).toThrow(/^coarse\.tif: its cells are 1 wide/);
    const beside = await fileOf('beside.tif', [10, 0, width, height], { westM: 5.2 });
    expect(() => mosaicOf([west, beside], 'both')).toThrow(/^beside\.tif: its cells lie 0\.40 of/);
    const other = await fileOf('other.tif', [10, 0, width, height], {
      frame: localFrame([-88, 41]),
    });
    expect(() => mosaicOf([west, other], 'both')).toThrow(/^other\.tif: it is in .*, while west/);
  });
});
