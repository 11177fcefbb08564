import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { InputError } from '../../../lib/errors';
import type { GivenFile } from '../../../lib/gather/found-layer';
import { fileFault } from './file-fault';

/** Reads a file, and of a bare `.shp` what lies beside it under the same name. */
export async function givenFile(path: string): Promise<GivenFile> {
  let bytes: Uint8Array;
  try {
    bytes = await readFile(path);
  } catch (error) {
    throw new InputError(
      {
        code: 'file-not-read',
        where: path,
        problem: `it cannot be read: ${fileFault(error)}`,
        remedy: 'check its name and folder',
      },
      { cause: error },
    );
  }
  const name = basename(path);
  if (!/\.shp$/i.test(name)) return { name, bytes };
  const beside = new Map<string, Uint8Array>();
  for (const ending of ['dbf', 'prj', 'cpg']) {
    for (const written of [ending, ending.toUpperCase()]) {
      const found = await readFile(path.replace(/shp$/i, written)).catch(() => null);
      if (found !== null) beside.set(ending, found);
    }
  }
  return { name, bytes, beside };
}
