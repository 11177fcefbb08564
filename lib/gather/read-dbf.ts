import { decodeText } from './decode-text';
import type { Cell } from './found-layer';

/** A field of a dBASE table: name, type, place in a row. */
interface Field {
  readonly name: string;
  readonly type: string;
  readonly from: number;
  readonly to: number;
}

const headerLength = 32;

/**
 * The rows of a dBASE III table, as shapefiles have it beside their shapes; a row that is marked as deleted is kept, so
 * that rows and shapes stay side by side. `null` where the bytes are no such table, or cut before their first row.
 *
 * @param encoding - what a `.cpg` says; the table's own language byte is not looked at.
 * Source: layout of the header and of field descriptors from memory; the tests compare it with GDAL's.
 */
export function readDbf(
  bytes: Uint8Array,
  encoding: string | undefined,
): Record<string, Cell>[] | null {
  if (bytes.length < headerLength) return null;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const first = view.getUint16(8, true);
  const rowLength = view.getUint16(10, true);
  if (first < headerLength || first > bytes.length || rowLength < 1) return null;
  const fields = fieldsOf(bytes, first, encoding);
  const rows: Record<string, Cell>[] = [];
  const count = Math.min(view.getUint32(4, true), Math.floor((bytes.length - first) / rowLength));
  for (let row = 0; row < count; row++) {
    const at = first + row * rowLength;
    const cells: Record<string, Cell> = {};
    for (const { name, type, from, to } of fields) {
      cells[name] = cellOf(type, decodeText(bytes.subarray(at + from, at + to), encoding).text);
    }
    rows.push(cells);
  }
  return rows;
}

function fieldsOf(bytes: Uint8Array, end: number, encoding: string | undefined): Field[] {
  const fields: Field[] = [];
  let from = 1;
  for (let at = headerLength; at + 32 <= end && bytes[at] !== 0x0d; at += 32) {
    const raw = bytes.subarray(at, at + 11);
    const stop = raw.indexOf(0);
    const name = decodeText(stop < 0 ? raw : raw.subarray(0, stop), encoding).text.trim();
    const to = from + bytes[at + 16];
    fields.push({ name, type: String.fromCharCode(bytes[at + 11]), from, to });
    from = to;
  }
  return fields;
}

function cellOf(type: string, raw: string): Cell {
  const text = raw.replaceAll('\0', '').trim();
  if (text === '' || /^\*+$/.test(text)) return null;
  if (type === 'N' || type === 'F') {
    const value = Number(text);
    return Number.isFinite(value) ? value : null;
  }
  if (type === 'L') return /^[ty]$/i.test(text) ? true : /^[fn]$/i.test(text) ? false : null;
  if (type === 'D') return text.replace(/^(\d{4})(\d\d)(\d\d)$/, '$1-$2-$3');
  return text;
}
