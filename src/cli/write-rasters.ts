import { access, constants, mkdir, stat, writeFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import type { ResultRaster } from '../../lib/drainage/answer/result-rasters';
import type { Elevation } from '../../lib/elevation/window/read-window';
import { writeGeoTiff } from '../../lib/elevation/writing/write-geotiff';
import { InputError } from '../../lib/errors';
import { fileFault } from './file-fault';

/**
 * Makes sure that a folder is there or can be made, before any work is done for it; makes nothing.
 *
 * @throws {InputError} `rasters-not-written` when no folder can be there.
 */
export async function expectFolder(folder: string): Promise<void> {
  try {
    await access(await nearestFolder(resolve(folder)), constants.W_OK);
  } catch (error) {
    throw notWritten(folder, error);
  }
}

/** The folder itself, or the nearest above it that is there. */
async function nearestFolder(path: string): Promise<string> {
  const found = await stat(path).catch((error: unknown) => {
    if (isSystemError(error) && error.code === 'ENOENT' && dirname(path) !== path) return null;
    throw error;
  });
  if (found === null) return nearestFolder(dirname(path));
  if (found.isDirectory()) return path;
  throw Object.assign(new Error(`${path} is a file`), { code: 'ENOTDIR' });
}

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
    throw notWritten(folder, error);
  }
}

/** The refusal for what the system says about a folder; anything else is a mistake of ours and comes back as it is. */
function notWritten(folder: string, error: unknown): unknown {
  if (!isSystemError(error)) return error;
  return new InputError(
    {
      code: 'rasters-not-written',
      where: folder,
      problem: `the rasters cannot be written there: ${fileFault(error)}`,
      remedy: 'name a folder that may be written to',
    },
    { cause: error },
  );
}

function isSystemError(error: unknown): error is Error & { readonly code: unknown } {
  return error instanceof Error && 'code' in error;
}
