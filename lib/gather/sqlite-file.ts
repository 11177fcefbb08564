/**
 * Reads tables of an SQLite database file, and nothing more: no indexes, no queries, no writing. Source: the format as its
 * authors publish it (database file format 3), from memory; the tests compare what is read with GDAL's reading.
 */

/** A value as it is stored. */
export type Stored = number | string | Uint8Array | null;

/** A table by its columns' names, in order. */
export interface SqliteTable {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly Stored[])[];
}

/** How such a file begins. */
export const sqliteStart = 'SQLite format 3\0';

const headerLength = 100;
/** Places in a row of the schema, its number counted. */
const ROOT_PAGE = 4;
const SQL = 5;
const leafTable = 13;
const innerTable = 5;
/** Trees of pages are a few levels deep; one that is deeper goes in a circle. */
const deepest = 40;

/** Opens the file; gives a function that reads a table by its name, `null` where there is none. @throws {RangeError} where the file is cut or damaged. */
export function openSqlite(bytes: Uint8Array): (name: string) => SqliteTable | null {
  const pages = new Pages(bytes);
  const schema = pages.tree(1);
  return (name) => {
    const entry = schema.find(
      ([, type, , table]) => type === 'table' && String(table).toLowerCase() === name.toLowerCase(),
    );
    if (entry === undefined) return null;
    const { columns, rowIdAt } = columnsIn(String(entry[SQL]));
    const rows = pages.tree(Number(entry[ROOT_PAGE])).map(([rowId, ...stored]) =>
      // The row's own number stands for its key, which is stored as nothing.
      columns.map((_, i) => (i === rowIdAt ? rowId : (stored[i] ?? null))),
    );
    return { columns, rows };
  };
}

/** The pages of a file and the rows in them. */
class Pages {
  readonly #bytes: Uint8Array;
  readonly #view: DataView;
  readonly #size: number;
  /** What of a page its records may use. */
  readonly #usable: number;
  readonly #text: TextDecoder;
  #read = 0;

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const written = this.#view.getUint16(16);
    this.#size = written === 1 ? 65_536 : written;
    if (this.#size < 512) throw new RangeError('page size');
    this.#usable = this.#size - bytes[20];
    const encodings = ['utf-8', 'utf-8', 'utf-16le', 'utf-16be'];
    this.#text = new TextDecoder(encodings[this.#view.getUint32(56)] ?? 'utf-8');
  }

  /** Rows of the tree whose first page is given, each with its number first. */
  tree(root: number): Stored[][] {
    this.#read = 0;
    return this.#rowsBelow(root, 0);
  }

