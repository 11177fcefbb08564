import { access, constants, stat } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { InputError } from '../../../lib/errors';
import { fileFault } from './file-fault';

/**
 * Makes sure that a folder is there or can be made, before any work is done for it; makes nothing.
 *
 * @param what - what is to be written there, in the plural.
 * @throws {InputError} `rasters-not-written`, or of what else, when no folder can be there.
 */
export async function expectFolder(folder: string, what = 'rasters'): Promise<void> {
  try {
    await access(await nearestFolder(resolve(folder)), constants.W_OK);
  } catch (error) {
    throw notWritten(folder, what, error);
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

/** The refusal for what the system says about a folder; anything else is a mistake of ours and comes back as it is. */
export function notWritten(folder: string, what: string, error: unknown): unknown {
  if (!isSystemError(error)) return error;
  return new InputError(
    {
      code: `${what}-not-written`,
      where: folder,
      problem: `the ${what} cannot be written there: ${fileFault(error)}`,
      remedy: 'name a folder that may be written to',
    },
    { cause: error },
  );
}

function isSystemError(error: unknown): error is Error & { readonly code: unknown } {
  return error instanceof Error && 'code' in error;
}
