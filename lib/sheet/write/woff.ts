import { zlibSync } from 'fflate';

/** Length of a WOFF header and of an entry of its directory, bytes. */
const headerLength = 44;
const entryLength = 20;

/**
 * A TrueType font wrapped as WOFF: the same tables, each deflated. World Wide Web Consortium, WOFF File Format 1.0 (2012),
 * from memory.
 */
export function woffOf(font: Uint8Array): Uint8Array {
  const from = new DataView(font.buffer, font.byteOffset, font.byteLength);
  const count = from.getUint16(4);
  const tables = Array.from({ length: count }, (_, i) => {
    const entry = 12 + 16 * i;
    const offset = from.getUint32(entry + 8);
    const length = from.getUint32(entry + 12);
    const plain = font.subarray(offset, offset + length);
    const packed = zlibSync(plain, { level: 9 });
    return {
      tag: from.getUint32(entry),
      sum: from.getUint32(entry + 4),
      length,
      bytes: packed.length < length ? packed : plain,
    };
  });
  const start = headerLength + entryLength * count;
  const total = tables.reduce((sum, { bytes }) => sum + padded(bytes.length), start);
  const made = new Uint8Array(total);
  const to = new DataView(made.buffer);
  to.setUint32(0, 0x774f4646);
  to.setUint32(4, from.getUint32(0));
  to.setUint32(8, total);
  to.setUint16(12, count);
  to.setUint32(
    16,
    tables.reduce((sum, { length }) => sum + padded(length), 12 + 16 * count),
  );
  to.setUint16(20, 1);
  let offset = start;
  tables.forEach(({ tag, sum, length, bytes }, i) => {
    const entry = headerLength + entryLength * i;
    to.setUint32(entry, tag);
    to.setUint32(entry + 4, offset);
    to.setUint32(entry + 8, bytes.length);
    to.setUint32(entry + 12, length);
    to.setUint32(entry + 16, sum);
    made.set(bytes, offset);
    offset += padded(bytes.length);
  });
  return made;
}

/** Tables begin at multiples of four bytes. */
function padded(length: number): number {
  return Math.ceil(length / 4) * 4;
}
