import { fromArrayBuffer } from 'geotiff';
import proj4 from 'proj4';
import { describe, expect, it } from 'vitest';
import { ascii, cornerAndCell, double, short, writeRaster } from '../../../../fixtures/broken/tiff';
import { openElevation } from '../../../../lib/elevation/file/open-elevation';
import { readWindow } from '../../../../lib/elevation/window/read-window';
import { writeGeoTiff } from '../../../../lib/elevation/writing/write-geotiff';

/** A map in US survey feet with two standard parallels, spelled out: no code names it. */
const conic =
  '+proj=lcc +lat_1=42.7 +lat_2=44.1 +lat_0=42 +lon_0=-90 +x_0=600000 +y_0=0 +datum=NAD83 +units=us-ft +no_defs';
const citation = 'A conic of our own|';
const spelledOut = {
  34735: short(
    ...[1, 1, 0, 16],
    ...[1024, 0, 1, 1],
    ...[1025, 0, 1, 1],
    ...[1026, 34737, citation.length, 0],
    ...[2048, 0, 1, 4269],
    ...[2054, 0, 1, 9102],
    ...[3072, 0, 1, 32767],
    ...[3074, 0, 1, 32767],
    ...[3075, 0, 1, 8],
    ...[3076, 0, 1, 9003],
    ...[3078, 34736, 1, 0],
    ...[3079, 34736, 1, 1],
    ...[3084, 34736, 1, 2],
    ...[3085, 34736, 1, 3],
    ...[3086, 34736, 1, 4],
    ...[3087, 34736, 1, 5],
    ...[4099, 0, 1, 9001],
  ),
  34736: double(42.7, 44.1, -90, 42, 1_968_500, 0),
  34737: ascii(citation),
};

describe('a raster in a projection that no code names', () => {
  it('is written in that projection, unit and all, and read back in its place', async () => {
    const [east, north] = proj4(conic).forward([-89.2, 43.1]).map(Math.round);
    const bytes = writeRaster({
      width: 30,
      height: 20,
      z: (column, row) => 260 + 0.1 * column - 0.03 * row,
      place: cornerAndCell(east, north, 2),
      tags: spelledOut,
    });
    const file = await openElevation({ name: 'conic.tif', blob: new Blob([bytes]) });
    const read = await readWindow(file, { verticalUnitM: 1 });
    expect(read.resampled).toBe(false);
    expect(read.written).not.toBeNull();
    if (read.written === null) return;

    const written = await writeGeoTiff(read.grid, { system: read.written });
    const image = await (await fromArrayBuffer(written.buffer)).getImage();
    expect(image.getGeoKeys()).toMatchObject({
      GTCitationGeoKey: 'A conic of our own',
      GTRasterTypeGeoKey: 1,
      ProjectedCSTypeGeoKey: 32_767,
      ProjLinearUnitsGeoKey: 9003,
      ProjFalseOriginEastingGeoKey: 1_968_500,
      VerticalUnitsGeoKey: 9001,
    });
    const [west, , , top] = image.getBoundingBox();
    expect(west).toBeCloseTo(east, 5);
    expect(top).toBeCloseTo(north, 5);

    const again = await openElevation({ name: 'again.tif', blob: new Blob([written]) });
    again.description.corners.forEach(([lng, lat], i) => {
      expect(lng).toBeCloseTo(file.description.corners[i][0], 9);
      expect(lat).toBeCloseTo(file.description.corners[i][1], 9);
    });
  });
});
