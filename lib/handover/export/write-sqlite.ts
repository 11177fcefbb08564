import { Bytes } from './write-bytes';

/** A value as it is stored; whole numbers and others are told apart. */
export type StoredValue = number | string | Uint8Array | null;

/** A table with its rows in the order of their numbers, each number first; or the index that a constraint makes by itself. */
export type SqliteEntry =
  | {
      readonly type: 'table';
      readonly name: string;
      readonly sql: string;
      readonly rows: readonly (readonly [rowId: number, ...values: StoredValue[]])[];
    }
  | {
      readonly type: 'index';
      readonly name: string;
      readonly table: string;
      /** Keys in the order of their bytes, the number of the row last. */
      readonly keys: readonly (readonly [...keys: string[], rowId: number])[];
    };

export interface SqliteHeader {
  readonly applicationId: number;
  readonly userVersion: number;
}

const pageSize = 4096;
const headerLength = 100;
const leafTable = 13;
const innerTable = 5;
const leafIndex = 10;
/** The version of the library that this stands in for: any recent one. */
const libraryVersion = 3_040_000;
/** Of what is left of a page without its own figures, a record may use so much before it runs over. */
const mostLocal = pageSize - 35;
const leastLocal = Math.floor(((pageSize - 12) * 32) / 255) - 23;
const overflowRoom = pageSize - 4;

/**
 * Tables as an SQLite database file (file format 3), written at once and closed. Source: the format as its authors publish it,
 * from memory; GDAL, which has their library in it, reads it in the tests.
 *
 * Limits: the keys of an index must fit one page, which some forty names do.
 */
export function sqliteFile(entries: readonly SqliteEntry[], header: SqliteHeader): Uint8Array {
  const pages = new PageWriter();
  const schema = entries.map((entry, i): [number, ...StoredValue[]] => {
    const root = entry.type === 'table' ? pages.table(entry.rows) : pages.index(entry.keys);
    const table = entry.type === 'table' ? entry.name : entry.table;
    return [i + 1, entry.type, entry.name, table, root, entry.type === 'table' ? entry.sql : null];
  });
  pages.table(schema, 1);
  return pages.file(header);
}

/** Pages by number, the first one kept free for the schema. */
class PageWriter {
  readonly #pages: Uint8Array[] = [new Uint8Array(pageSize)];

  /** Writes a table's tree. @returns its root page. */
  table(rows: readonly (readonly [number, ...StoredValue[]])[], at?: number): number {
    const cells = rows.map(([rowId, ...values]) => ({ rowId, cell: this.#rowCell(rowId, values) }));
    let level = packed(cells, leafTable, at === 1 ? headerLength : 0);
    let type = leafTable;
    while (level.length > 1) {
      const children = level.map((group) => {
        const page = this.#put(
          type,
          group.map(({ cell }) => cell),
        );
        return { page, rowId: group[group.length - 1].rowId };
      });
      const last = children[children.length - 1];
      const inner = children.map(({ page, rowId }) => ({
        rowId,
        cell: new Bytes().i32(page).put(varint(rowId)).done,
      }));
      type = innerTable;
      level = packed(inner, innerTable, headerLength);
      if (level.length === 1) {
        return this.#put(
          type,
          inner.slice(0, -1).map(({ cell }) => cell),
          at,
          last.page,
        );
      }
      throw new RangeError('more rows than a tree of two levels holds');
    }
    return this.#put(
      type,
      (level.at(0) ?? []).map(({ cell }) => cell),
      at,
    );
  }

  /** Writes an index of one page. @returns that page. */
  index(keys: readonly (readonly [...string[], number])[]): number {
    const cells = keys.map((key) => {
      const record = recordOf(key);
      return new Bytes().put(varint(record.length)).put(record).done;
    });
    const size = cells.reduce((sum, { length }) => sum + length + 2, 8);
    if (size > pageSize) throw new RangeError('more keys than a page holds');
    return this.#put(leafIndex, cells);
  }

