const CLEAR = 256;
const END = 257;
const FIRST_FREE = 258;
const MOST_CODES = 4096;
/** Where in the output each code's string begins and how long it is; filled anew by each block. */
const starts = new Int32Array(MOST_CODES);
const lengths = new Int32Array(MOST_CODES);

/**
 * Unpacks TIFF's LZW: codes of 9 to 12 bits, highest bit first, the width growing one code early.
 *
 * Unpacks no more than asked for and reads no more than is there, so damaged input costs no more than sound
 * input does; it ends early or throws.
 *
 * @param packed - one strip or tile.
 * @param lengthBytes - bytes that it must unpack to.
 * @returns as many bytes as could be unpacked, at most `lengthBytes`.
 * @throws {Error} on a code that no sound stream holds there.
 * Cost: linear; 12 kB beside the output.
 * Source: TIFF 6.0 (Adobe, 1992), section 13; from memory, checked against files of another writer.
 */
export function unpackLzw(packed: Uint8Array, lengthBytes: number): Uint8Array<ArrayBuffer> {
  const out = new Uint8Array(lengthBytes);
  // A new code stands for the string before and the first byte after it: both are in the output, one behind the other.
  let next = FIRST_FREE;
  let width = 9;
  let previousStart = -1;
  let previousLength = 0;
  let filled = 0;
  // A code lies in the three bytes from where it begins, two of which may be beyond the end.
  const input = new Uint8Array(packed.length + 2);
  input.set(packed);
  const endBit = 8 * packed.length;
  for (let bit = 0; filled < lengthBytes;) {
    if (bit + width > endBit) break;
    const at = bit >> 3;
    const three = (input[at] << 16) | (input[at + 1] << 8) | input[at + 2];
    const code = (three >> (24 - (bit & 7) - width)) & ((1 << width) - 1);
    bit += width;
    if (code === END) break;
    if (code === CLEAR) {
      next = FIRST_FREE;
      width = 9;
      previousStart = -1;
      continue;
    }
    if (previousStart !== -1 && next < MOST_CODES) {
      starts[next] = previousStart;
      lengths[next] = previousLength + 1;
      next++;
      if (next + 1 >= 1 << width && width < 12) width++;
    }
    if (code >= next) throw new Error(`LZW code ${code} before it is defined`);
    previousStart = filled;
    if (code < CLEAR) {
      out[filled++] = code;
      previousLength = 1;
      continue;
    }
    previousLength = lengths[code];
    const end = Math.min(filled + previousLength, lengthBytes);
    for (let from = starts[code]; filled < end; from++, filled++) out[filled] = out[from];
  }
  return out.subarray(0, filled);
}
