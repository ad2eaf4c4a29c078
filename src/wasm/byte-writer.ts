/** Bytes of a WebAssembly binary, in a buffer that grows. */
export class ByteWriter {
  private buffer = new Uint8Array(1024);
  private readonly view = new DataView(new ArrayBuffer(8));
  length = 0;

  byte(value: number): void {
    if (this.length === this.buffer.length) this.grow(this.length + 1);
    this.buffer[this.length++] = value;
  }

  /** A whole number, 0 ≤ value < 2³². */
  unsigned(value: number): void {
    let left = value;
    while (left >= 0x80) {
      this.byte((left % 0x80) | 0x80);
      left = Math.floor(left / 0x80);
    }
    this.byte(left);
  }

  /** A whole number, −2³¹ ≤ value < 2³¹. */
  signed(value: number): void {
    let left = value;
    for (;;) {
      const low = left & 0x7f;
      left >>= 7;
      if ((left === 0 && low < 0x40) || (left === -1 && low >= 0x40)) {
        this.byte(low);
        return;
      }
      this.byte(low | 0x80);
    }
  }

  /** 64 bits as a signed whole number. */
  signed64(value: bigint): void {
    let left = BigInt.asIntN(64, value);
    for (;;) {
      const low = Number(left & 0x7fn);
      left >>= 7n;
      if ((left === 0n && low < 0x40) || (left === -1n && low >= 0x40)) {
        this.byte(low);
        return;
      }
      this.byte(low | 0x80);
    }
  }

  double(value: number): void {
    this.view.setFloat64(0, value, true);
    for (let i = 0; i < 8; i++) this.byte(this.view.getUint8(i));
  }

  text(value: string): void {
    this.unsigned(value.length);
    for (let i = 0; i < value.length; i++) this.byte(value.charCodeAt(i));
  }

  append(other: ByteWriter): void {
    const end = this.length + other.length;
    if (end > this.buffer.length) this.grow(end);
    this.buffer.set(other.buffer.subarray(0, other.length), this.length);
    this.length = end;
  }

  /** The bytes so far, as a copy. */
  bytes(): Uint8Array<ArrayBuffer> {
    return this.buffer.slice(0, this.length);
  }

  private grow(least: number): void {
    const grown = new Uint8Array(Math.max(least, 2 * this.buffer.length));
    grown.set(this.buffer.subarray(0, this.length));
    this.buffer = grown;
  }
}
