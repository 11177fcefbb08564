import { readdir, readFile, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { InputError } from '../../../lib/errors';
import { mosaicOf } from '../../../lib/elevation/file/mosaic';
import { openElevation, type ElevationFile } from '../../../lib/elevation/file/open-elevation';

/** More files than this are not opened at once: each keeps a file open. Our choice. */
const mostFiles = 400;

/**
 * Opens what an elevation option names: a file, an address, a folder of adjoining GeoTIFFs, a virtual mosaic (.vrt), or several
 * files with commas between them.
 *
 * @throws {InputError} what opening and joining throw, `elevation-folder` for a folder that holds none.
 */
export async function openNamed(named: string): Promise<ElevationFile> {
  if (/^https?:\/\//i.test(named)) return openElevation({ name: named, url: named });
  const found = await stat(named).catch(() => null);
  if (found?.isDirectory() === true) return opened(await inFolder(named), basename(resolve(named)));
  if (/\.vrt$/i.test(named) && found !== null) {
    return opened(await inMosaic(named), basename(named));
  }
  if (found === null && named.includes(',')) {
    const paths = named.split(',').map((path) => path.trim());
    return opened(paths, paths.map((path) => basename(path)).join(', '));
  }
  return openElevation({ name: basename(named), path: named });
}

async function opened(paths: readonly string[], name: string): Promise<ElevationFile> {
  if (paths.length > mostFiles) {
    throw fault(
      name,
      `it has ${paths.length} files, more than the ${mostFiles} that are opened at once`,
      'join them with a GIS',
    );
  }
  const files: ElevationFile[] = [];
  for (const path of paths) files.push(await openElevation({ name: basename(path), path }));
  return mosaicOf(files, name);
}

async function inFolder(folder: string): Promise<string[]> {
  const names = (await readdir(folder)).filter((name) => /\.tiff?$/i.test(name)).sort();
  if (names.length > 0) return names.map((name) => join(folder, name));
  throw fault(folder, 'the folder holds no GeoTIFF (.tif)', 'name a folder of elevation files');
}

/** The files of a virtual mosaic, as paths. Where they lie their own headers say. */
async function inMosaic(path: string): Promise<string[]> {
  const text = await readFile(path, 'utf8');
  if (!/<VRTDataset/i.test(text)) throw fault(path, 'it is no virtual raster', 'name a GeoTIFF');
  if (/subClass="VRT(Warped|Pansharpened|Derived)/i.test(text)) {
    throw fault(path, 'it works its heights out from others', 'save it as a GeoTIFF with a GIS');
  }
  const sources = [...text.matchAll(/<SourceFilename([^>]*)>([^<]+)<\/SourceFilename>/gi)];
  const paths = sources.map(([, about, written]) => {
    const plain = written.trim().replaceAll('&amp;', '&');
    return /relativeToVRT="1"/i.test(about) ? join(dirname(path), plain) : plain;
  });
  const different = [...new Set(paths)];
  if (different.length > 0) return different;
  throw fault(path, 'it names no file', 'name a GeoTIFF or a folder of them');
}

function fault(where: string, problem: string, remedy: string): InputError {
  return new InputError({ code: 'elevation-files', where: basename(where), problem, remedy });
}
