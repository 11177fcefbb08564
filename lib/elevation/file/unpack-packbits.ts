/**
 * Unpacks PackBits: a count byte, then that many bytes as they are, or one byte to repeat.
 *
 * @param lengthBytes - bytes that it must unpack to; no more are made, whatever the input says.
 * @returns as many bytes as could be unpacked.
 * Source: TIFF 6.0 (Adobe, 1992), section 9; from memory, checked against files of another writer.
 */
export function unpackPackBits(packed: Uint8Array, lengthBytes: number): Uint8Array<ArrayBuffer> {
  const out = new Uint8Array(lengthBytes);
  let filled = 0;
  let at = 0;
  while (filled < lengthBytes && at < packed.length) {
    const count = packed[at++];
    if (count === 128) continue;
    if (count < 128) {
      const take = Math.min(count + 1, lengthBytes - filled, packed.length - at);
      out.set(packed.subarray(at, at + take), filled);
      at += take;
      filled += take;
    } else {
      if (at >= packed.length) break;
      const end = Math.min(filled + 257 - count, lengthBytes);
      out.fill(packed[at++], filled, end);
      filled = end;
    }
  }
  return out.subarray(0, filled);
}
