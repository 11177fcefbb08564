const CLEAR = 256;
const END = 257;
const FIRST_FREE = 258;
/** So many strings make all codes there can be: each code after the first free one stands for a string and a byte more. */
const MOST_STRINGS = 4096 - FIRST_FREE + 1;
/**
 * Where in the output each string since the last clearing begins. A new code stands for one of them and the first byte of
 * the next: both are in the output, one behind the other, so its bytes run from one place here to the following.
 */
const starts = new Int32Array(MOST_STRINGS);

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
 * Cost: linear; 15 kB and a copy of the input beside the output.
 * Source: TIFF 6.0 (Adobe, 1992), section 13; from memory, checked against files of another writer.
 */
export function unpackLzw(packed: Uint8Array, lengthBytes: number): Uint8Array<ArrayBuffer> {
  const out = new Uint8Array(lengthBytes);
  // A code lies in the four bytes from where it begins, three of which may be beyond the end.
  const input = new Uint8Array(packed.length + 3);
  input.set(packed);
  const codes = new DataView(input.buffer);
  const endBit = 8 * packed.length;
  let count = 0;
  let width = 9;
  let widensAt = (1 << 9) - FIRST_FREE;
  let filled = 0;
  let bit = 0;
  while (filled < lengthBytes) {
    if (bit + width > endBit) break;
    const code = (codes.getInt32(bit >> 3) << (bit & 7)) >>> (32 - width);
    bit += width;
    if (code < CLEAR) {
      if (count < MOST_STRINGS) starts[count++] = filled;
      out[filled++] = code;
    } else if (code > END) {
      const string = code - FIRST_FREE;
      if (string >= count) throw new Error(`LZW code ${code} before it is defined`);
      if (count < MOST_STRINGS) starts[count++] = filled;
      let from = starts[string];
      const last = starts[string + 1];
      const stop = lengthBytes - filled + from;
      const end = last < stop ? last : stop - 1;
      do out[filled++] = out[from++];
      while (from <= end);
    } else {
      if (code === END) break;
      count = 0;
      width = 9;
      widensAt = (1 << 9) - FIRST_FREE;
      continue;
    }
    if (count === widensAt && width < 12) {
      width++;
      widensAt = (1 << width) - FIRST_FREE;
    }
  }
  return out.subarray(0, filled);
}
