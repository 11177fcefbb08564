import { throwIfCancelled } from '../../errors';
import { Crc32 } from '../bytes/crc32';
import type { ElevationFile } from './open-elevation';

/** Which file heights come from, as far as that can be told without reading all of an address. */
export interface ElevationIdentity {
  /** File name or address. */
  readonly name: string;
  readonly sizeBytes: number | null;
  /** Of all its bytes, eight hexadecimal digits; null where not all of them are at hand, or they are too many, or in several files. */
  readonly crc32: string | null;
}

/** Larger files are known by name and size alone, since reading one through takes seconds. A choice. */
const mostBytes = 200_000_000;
const pieceBytes = 4_000_000;

/**
 * Reads a file through for its checksum; of an address only what has been read tells its size.
 *
 * @throws {InputError} what reading throws. @throws {Cancelled} Cost: linear in the file, one piece of it at a time.
 */
export async function elevationIdentity(
  { raster: { name, bytes, parts } }: ElevationFile,
  isAtHand: boolean,
  signal?: AbortSignal,
): Promise<ElevationIdentity> {
  if (parts !== undefined) return { name, sizeBytes: null, crc32: null };
  const sizeBytes = bytes.fileSize;
  if (!isAtHand || sizeBytes === null || sizeBytes > mostBytes) {
    return { name, sizeBytes, crc32: null };
  }
  const sum = new Crc32();
  for (let offset = 0; offset < sizeBytes; offset += pieceBytes) {
    throwIfCancelled(signal);
    const length = Math.min(pieceBytes, sizeBytes - offset);
    const { data } = await bytes.fetchSlice({ offset, length }, signal);
    sum.add(new Uint8Array(data));
  }
  return { name, sizeBytes, crc32: sum.digits };
}
