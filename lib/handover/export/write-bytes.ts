/** Bytes that grow as they are written. */
export class Bytes {
  #bytes = new Uint8Array(1024);
  #view = new DataView(this.#bytes.buffer);
  #length = 0;

  get length(): number {
    return this.#length;
  }

  /** What was written, not copied. */
  get done(): Uint8Array<ArrayBuffer> {
    return this.#bytes.subarray(0, this.#length);
  }

  u8(value: number): this {
    this.#room(1);
    this.#view.setUint8(this.#length++, value);
    return this;
  }

  u16(value: number, isLittle = false): this {
    this.#room(2);
    this.#view.setUint16(this.#length, value, isLittle);
    this.#length += 2;
    return this;
  }

  i32(value: number, isLittle = false): this {
    this.#room(4);
    this.#view.setInt32(this.#length, value, isLittle);
    this.#length += 4;
    return this;
  }

  f64(value: number, isLittle = false): this {
    this.#room(8);
    this.#view.setFloat64(this.#length, value, isLittle);
    this.#length += 8;
    return this;
  }

  put(bytes: Uint8Array): this {
    this.#room(bytes.length);
    this.#bytes.set(bytes, this.#length);
    this.#length += bytes.length;
    return this;
  }

  text(text: string): this {
    return this.put(new TextEncoder().encode(text));
  }

  /** So many bytes of nothing, or of one value. */
  fill(count: number, value = 0): this {
    this.#room(count);
    this.#bytes.fill(value, this.#length, this.#length + count);
    this.#length += count;
    return this;
  }

  #room(more: number): void {
    if (this.#length + more <= this.#bytes.length) return;
    const larger = new Uint8Array(Math.max(2 * this.#bytes.length, this.#length + more));
    larger.set(this.#bytes.subarray(0, this.#length));
    this.#bytes = larger;
    this.#view = new DataView(larger.buffer);
  }
}