  #rowsBelow(page: number, depth: number): Stored[][] {
    // Each page belongs to one place in one tree.
    if (depth > deepest || ++this.#read > this.#bytes.length / this.#size) {
      throw new RangeError('pages in a circle');
    }
    const view = this.#view;
    const start = (page - 1) * this.#size;
    const head = start + (page === 1 ? headerLength : 0);
    const type = view.getUint8(head);
    const isInner = type === innerTable;
    const count = view.getUint16(head + 3);
    if (!isInner && type !== leafTable && count > 0) throw new RangeError('page type');
    const cells = head + (isInner ? 12 : 8);
    const places = Array.from({ length: count }, (_, i) => start + view.getUint16(cells + 2 * i));
    if (!isInner) return places.map((at) => this.#rowAt(at));
    return [...places, head + 8].flatMap((at) => this.#rowsBelow(view.getUint32(at), depth + 1));
  }

  #rowAt(at: number): Stored[] {
    const [length, afterLength] = varint(this.#bytes, at);
    const [rowId, from] = varint(this.#bytes, afterLength);
    const record = this.#payload(from, length);
    const inner = new DataView(record.buffer, record.byteOffset, record.byteLength);
    const [headLength, first] = varint(record, 0);
    const row: Stored[] = [rowId];
    let body = headLength;
    for (let head = first; head < headLength;) {
      const [type, next] = varint(record, head);
      const size = sizeOf(type);
      if (body + size > record.length) throw new RangeError('record');
      row.push(type < 12 ? numberOf(type, inner, body) : this.#partOf(type, record, body, size));
      body += size;
      head = next;
    }
    return row;
  }

  /** The bytes of a record, with those that did not find room in its page. */
  #payload(from: number, length: number): Uint8Array {
    const bytes = this.#bytes;
    const most = this.#usable - 35;
    if (length > bytes.length) throw new RangeError('record');
    if (length <= most) return bytes.subarray(from, from + length);
    const least = Math.floor(((this.#usable - 12) * 32) / 255) - 23;
    const wished = least + ((length - least) % (this.#usable - 4));
    const here = wished <= most ? wished : least;
    const whole = new Uint8Array(length);
    whole.set(bytes.subarray(from, from + here));
    let page = this.#view.getUint32(from + here);
    for (let got = here; got < length;) {
      const start = (page - 1) * this.#size;
      const most = Math.min(this.#usable - 4, length - got);
      const part = bytes.subarray(start + 4, start + 4 + most);
      if (page === 0 || part.length === 0) throw new RangeError('overflow page');
      whole.set(part, got);
      got += part.length;
      page = this.#view.getUint32(start);
    }
    return whole;
  }

  #partOf(type: number, record: Uint8Array, at: number, size: number): Stored {
    const part = record.subarray(at, at + size);
    return type % 2 === 0 ? part : this.#text.decode(part);
  }
}

function numberOf(type: number, record: DataView, at: number): number | null {
  switch (type) {
    case 1:
      return record.getInt8(at);
    case 2:
      return record.getInt16(at);
    case 3:
      return record.getInt8(at) * 65_536 + record.getUint16(at + 1);
    case 4:
      return record.getInt32(at);
    case 5:
      return record.getInt16(at) * 4_294_967_296 + record.getUint32(at + 2);
    case 6:
      return Number(record.getBigInt64(at));
    case 7:
      return record.getFloat64(at);
    case 8:
      return 0;
    case 9:
      return 1;
    default:
      return null;
  }
}

function sizeOf(type: number): number {
  if (type >= 12) return (type - (type % 2 === 0 ? 12 : 13)) / 2;
  return [0, 1, 2, 3, 4, 6, 8, 8, 0, 0][type] ?? 0;
}

/** A number in one to nine bytes, and where the next thing is. Beyond 2^53 digits are lost, which only odd row numbers have. */
function varint(bytes: Uint8Array, at: number): [value: number, next: number] {
  let value = 0;
  for (let i = 0; i < 8; i++) {
    const byte = bytes[at + i];
    if (byte === undefined) throw new RangeError('number');
    value = value * 128 + (byte & 127);
    if (byte < 128) return [value, at + i + 1];
  }
  return [value * 256 + bytes[at + 8], at + 9];
}

/** Names of a table's columns from the words that made it, and which of them is the row's own number. */
function columnsIn(sql: string): { columns: string[]; rowIdAt: number } {
  const inside = sql.slice(sql.indexOf('(') + 1, sql.lastIndexOf(')'));
  const columns: string[] = [];
  let rowIdAt = -1;
  for (const part of splitOutside(inside)) {
    const name = /^\s*(?:"((?:[^"]|"")+)"|\[([^\]]+)\]|`([^`]+)`|([^\s"[`]+))/.exec(part);
    if (name === null) continue;
    const isQuoted = name[4] === undefined;
    if (!isQuoted && /^(constraint|primary|unique|check|foreign)$/i.test(name[4])) continue;
    if (/\binteger\b[^,]*\bprimary\s+key\b/i.test(part)) rowIdAt = columns.length;
    columns.push(isQuoted ? (name[1]?.replaceAll('""', '"') ?? name[2] ?? name[3]) : name[4]);
  }
  return { columns, rowIdAt };
}

/** Splits at commas that stand in no brackets and no quotes. */
function splitOutside(text: string): string[] {
  const parts: string[] = [];
  let depth = 0;
  let quote = '';
  let from = 0;
  for (let i = 0; i < text.length; i++) {
    const sign = text[i];
    if (quote !== '') {
      if (sign === quote) quote = '';
    } else if (sign === '"' || sign === "'" || sign === '`') quote = sign;
    else if (sign === '(') depth++;
    else if (sign === ')') depth--;
    else if (sign === ',' && depth === 0) {
      parts.push(text.slice(from, i));
      from = i + 1;
    }
  }
  return [...parts, text.slice(from)];
}
