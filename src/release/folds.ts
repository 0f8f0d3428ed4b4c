// Owns the way back from an elimination: of each variable that was folded its better value, by the values of its neighbours.

import { grown } from "./factors.ts";

/** Folds in the order they were made: variable, scope, and the better value by the values of the scope, one bit each. */
export class Folds {
  private readonly variable: number[] = [];
  private readonly start: number[] = [0];
  private scope: Int32Array;
  private nodes = 0;
  private readonly choiceStart: number[] = [];
  private choices: Int32Array;
  private words = 0;

  constructor(variables: number) {
    this.scope = new Int32Array(4 * variables + 8);
    this.choices = new Int32Array(4 * variables + 8);
  }

  /** Keeps the better of the two costs in `lo`, and notes which it was. */
  note(v: number, scope: Int32Array, width: number, lo: Float64Array, hi: Float64Array): void {
    while (this.nodes + width > this.scope.length) this.scope = grown(this.scope);
    for (let i = 0; i < width; i++) this.scope[this.nodes++] = scope[i] as number;
    this.variable.push(v);
    this.start.push(this.nodes);
    this.choiceStart.push(this.words);
    const size = 1 << width;
    const words = (size + 31) >> 5;
    while (this.words + words > this.choices.length) this.choices = grown(this.choices);
    for (let word = 0, a = 0; word < words; word++) {
      let bits = 0;
      const end = Math.min(size, a + 32);
      for (let b = 0; a < end; a++, b++) {
        if ((hi[a] as number) < (lo[a] as number)) {
          bits |= 1 << b;
          lo[a] = hi[a] as number;
        }
      }
      this.choices[this.words++] = bits;
    }
  }

  /** Completes values, given for all that was not folded, in place. */
  restore(values: Uint8Array): void {
    const { variable, start, scope, choices, choiceStart } = this;
    for (let i = variable.length - 1; i >= 0; i--) {
      const begin = start[i] as number;
      const end = start[i + 1] as number;
      let a = 0;
      for (let k = begin; k < end; k++) if (values[scope[k] as number] === 1) a |= 1 << (k - begin);
      const word = choices[(choiceStart[i] as number) + (a >> 5)] as number;
      values[variable[i] as number] = (word >> (a & 31)) & 1;
    }
  }
}
