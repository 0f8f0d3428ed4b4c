// Owns figures given as flags: quantities with their unit, shares, ranges and counts, each fault with the flag it stands at.

import { type Dimension, type Quantity, readQuantity } from "../quantity/index.ts";
import type { Call, CallFault } from "./call.ts";

/** A figure with its limits; without limits of its own all three are alike. */
export interface Range {
  readonly low: number;
  readonly nominal: number;
  readonly high: number;
}

/** Reads the figures of one call; what is wrong with any of them gathers in `faults`. */
export class Figures {
  readonly faults: CallFault[] = [];
  private readonly flags: Call["flags"];

  constructor({ flags }: Call) {
    this.flags = flags;
  }

  text(flag: string): string | undefined {
    return this.flags.get(flag)?.[0];
  }

  has(flag: string): boolean {
    return this.flags.has(flag);
  }

  list(flag: string): readonly string[] {
    return this.flags.get(flag) ?? [];
  }

  fail(flag: string, what: string, mend: string): undefined {
    this.faults.push({ what: `--${flag}: ${what}`, mend });
    return undefined;
  }

  /** In the base unit of the dimension. A tolerance is a fault: one value is wanted. */
  quantity<D extends Dimension>(flag: string, dimension: D): Quantity<D> | undefined {
    const text = this.text(flag);
    if (text === undefined) return undefined;
    const reading = readQuantity(text, dimension);
    if ("fault" in reading) return this.fail(flag, reading.fault.what, reading.fault.mend);
    const { low, nominal, high } = reading.value;
    return low === high ? nominal : this.fail(flag, `"${text}" has a tolerance`, "Write one value.");
  }

  /** 0.75 or 75 %. */
  share(flag: string): number | undefined {
    const text = this.text(flag);
    if (text === undefined) return undefined;
    return readShare(text) ?? this.fail(flag, `"${text}" is no share`, "Write 0.75 or 75%.");
  }

  /** 0.12, or 0.10..0.16. */
  range(flag: string): Range | undefined {
    const text = this.text(flag);
    if (text === undefined) return undefined;
    const [low, high = low, more] = text.split("..").map(Number);
    if (low === undefined || high === undefined || !Number.isFinite(low + high) || more !== undefined || low > high)
      return this.fail(flag, `"${text}" is no figure and no range`, "Write 0.12 or 0.10..0.16.");
    return { low, nominal: (low + high) / 2, high };
  }

  /** Degrees: 30, 30° or 30 deg. */
  degrees(flag: string, text = this.text(flag)): number | undefined {
    if (text === undefined) return undefined;
    const match = /^\s*(-?\d+(?:\.\d+)?)\s*(°|deg)?\s*$/.exec(text);
    return match === null
      ? this.fail(flag, `"${text}" is no angle`, "Write the degrees: 90 or 90°.")
      : Number(match[1]);
  }

  /** A whole number; where it may lie the room decides that is asked. */
  count(flag: string): number | undefined {
    const text = this.text(flag);
    if (text === undefined) return undefined;
    return Number.isInteger(Number(text))
      ? Number(text)
      : this.fail(flag, `"${text}" is no count`, "Write a whole number.");
  }
}

/** 0.75 or 75 % as a number, or undefined. */
export function readShare(text: string): number | undefined {
  const match = /^\s*(\d+(?:\.\d+)?)\s*(%)?\s*$/.exec(text);
  return match === null ? undefined : Number(match[1]) / (match[2] === undefined ? 1 : 100);
}
