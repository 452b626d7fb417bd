// report: big-endian numbers → bytes.

/** Writes numbers as fonts want them, most significant byte first, into memory that grows. */
export class ByteWriter {
  #data = new Uint8Array(1024);
  #view = new DataView(this.#data.buffer);
  length = 0;

  u8(value: number): void {
    this.#room(1);
    this.#data[this.length++] = value;
  }

  u16(value: number): void {
    this.#room(2);
    this.#view.setUint16(this.length, value);
    this.length += 2;
  }

  i16(value: number): void {
    this.#room(2);
    this.#view.setInt16(this.length, value);
    this.length += 2;
  }

  u32(value: number): void {
    this.#room(4);
    this.#view.setUint32(this.length, value);
    this.length += 4;
  }

  append(bytes: Uint8Array): void {
    this.#room(bytes.length);
    this.#data.set(bytes, this.length);
    this.length += bytes.length;
  }

  /** Write zeros up to a multiple of `to`. */
  pad(to: number): void {
    while (this.length % to !== 0) this.u8(0);
  }

  /** A copy of what was written. */
  bytes(): Uint8Array {
    return this.#data.slice(0, this.length);
  }

  #room(bytes: number): void {
    if (this.length + bytes <= this.#data.length) return;
    const larger = new Uint8Array(Math.max(2 * this.#data.length, this.length + bytes));
    larger.set(this.#data);
    this.#data = larger;
    this.#view = new DataView(larger.buffer);
  }
}
