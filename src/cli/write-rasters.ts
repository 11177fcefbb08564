import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { ResultRaster } from '../../lib/drainage/result-rasters';
import type { Elevation } from '../../lib/elevation/read-window';
import { writeGeoTiff } from '../../lib/elevation/write-geotiff';
import { InputError } from '../../lib/errors';

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
  // A raster used cell for cell keeps its system; an interpolated one lies in the lot's own projection.
  const epsg = elevation.resampled ? null : elevation.systemCode;
  try {
    await mkdir(folder, { recursive: true });
    const paths: string[] = [];
    for (const { name, description, unit, heights, grid } of rasters) {
      const bytes = await writeGeoTiff(grid, {
        description,
        heights,
        unitDescription: unit,
        ...(epsg === null ? {} : { epsg }),
      });
      const path = join(folder, `${name}.tif`);
      await writeFile(path, bytes);
      paths.push(path);
    }
    return paths;
  } catch (error) {
    if (!(error instanceof Error) || !('code' in error)) throw error;
    throw new InputError(
      {
        code: 'rasters-not-written',
        where: folder,
        problem: `the rasters cannot be written there (${error.message.split(',')[0]})`,
        remedy: 'name a folder that may be written to',
      },
      { cause: error },
    );
  }
}
