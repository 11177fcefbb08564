import { readFile } from 'node:fs/promises';
import { InputError } from '../../../lib/errors';
import { fileFault } from './file-fault';

/**
 * Reads a text file that the call names.
 *
 * @param what - as the sentence calls it: 'the plan'.
 * @param remedy - what to do where it cannot be read.
 * @throws {InputError} `file-not-read`
 */
export async function readText(
  path: string,
  what: string,
  remedy = 'check its name and folder',
): Promise<string> {
  try {
    return await readFile(path, 'utf8');
  } catch (error) {
    throw new InputError(
      {
        code: 'file-not-read',
        where: path,
        problem: `${what} cannot be read: ${fileFault(error)}`,
        remedy,
      },
      { cause: error },
    );
  }
}
