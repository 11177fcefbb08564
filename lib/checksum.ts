import { sha256 } from '@noble/hashes/sha2';
import { bytesToHex } from '@noble/hashes/utils';

/** SHA-256 of bytes, or of a text in UTF-8, as 64 hexadecimal digits: as `sha256sum` gives it for the file. */
export function sha256Of(content: Uint8Array | string): string {
  return bytesToHex(sha256(content));
}
