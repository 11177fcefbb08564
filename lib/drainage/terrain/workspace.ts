type Kind = 'int32' | 'uint8' | 'float32' | 'float64';
type Buffer = Int32Array | Uint8Array | Float32Array | Float64Array;

/**
 * Named buffers that are allocated once and handed out again.
 *
 * A run that is given the workspace of an earlier run writes into the earlier run's buffers: repeated
 * runs (equally likely surfaces, a basin being dragged) then allocate nothing, and whatever the
 * earlier run returned is overwritten. Contents are whatever the last user left.
 */
export class Workspace {
  readonly #buffers = new Map<string, Buffer>();
  readonly #views = new Map<string, Buffer>();

  int32(name: string, length: number): Int32Array {
    return this.#take('int32', name, length, (size) => new Int32Array(size)) as Int32Array;
  }

  uint8(name: string, length: number): Uint8Array {
    return this.#take('uint8', name, length, (size) => new Uint8Array(size)) as Uint8Array;
  }

  float32(name: string, length: number): Float32Array {
    return this.#take('float32', name, length, (size) => new Float32Array(size)) as Float32Array;
  }

  float64(name: string, length: number): Float64Array {
    return this.#take('float64', name, length, (size) => new Float64Array(size)) as Float64Array;
  }

  /** Bytes held by all buffers. */
  get bytes(): number {
    let sum = 0;
    for (const buffer of this.#buffers.values()) sum += buffer.byteLength;
    return sum;
  }

  #take(kind: Kind, name: string, length: number, allocate: (size: number) => Buffer): Buffer {
    const key = `${kind} ${name}`;
    const view = this.#views.get(key);
    if (view !== undefined && view.length === length) return view;
    let buffer = this.#buffers.get(key);
    if (buffer === undefined || buffer.length < length) {
      // A little headroom when growing: the number of pits differs slightly from one surface to the next.
      buffer = allocate(buffer === undefined ? length : Math.ceil(length * 1.25));
      this.#buffers.set(key, buffer);
    }
    const next = buffer.length === length ? buffer : buffer.subarray(0, length);
    this.#views.set(key, next);
    return next;
  }
}
