import type { ByteReader } from './byte-source';
import { InputError } from '../../errors';

/** A packed block up to this length costs less to unpack at once than to hand to another thread and back. */
const SMALL_BLOCK_BYTES = 32 * 1024;
const LONGEST_CHUNK_BYTES = 1024 * 1024;

/**
 * Reads a file by its path, outside the browser. Node's modules are loaded only when this is called, so that a
 * browser bundle never needs them. Each read opens and closes the file: nothing stays open.
 *
 * @throws {InputError} `elevation-not-found` when there is no readable file.
 */
export async function nodeFileBytes(path: string): Promise<ByteReader> {
  const { open, stat } = await import('node:fs/promises');
  const zlib = await import('node:zlib');
  const found = await stat(path).catch((cause: unknown) => {
    throw notReadable(path, cause);
  });
  if (!found.isFile()) throw notReadable(path, undefined);
  return {
    sizeBytes: found.size,
    inflate(packed, mostBytes) {
      const options = {
        maxOutputLength: mostBytes,
        chunkSize: Math.max(64, Math.min(mostBytes, LONGEST_CHUNK_BYTES)),
      };
      if (packed.length <= SMALL_BLOCK_BYTES) return zlib.inflateSync(packed, options);
      return new Promise((resolve, reject) => {
        zlib.inflate(packed, options, (error, bytes) => {
          if (error === null) resolve(bytes);
          else reject(error);
        });
      });
    },
    async read(offset, length) {
      const handle = await open(path, 'r').catch((cause: unknown) => {
        throw notReadable(path, cause);
      });
      try {
        const bytes = new Uint8Array(length);
        let filled = 0;
        while (filled < length) {
          const { bytesRead } = await handle.read(bytes, filled, length - filled, offset + filled);
          if (bytesRead === 0) break;
          filled += bytesRead;
        }
        return filled === length ? bytes.buffer : bytes.buffer.slice(0, filled);
      } finally {
        await handle.close();
      }
    },
  };
}

function notReadable(path: string, cause: unknown): InputError {
  return new InputError(
    {
      code: 'elevation-not-found',
      where: path,
      problem: 'there is no file of that name that can be read',
      remedy: 'check the path',
    },
    { cause },
  );
}
