const CLEAR = 256;
const END = 257;
const FIRST_FREE = 258;
const MOST_CODES = 4096;

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
  // A code's string is that of its prefix and one more byte; kept with its length, it is written back to front.
  const prefix = new Uint16Array(MOST_CODES);
  const last = new Uint8Array(MOST_CODES);
  const length = new Uint16Array(MOST_CODES);
  for (let code = 0; code < CLEAR; code++) {
    last[code] = code;
    length[code] = 1;
  }
  let next = FIRST_FREE;
  let width = 9;
  let previous = -1;
  let filled = 0;
  let bits = 0;
  let held = 0;
  let at = 0;
  while (filled < lengthBytes) {
    while (held < width) {
      if (at >= packed.length) return out.subarray(0, filled);
      bits = ((bits << 8) | packed[at++]) & 0xffffff;
      held += 8;
    }
    held -= width;
    const code = (bits >> held) & ((1 << width) - 1);
    if (code === END) break;
    if (code === CLEAR) {
      next = FIRST_FREE;
      width = 9;
      previous = -1;
      continue;
    }
    if (previous === -1) {
      if (code > 255) throw new Error(`LZW code ${code} where a string must begin`);
      out[filled++] = code;
      previous = code;
      continue;
    }
    if (code > next) throw new Error(`LZW code ${code} before it is defined`);
    // A code not yet in the table is the previous string and its own first byte.
    const isNew = code === next;
    const stringLength = isNew ? length[previous] + 1 : length[code];
    const end = filled + stringLength;
    let string = isNew ? previous : code;
    let first = 0;
    for (let i = isNew ? end - 2 : end - 1; i >= filled; i--) {
      first = last[string];
      // Beyond the end a typed array takes no value, which is what is wanted.
      out[i] = first;
      string = prefix[string];
    }
    if (isNew) out[end - 1] = first;
    if (next < MOST_CODES) {
      prefix[next] = previous;
      last[next] = first;
      length[next] = length[previous] + 1;
      next++;
      if (next + 1 >= 1 << width && width < 12) width++;
    }
    filled = Math.min(end, lengthBytes);
    previous = code;
  }
  return out.subarray(0, filled);
}
