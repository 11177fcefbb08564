import { fromArrayBuffer } from 'geotiff';
import { describe, expect, it } from 'vitest';
import type { Grid } from '../../../../lib/elevation/grid';
import { writeGeoTiff } from '../../../../lib/elevation/writing/write-geotiff';

/** 150 columns by 140 rows, so that tiles of 128 are cut on both sides; one cell without data. */
function slopingGrid(): Grid {
  const [width, height] = [150, 140];
  const z = Float32Array.from(
    { length: width * height },
    (_, i) => 5 + Math.sin(i / 37) + (i % width) * 0.013,
  );
  z[3 * width + 7] = Number.NaN;
  return {
    width,
    height,
    cellM: 0.5,
    westM: -20,
    northM: 35,
    z,
    datumM: 271.25,
    frame: {
      projection: '+proj=utm +zone=16 +datum=NAD83 +units=m +no_defs',
      originEast: 551_000,
      originNorth: 4_402_000,
      metresPerUnit: 1,
    },
  };
}

describe('writeGeoTiff', () => {
  for (const compress of ['deflate', 'none'] as const) {
    for (const tileSize of [128, 256] as const) {
      it(`is read back cell for cell by another reader: ${compress}, tiles of ${tileSize}`, async () => {
        const grid = slopingGrid();
        const bytes = await writeGeoTiff(grid, { epsg: 26_916, compress, tileSize });
        const image = await (await fromArrayBuffer(bytes.buffer)).getImage();
        const [values] = (await image.readRasters()) as unknown as [Float32Array];
        expect(image.getTileWidth()).toBe(tileSize);
        expect(values).toHaveLength(grid.z.length);
        const expected = grid.z.map((z) => (Number.isNaN(z) ? -9999 : grid.datumM + z));
        expect(values).toEqual(expected);
      });
    }
  }

  it('puts the grid where it is, with cells as areas and heights in metres', async () => {
    const bytes = await writeGeoTiff(slopingGrid(), { epsg: 26_916 });
    const image = await (await fromArrayBuffer(bytes.buffer)).getImage();
    expect(image.getBoundingBox()).toEqual([550_980, 4_401_965, 551_055, 4_402_035]);
    expect(image.getGeoKeys()).toMatchObject({
      GTModelTypeGeoKey: 1,
      GTRasterTypeGeoKey: 1,
      ProjectedCSTypeGeoKey: 26_916,
      VerticalUnitsGeoKey: 9001,
    });
    expect(image.getGDALNoData()).toBe(-9999);
  });

  it('divides by the ground metres of a unit where the projection has a scale', async () => {
    const grid = slopingGrid();
    const frame = { ...grid.frame, metresPerUnit: 1.0004 };
    const bytes = await writeGeoTiff({ ...grid, frame }, { epsg: 26_916 });
    const image = await (await fromArrayBuffer(bytes.buffer)).getImage();
    expect(image.getResolution()[0]).toBeCloseTo(0.5 / 1.0004, 12);
  });

  it('keeps the description and escapes it', async () => {
    const bytes = await writeGeoTiff(slopingGrid(), { epsg: 26_916, description: 'a < b & c' });
    const image = await (await fromArrayBuffer(bytes.buffer)).getImage();
    expect(await image.getGDALMetadata(0)).toMatchObject({ UNITTYPE: 'metre' });
    expect(new TextDecoder().decode(bytes)).toContain('a &lt; b &amp; c');
  });

  it('makes smooth ground smaller than its plain bytes', async () => {
    const grid = slopingGrid();
    const plain = await writeGeoTiff(grid, { epsg: 26_916, compress: 'none' });
    const small = await writeGeoTiff(grid, { epsg: 26_916 });
    expect(small.length).toBeLessThan(plain.length / 2);
  });
});
