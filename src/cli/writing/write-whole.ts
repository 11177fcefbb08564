import { createHash } from 'node:crypto';
import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { notWritten } from '../reading/folder';

const manifestName = 'manifest.json';

/**
 * Writes files into a folder, which is made when it is not there: each under another name first, so that no file that
 * looks finished is half of one, and last of all a manifest with the size and checksum of each.
 *
 * @returns the paths written.
 * @throws {InputError} `files-not-written` when the folder cannot be written to.
 */
export async function writeWhole(
  folder: string,
  files: Readonly<Record<string, string | Uint8Array>>,
): Promise<string[]> {
  const listed = Object.entries(files).map(([name, text]) => ({
    name,
    bytes: Buffer.byteLength(text),
    sha256: createHash('sha256').update(text).digest('hex'),
  }));
  const manifest = `${JSON.stringify({ files: listed }, null, 1)}\n`;
  try {
    await mkdir(folder, { recursive: true });
    // a manifest of an earlier run would vouch for files that are half of this one
    await rm(join(folder, manifestName), { force: true });
    const paths: string[] = [];
    for (const [name, text] of [...Object.entries(files), [manifestName, manifest] as const]) {
      const path = join(folder, name);
      await writeFile(`${path}.part`, text);
      await rename(`${path}.part`, path);
      paths.push(path);
    }
    return paths;
  } catch (error) {
    throw notWritten(folder, 'files', error);
  }
}
