import { expect, it } from 'vitest';
import { gridCorners } from '../../../../lib/elevation/grid-corners';
import { openElevation } from '../../../../lib/elevation/file/open-elevation';
import { readWindow } from '../../../../lib/elevation/window/read-window';
import { writeGeoTiff } from '../../../../lib/elevation/writing/write-geotiff';
import { groundOf } from '../../ground/plane-lot';

it('writes a grid in a local frame so that it is read back in its place, without a code', async () => {
  const grid = groundOf(40, 30, 0.5, (x, y) => 5 + 0.1 * x - 0.05 * y);
  const bytes = await writeGeoTiff(grid, { description: 'a plane' });
  const file = await openElevation({ name: 'local.tif', blob: new Blob([bytes]) });
  expect(file.description.system.code).toBeNull();
  const [northWest, , southEast] = gridCorners(grid);
  const inset = 1e-5;
  const { grid: read, resampled } = await readWindow(file, {
    area: [northWest[0] + inset, southEast[1] + inset, southEast[0] - inset, northWest[1] - inset],
    marginM: 10,
  });
  expect(resampled).toBe(false);
  expect([read.width, read.height]).toEqual([grid.width, grid.height]);
  const corner = gridCorners(read)[0];
  expect(corner[0]).toBeCloseTo(northWest[0], 8);
  expect(corner[1]).toBeCloseTo(northWest[1], 8);
  for (let cell = 0; cell < grid.z.length; cell++) {
    expect(read.datumM + read.z[cell]).toBeCloseTo(grid.datumM + grid.z[cell], 4);
  }
});
