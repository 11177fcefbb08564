import type { FilePosition, FoundPart } from './found-layer';

/** Curves and surfaces have types of their own beyond these. */
const deepest = 10;

/**
 * The single parts of a geometry in well-known binary, in the forms of the standard (thousands for Z and M) and of older
 * programs (high bits). Source: OGC 06-103r4, from memory; the tests compare it with GDAL's.
 *
 * @returns `null` for curves and other types that are not read.
 * @throws {RangeError} where it is cut.
 */
export function partsInWkb(bytes: Uint8Array): FoundPart[] | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 0;
  const parts: FoundPart[] = [];
  return geometry(0) ? parts : null;

  function geometry(depth: number): boolean {
    const little = view.getUint8(at++) === 1;
    const word = count(little);
    const plain = word & 0x0fffffff;
    const type = plain % 1000;
    const set = Math.floor(plain / 1000);
    const hasZ = (word & 0x80000000) !== 0 || set === 1 || set === 3;
    const hasM = (word & 0x40000000) !== 0 || set === 2 || set === 3;
    if ((word & 0x20000000) !== 0) at += 4;
    const position = (): FilePosition => {
      const x = double(little);
      const y = double(little);
      const z = hasZ ? [double(little)] : [];
      if (hasM) double(little);
      return [x, y, ...z];
    };
    const line = (): FilePosition[] => list(little, position);
    if (type === 1) {
      const coordinates = position();
      // An empty point is written as one without numbers.
      if (Number.isFinite(coordinates[0])) parts.push({ type: 'Point', coordinates });
      return true;
    }
    if (type === 2) {
      parts.push({ type: 'LineString', coordinates: line() });
      return true;
    }
    if (type === 3) {
      parts.push({ type: 'Polygon', coordinates: list(little, line) });
      return true;
    }
    if (type < 4 || type > 7 || depth > deepest) return false;
    return list(little, () => geometry(depth + 1)).every(Boolean);
  }

  function list<T>(little: boolean, read: () => T): T[] {
    const length = count(little);
    if (length > bytes.length) throw new RangeError('count');
    return Array.from({ length }, read);
  }
  function count(little: boolean): number {
    at += 4;
    return view.getUint32(at - 4, little);
  }
  function double(little: boolean): number {
    at += 8;
    return view.getFloat64(at - 8, little);
  }
}