  file({ applicationId, userVersion }: SqliteHeader): Uint8Array {
    const head = new Bytes().text('SQLite format 3\0').u16(pageSize).u8(1).u8(1).u8(0);
    head.u8(64).u8(32).u8(32).i32(1).i32(this.#pages.length).i32(0).i32(0).i32(1).i32(4);
    head.i32(0).i32(0).i32(1).i32(userVersion).i32(0).i32(applicationId).fill(20);
    head.i32(1).i32(libraryVersion);
    const file = new Bytes();
    for (const page of this.#pages) file.put(page);
    file.done.set(head.done, 0);
    return file.done;
  }

  #rowCell(rowId: number, values: readonly StoredValue[]): Uint8Array {
    const record = recordOf(values);
    const cell = new Bytes().put(varint(record.length)).put(varint(rowId));
    if (record.length <= mostLocal) return cell.put(record).done;
    const wished = leastLocal + ((record.length - leastLocal) % overflowRoom);
    const here = wished <= mostLocal ? wished : leastLocal;
    return cell.put(record.subarray(0, here)).i32(this.#overflow(record.subarray(here))).done;
  }

  /** Writes what found no room in pages that name the next one. @returns the first of them. */
  #overflow(rest: Uint8Array): number {
    const first = this.#pages.length + 1;
    for (let from = 0; from < rest.length; from += overflowRoom) {
      const next = from + overflowRoom < rest.length ? this.#pages.length + 2 : 0;
      const part = rest.subarray(from, from + overflowRoom);
      this.#pages.push(filledPage(new Bytes().i32(next).put(part).done));
    }
    return first;
  }

  /** @param right - the last page below an inner one. */
  #put(type: number, cells: readonly Uint8Array[], at?: number, right?: number): number {
    const from = at === 1 ? headerLength : 0;
    const page = new Uint8Array(pageSize);
    const places: number[] = [];
    let end = pageSize;
    for (const cell of cells) {
      end -= cell.length;
      page.set(cell, end);
      places.push(end);
    }
    const head = new Bytes().u8(type).u16(0).u16(cells.length).u16(end).u8(0);
    if (right !== undefined) head.i32(right);
    for (const place of places) head.u16(place);
    page.set(head.done, from);
    if (at === undefined) return this.#pages.push(page);
    this.#pages[at - 1] = page;
    return at;
  }
}

function filledPage(bytes: Uint8Array): Uint8Array {
  const page = new Uint8Array(pageSize);
  page.set(bytes);
  return page;
}

interface Cell {
  readonly rowId: number;
  readonly cell: Uint8Array;
}

/** Cells in groups that fit a page each, in order. */
function packed(cells: readonly Cell[], type: number, from: number): Cell[][] {
  const room = pageSize - from - (type === innerTable ? 12 : 8);
  const groups: Cell[][] = [];
  let left = 0;
  for (const each of cells) {
    const size = each.cell.length + 2;
    if (groups.length === 0 || size > left) {
      groups.push([]);
      left = room;
    }
    groups[groups.length - 1].push(each);
    left -= size;
  }
  return groups;
}

function recordOf(values: readonly StoredValue[]): Uint8Array {
  const types = new Bytes();
  const body = new Bytes();
  for (const value of values) types.put(varint(putValue(body, value)));
  // its own length counts too; under 128 bytes it takes one
  let length = types.length + 1;
  if (length > 127) length++;
  return new Bytes().put(varint(length)).put(types.done).put(body.done).done;
}

/** Writes a value. @returns the number of its form. */
function putValue(body: Bytes, value: StoredValue): number {
  if (value === null) return 0;
  if (typeof value === 'number') {
    if (!Number.isInteger(value) || Math.abs(value) >= 2 ** 31) {
      body.f64(value);
      return 7;
    }
    if (value === 0 || value === 1) return 8 + value;
    body.i32(value);
    return 4;
  }
  const bytes = typeof value === 'string' ? new TextEncoder().encode(value) : value;
  body.put(bytes);
  return 2 * bytes.length + (typeof value === 'string' ? 13 : 12);
}

/** A whole number in one to nine bytes, seven bits in each but the ninth. */
function varint(value: number): Uint8Array {
  if (value < 0) {
    // in 64 bits of two's complement; only small ones are met
    const bytes = new Uint8Array(9).fill(0xff);
    bytes[8] = 256 + value;
    return bytes;
  }
  const bits: number[] = [value % 128];
  for (let rest = Math.floor(value / 128); rest > 0; rest = Math.floor(rest / 128)) {
    bits.unshift((rest % 128) + 128);
  }
  return Uint8Array.from(bits);
}
