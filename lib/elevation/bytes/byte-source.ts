import { InputError, throwIfCancelled } from '../../errors';

/** Where bytes come from: reads any stretch of a file, and knows its length when that can be known. */
export interface ByteReader {
  /** Length of the file in bytes, or null while a server does not tell. */
  readonly sizeBytes: number | null;
  /** The bytes from `offset`, at most `length` of them; fewer at the end of the file. */
  read(offset: number, length: number, signal?: AbortSignal): Promise<ArrayBuffer>;
  /** Unpacks zlib's format with what the place has for it, to so many bytes at most; left out where it has nothing. */
  readonly inflate?: Inflate;
}

/** @throws {Error} on damaged input and on what comes to more bytes. */
export type Inflate = (packed: Uint8Array, mostBytes: number) => Uint8Array | Promise<Uint8Array>;

/** A file by the user's name for it, and how its bytes are had. */
export interface NamedBytes {
  readonly name: string;
  readonly bytes: ByteReader;
}

/** Bytes fetched at a time, and how many such pieces are kept: headers and neighbouring tiles share them. */
const PIECE_BYTES = 65_536;
const PIECES_KEPT = 256;
/** Longer reads pass the cache by. */
const CACHED_READ_BYTES = 8 * PIECE_BYTES;
/** No single read may ask for more: no sound header or block does. */
export const LONGEST_READ_BYTES = 256 * 1024 * 1024;

interface Slice {
  readonly offset: number;
  readonly length: number;
}

/**
 * A cache over a reader, in the shape in which the GeoTIFF library takes its sources.
 *
 * Short reads are served from pieces of 64 kB, runs of missing pieces are fetched by one request, and reads
 * at the same time share a request. A read that begins beyond the end, or is absurdly long, is refused
 * before anything is allocated; one that only runs over the end comes back short.
 */
export class CachedBytes {
  readonly #pieces = new Map<number, Promise<ArrayBuffer>>();
  readonly #file: NamedBytes;

  constructor(file: NamedBytes) {
    this.#file = file;
  }

  get fileSize(): number | null {
    return this.#file.bytes.sizeBytes;
  }

  get inflate(): Inflate | undefined {
    return this.#file.bytes.inflate;
  }

  async fetch(slices: Slice[], signal?: AbortSignal): Promise<ArrayBuffer[]> {
    return Promise.all(slices.map((slice) => this.#slice(slice.offset, slice.length, signal)));
  }

  async fetchSlice(slice: Slice, signal?: AbortSignal): Promise<Slice & { data: ArrayBuffer }> {
    return { ...slice, data: await this.#slice(slice.offset, slice.length, signal) };
  }

  close(): Promise<void> {
    this.#pieces.clear();
    return Promise.resolve();
  }

  async #slice(offset: number, length: number, signal?: AbortSignal): Promise<ArrayBuffer> {
    throwIfCancelled(signal);
    const size = this.fileSize;
    const sound = Number.isSafeInteger(offset) && Number.isSafeInteger(length) && offset >= 0;
    if (!sound || length < 0 || length > LONGEST_READ_BYTES || (size !== null && offset >= size)) {
      throw new InputError({
        code: 'elevation-truncated',
        where: this.#file.name,
        problem: `the file refers to ${length} bytes at position ${offset}, but ${size === null ? 'that cannot be right' : `it is ${size} bytes long`}`,
        remedy: 'it is cut short or damaged: download it again',
      });
    }
    const end = size === null ? offset + length : Math.min(offset + length, size);
    if (end - offset > CACHED_READ_BYTES) {
      return this.#file.bytes.read(offset, end - offset, signal);
    }
    return this.#fromPieces(offset, end);
  }

  // Pieces are shared, so no one caller's signal may stop them; they are short.
  async #fromPieces(offset: number, end: number): Promise<ArrayBuffer> {
    const first = Math.floor(offset / PIECE_BYTES);
    const last = Math.max(first, Math.ceil(end / PIECE_BYTES) - 1);
    for (let i = first; i <= last; i++) {
      if (this.#pieces.has(i)) continue;
      let stop = i + 1;
      while (stop <= last && !this.#pieces.has(stop)) stop++;
      this.#request(i, stop);
    }
    const wanted = await Promise.all(
      Array.from({ length: last - first + 1 }, (_, i) => this.#piece(first + i)),
    );
    const out = new Uint8Array(end - offset);
    let filled = 0;
    wanted.forEach((piece, i) => {
      const start = (first + i) * PIECE_BYTES;
      const from = Math.max(offset - start, 0);
      const to = Math.min(end - start, piece.byteLength);
      if (to <= from) return;
      out.set(new Uint8Array(piece, from, to - from), start + from - offset);
      filled = start + to - offset;
    });
    this.#forgetOldest();
    return filled === out.length ? out.buffer : out.buffer.slice(0, filled);
  }

  /** Fetches pieces `from` to `stop` (not included) by one read and files each of them. */
  #request(from: number, stop: number): void {
    const start = from * PIECE_BYTES;
    const size = this.fileSize;
    const end = size === null ? stop * PIECE_BYTES : Math.min(stop * PIECE_BYTES, size);
    const run = this.#file.bytes.read(start, Math.max(end - start, 0));
    for (let i = from; i < stop; i++) {
      const at = (i - from) * PIECE_BYTES;
      const piece = run.then((bytes) => bytes.slice(at, at + PIECE_BYTES));
      // A failed or cancelled read must not be remembered; who waits for it is told below.
      piece.catch(() => {
        if (this.#pieces.get(i) === piece) this.#pieces.delete(i);
      });
      this.#pieces.set(i, piece);
    }
  }

  #piece(index: number): Promise<ArrayBuffer> {
    const piece = this.#pieces.get(index)!;
    // Moves it to the young end of the map, which keeps the order of insertion.
    this.#pieces.delete(index);
    this.#pieces.set(index, piece);
    return piece;
  }

  #forgetOldest(): void {
    for (const index of this.#pieces.keys()) {
      if (this.#pieces.size <= PIECES_KEPT) return;
      this.#pieces.delete(index);
    }
  }
}
