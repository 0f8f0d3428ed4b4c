// Owns the list that reasons are written on, and the marks of what an analysis needs so far.

/** No value is needed of an entry. */
export const NONE = -(2 ** 31);

export class Reasons {
  /** Side and value of literals, a stack. */
  list: Int32Array = new Int32Array(1 << 12);
  filled = 0;
  /** By entry of the trail: the strongest value needed of it. */
  readonly need: Int32Array;

  constructor(entries: number) {
    this.need = new Int32Array(entries).fill(NONE);
  }

  put(side: number, value: number): void {
    const at = this.filled;
    if (at + 2 > this.list.length) {
      const wider = new Int32Array(this.list.length * 2);
      wider.set(this.list);
      this.list = wider;
    }
    this.list[at] = side;
    this.list[at + 1] = value;
    this.filled = at + 2;
  }
}
