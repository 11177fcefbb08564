import { zlibSync } from 'fflate';
import { Crc32 } from '../../elevation/bytes/crc32';

const signature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
/** Bytes of a chunk beside its data: length, name, checksum. */
const aroundChunk = 12;

/**
 * Tones as a PNG picture of 8 bits a pixel, without transparency (ISO/IEC 15948: colour type 0, no filter). The same bytes for
 * the same tones.
 *
 * @param tones - row by row from the top; 0 is black, 255 white.
 */
export function greyPng(tones: Uint8Array, width: number, height: number): Uint8Array {
  const rows = new Uint8Array((width + 1) * height);
  for (let row = 0; row < height; row++) {
    // the first byte of a row names its filter: none
    rows.set(tones.subarray(row * width, (row + 1) * width), row * (width + 1) + 1);
  }
  const head = new Uint8Array(13);
  const view = new DataView(head.buffer);
  view.setUint32(0, width);
  view.setUint32(4, height);
  head[8] = 8;
  const chunks = [
    chunk('IHDR', head),
    chunk('IDAT', zlibSync(rows, { level: 9 })),
    chunk('IEND', new Uint8Array(0)),
  ];
  const all = new Uint8Array(
    signature.length + chunks.reduce((sum, { length }) => sum + length, 0),
  );
  all.set(signature);
  let at = signature.length;
  for (const each of chunks) {
    all.set(each, at);
    at += each.length;
  }
  return all;
}

function chunk(name: string, data: Uint8Array): Uint8Array {
  const made = new Uint8Array(data.length + aroundChunk);
  const view = new DataView(made.buffer);
  view.setUint32(0, data.length);
  made.set(new TextEncoder().encode(name), 4);
  made.set(data, 8);
  const checksum = new Crc32().add(made.subarray(4, data.length + 8)).digits;
  view.setUint32(data.length + 8, Number.parseInt(checksum, 16));
  return made;
}
