/**
 * Checksum of bytes that come in pieces, as zip archives and PNG carry it: CRC-32, polynomial 0x04C11DB7 in reversed
 * order, ones before and after. It tells files apart that differ by accident, not by intent.
 *
 * Source: ITU-T Recommendation V.42 (2002), 8.1.1.6.2; ISO/IEC 15948:2004, annex D (from memory).
 */
export class Crc32 {
  #rest = 0xffffffff;

  /** Takes in the next bytes. Cost: four table reads for 4 bytes. */
  add(bytes: Uint8Array): this {
    let rest = this.#rest;
    const whole = bytes.length - (bytes.length % 4);
    let i = 0;
    for (; i < whole; i += 4) {
      rest ^= bytes[i] | (bytes[i + 1] << 8) | (bytes[i + 2] << 16) | (bytes[i + 3] << 24);
      rest =
        tables[768 + (rest & 0xff)] ^
        tables[512 + ((rest >>> 8) & 0xff)] ^
        tables[256 + ((rest >>> 16) & 0xff)] ^
        tables[rest >>> 24];
    }
    for (; i < bytes.length; i++) rest = (rest >>> 8) ^ tables[(rest ^ bytes[i]) & 0xff];
    this.#rest = rest;
    return this;
  }

  /** Of all that was taken in, as eight hexadecimal digits. */
  get digits(): string {
    return ((this.#rest ^ 0xffffffff) >>> 0).toString(16).padStart(8, '0');
  }
}

/** What each byte leaves, and what it leaves after one, two and three bytes more. */
const tables = makeTables();

function makeTables(): Uint32Array {
  const made = new Uint32Array(4 * 256);
  for (let byte = 0; byte < 256; byte++) {
    let rest = byte;
    for (let bit = 0; bit < 8; bit++) rest = (rest >>> 1) ^ (rest & 1 ? 0xedb88320 : 0);
    made[byte] = rest;
  }
  for (let i = 256; i < made.length; i++) {
    made[i] = (made[i - 256] >>> 8) ^ made[made[i - 256] & 0xff];
  }
  return made;
}
