// report: bytes → the big-endian numbers in them, one after the other.

/** Reads numbers as fonts write them, most significant byte first. Reading past the end throws a RangeError. */
export class ByteReader {
  readonly #view: DataView;
  /** Place of the next byte. */
  at = 0;

  constructor(bytes: Uint8Array) {
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  }

  u8(): number {
    return this.#view.getUint8(this.at++);
  }

  u16(): number {
    this.at += 2;
    return this.#view.getUint16(this.at - 2);
  }

  i16(): number {
    this.at += 2;
    return this.#view.getInt16(this.at - 2);
  }

  u32(): number {
    this.at += 4;
    return this.#view.getUint32(this.at - 4);
  }

  /** Four characters. */
  tag(): string {
    return String.fromCharCode(this.u8(), this.u8(), this.u8(), this.u8());
  }

  skip(bytes: number): void {
    this.at += bytes;
  }

  /** The bytes from here on, so many, as a part of the same memory. */
  take(bytes: number): Uint8Array {
    const part = new Uint8Array(this.#view.buffer, this.#view.byteOffset + this.at, bytes);
    this.at += bytes;
    return part;
  }

  /** A number in groups of seven bits, the most significant first, as `UIntBase128` of WOFF2. */
  base128(): number {
    let value = 0;
    for (let i = 0; i < 5; i++) {
      const byte = this.u8();
      value = value * 128 + (byte & 0x7f);
      if ((byte & 0x80) === 0) return value;
    }
    throw new RangeError("a number in groups of seven bits is longer than five bytes");
  }

  /** A number of 0…65535 in one to three bytes, as `255UInt16` of WOFF2. */
  short255(): number {
    const code = this.u8();
    if (code === 253) return this.u16();
    if (code === 255) return this.u8() + 253;
    if (code === 254) return this.u8() + 506;
    return code;
  }
}
