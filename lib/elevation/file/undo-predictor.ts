import type { MaskLayout } from './raster';

/** Predictors of TIFF: differences between neighbours in a row, and the same over the bytes of floating point numbers. */
const HORIZONTAL = 2;
const FLOATING_POINT = 3;

/**
 * What undoes a layout's predictor in the bytes of an unpacked block, in place.
 *
 * In big-endian files, too, the floating point predictor's numbers are put together from the last plane of bytes to the
 * first: what comes out is then big-endian, as all else in the file (seen in files of another writer).
 *
 * Sources: TIFF 6.0 (Adobe, 1992), section 14; Adobe Photoshop TIFF Technical Note 3 (2005). From memory, checked
 * against files of another writer.
 */
export function predictorOf(layout: MaskLayout): (bytes: ArrayBuffer) => void {
  const samples = layout.bandsApart ? 1 : layout.bands;
  const rowBytes = layout.blockWidth * layout.bytesPerCell;
  if (layout.predictor !== 1 && layout.bits < 8) {
    throw new Error(`TIFF predictor ${layout.predictor} on ${layout.bits}-bit numbers`);
  }
  if (layout.predictor === HORIZONTAL) {
    return (bytes) => {
      addUp(bytes, rowBytes, samples, layout);
    };
  }
  if (layout.predictor !== FLOATING_POINT) return () => undefined;
  const row = new Uint8Array(rowBytes);
  return (bytes) => {
    for (let start = 0; start + rowBytes <= bytes.byteLength; start += rowBytes) {
      joinBytes(new Uint8Array(bytes, start, rowBytes), row, samples, layout.bits / 8);
    }
  };
}

function addUp(
  bytes: ArrayBuffer,
  rowBytes: number,
  samples: number,
  { bits, littleEndian }: MaskLayout,
): void {
  const size = bits / 8;
  const stride = samples * size;
  if (!littleEndian && size > 1) {
    const view = new DataView(bytes);
    for (let start = 0; start + rowBytes <= bytes.byteLength; start += rowBytes) {
      for (let at = start + stride; at < start + rowBytes; at += size) {
        if (size === 2) view.setUint16(at, view.getUint16(at) + view.getUint16(at - stride));
        else view.setUint32(at, view.getUint32(at) + view.getUint32(at - stride));
      }
    }
    return;
  }
  const whole = Math.floor(bytes.byteLength / size);
  const numbers =
    size === 1
      ? new Uint8Array(bytes, 0, whole)
      : size === 2
        ? new Uint16Array(bytes, 0, whole)
        : new Uint32Array(bytes, 0, whole);
  const perRow = rowBytes / size;
  for (let start = 0; start + perRow <= whole; start += perRow) {
    for (let i = start + samples; i < start + perRow; i++) numbers[i] += numbers[i - samples];
  }
}

/** Adds up a row's bytes, then puts those of each number together again, which lie in planes, the last byte's first. */
function joinBytes(bytes: Uint8Array, row: Uint8Array, samples: number, size: number): void {
  const numbers = bytes.length / size;
  if (samples === 1) {
    let sum = 0;
    for (let i = 0; i < bytes.length; i++) {
      sum = (sum + bytes[i]) & 255;
      row[i] = sum;
    }
  } else {
    row.set(bytes);
    for (let i = samples; i < row.length; i++) row[i] += row[i - samples];
  }
  if (size === 4) {
    const whole = new Uint32Array(bytes.buffer, bytes.byteOffset, numbers);
    const [second, third, lowest] = [numbers, 2 * numbers, 3 * numbers];
    for (let i = 0; i < numbers; i++) {
      whole[i] = (row[i] << 24) | (row[second + i] << 16) | (row[third + i] << 8) | row[lowest + i];
    }
    return;
  }
  for (let plane = 0; plane < size; plane++) {
    const from = plane * numbers;
    for (let i = 0, to = size - 1 - plane; i < numbers; i++, to += size) {
      bytes[to] = row[from + i];
    }
  }
}
