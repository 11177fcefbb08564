import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { ResultRaster } from '../../../lib/drainage/answer/result-rasters';
import type { Elevation } from '../../../lib/elevation/window/read-window';
import { writeGeoTiff } from '../../../lib/elevation/writing/write-geotiff';
import { notWritten } from '../reading/folder';

/**
 * Writes rasters as GeoTIFFs into a folder, which is made when it is not there.
 *
 * @returns the paths written.
 * @throws {InputError} `rasters-not-written` when the folder cannot be written to.
 */
export async function writeRasters(
  rasters: readonly ResultRaster[],
  elevation: Elevation,
  folder: string,
): Promise<string[]> {
  try {
    await mkdir(folder, { recursive: true });
    const paths: string[] = [];
    for (const { name, description, unit, heights, grid } of rasters) {
      const bytes = await writeGeoTiff(grid, {
        description,
        heights,
        unitDescription: unit,
        ...(elevation.written === null ? {} : { system: elevation.written }),
      });
      const path = join(folder, `${name}.tif`);
      await writeFile(path, bytes);
      paths.push(path);
    }
    return paths;
  } catch (error) {
    throw notWritten(folder, 'rasters', error);
  }
}
