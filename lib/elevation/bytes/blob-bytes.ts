import type { ByteReader } from './byte-source';

/** Reads a file that the user chose, or any other blob. Nothing is read before it is asked for. */
export function blobBytes(blob: Blob): ByteReader {
  return {
    sizeBytes: blob.size,
    read: (offset, length) => blob.slice(offset, offset + length).arrayBuffer(),
  };
}
