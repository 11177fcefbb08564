import { unzipSync } from 'fflate';
import type { GivenFile } from './found-layer';
import { refused } from './refused';

/** As much as is unpacked of one archive, bytes. Own choice: what a county's parcels take, twice over. */
export const mostUnpacked = 400 * 1024 * 1024;
const mostFiles = 10_000;

/**
 * Unpacks those files of an archive whose names end in one of the endings given. What they would take is added up from
 * the archive's list before anything is unpacked, and no file is unpacked beyond what the list says of it. Names are
 * only ever names: nothing is written.
 *
 * @throws {InputError} `gather-zip`, `gather-zip-large`, `gather-zip-locked`.
 */
export function openZip(
  { name: file, bytes }: GivenFile,
  endings: readonly string[],
): Map<string, Uint8Array> {
  let unpacked = 0;
  let files = 0;
  let refusal: Error | undefined;
  const wanted = ({ name, originalSize }: { name: string; originalSize: number }): boolean => {
    if (++files > mostFiles) {
      refusal ??= tooLarge(file, `it holds more than ${mostFiles} files`);
    }
    // What one system adds to archives about their files, and not a file of anybody's.
    if (name.startsWith('__MACOSX/') || name.split('/').at(-1)?.startsWith('.') === true)
      return false;
    if (!endings.includes(endingOf(name))) return false;
    unpacked += originalSize;
    if (unpacked > mostUnpacked) {
      refusal ??= tooLarge(
        file,
        `unpacked it would take more than ${Math.round(mostUnpacked / 2 ** 20)} MB`,
      );
    }
    return refusal === undefined;
  };
  let found: Record<string, Uint8Array>;
  try {
    found = unzipSync(bytes, { filter: wanted });
  } catch (cause) {
    if (isLocked(bytes)) {
      throw refused(
        file,
        'zip-locked',
        'the archive is locked with a password',
        'unpack it first',
        cause,
      );
    }
    throw damaged(file, cause);
  }
  if (refusal !== undefined) throw refusal;
  return new Map(Object.entries(found));
}

/** The names of the files in an archive. @throws {InputError} `gather-zip`. */
export function namesInZip({ name: file, bytes }: GivenFile): string[] {
  const names: string[] = [];
  try {
    unzipSync(bytes, {
      filter({ name }) {
        names.push(name);
        return false;
      },
    });
  } catch (cause) {
    throw damaged(file, cause);
  }
  return names;
}

function damaged(file: string, cause: unknown): Error {
  const remedy = 'get it again from where it came';
  return refused(file, 'zip', 'the archive is cut or damaged', remedy, cause);
}

/** The ending of a name in small letters, without its dot. */
export function endingOf(name: string): string {
  return /\.([^./\\]+)$/.exec(name)?.[1].toLowerCase() ?? '';
}

function tooLarge(file: string, problem: string): Error {
  return refused(file, 'zip-large', problem, 'pack only the layers around the lot');
}

/** Whether the first file's flags say that it is encrypted (bit 0; PKWARE's description of the format, from memory). */
function isLocked(bytes: Uint8Array): boolean {
  return (bytes[6] & 1) === 1;
}
