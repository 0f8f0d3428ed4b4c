// Owns what keeps a question about rigging from having an answer: where, and what by a name and values, so that every reader has it, and what would mend it, in his own language and units.

import type { Writing } from "./remark.ts";

type Unit = "kg" | "m" | "N";

/** Each name with its values: metres, newtons, kilograms, degrees; ids as the asker has them. */
export interface Refused {
  /** Of figures. */
  readonly "no figure": { readonly value: number };
  readonly "not positive": { readonly value: number; readonly unit: Unit };
  readonly "may be nothing": { readonly value: number; readonly unit: Unit };
  readonly "not between": { readonly value: number; readonly low: number; readonly high: number; readonly unit: Unit };
  readonly "no tolerance": { readonly value: number };
  readonly "out by its length": { readonly within: number; readonly length: number };
  readonly "outside the outline": {
    readonly axis: "x" | "y" | "z";
    readonly value: number;
    readonly low: number;
    readonly high: number;
  };
  readonly "span misses": {
    readonly from: string;
    readonly to: string;
    readonly said: number;
    readonly follows: number;
  };
  readonly "length misses": {
    readonly leg: string;
    readonly said: number;
    readonly follows: number;
    readonly across?: number;
    readonly height?: number;
    readonly angle?: number;
  };
  /** Of what leads to what. */
  readonly "id twice": { readonly id: string };
  readonly "unknown id": { readonly id: string };
  readonly "no lower end": { readonly id: string };
  readonly "no upper end": { readonly id: string };
  readonly "both ends on the beam": object;
  readonly "no point of the beam": { readonly id: string };
  readonly "beam on nothing": object;
  readonly "no hook": object;
  readonly "too many hooks": { readonly hooks: readonly string[] };
  readonly "hook without a place": object;
  readonly "hook without a leg": object;
  readonly "load without a leg": object;
  /** Of legs that do not reach. */
  readonly "no such take-up": { readonly taken: number; readonly most: number; readonly step: number };
  readonly "all taken up": object;
  readonly "does not span": {
    readonly other: string;
    readonly reach: number;
    readonly span: number;
    readonly from: string;
    readonly to: string;
  };
  readonly "no common hook": { readonly legs: readonly string[] };
  readonly "does not reach": { readonly legs: readonly string[] };
  readonly overstretched: { readonly made: number; readonly reach: number; readonly tension: number };
  /** No rest was found, however long it was let go on. */
  readonly "no rest": object;
  /** Of a hoist. */
  readonly "curve out of order": object;
  readonly "beyond its reach": { readonly reach: number; readonly from: number; readonly to: number };
  /** Of what a vehicle's file lacks, or a call asks of it. */
  readonly "no legs": object;
  readonly "no leg on it": { readonly eyes: readonly string[] };
  readonly "no centre": { readonly parts: readonly string[] };
  readonly "no place of an eye": object;
  readonly "no such hoist": { readonly hoist: string };
  readonly "more beams": { readonly beams: readonly string[] };
  readonly "hoist and hooks": { readonly hooks: readonly string[] };
  readonly "pin and hooks": { readonly hooks: readonly string[] };
  readonly "no such leg": { readonly leg: string; readonly known: readonly string[]; readonly near?: string };
  readonly "no such eye": { readonly eye: string; readonly known: readonly string[]; readonly near?: string };
  readonly "stays behind": { readonly eye: string; readonly part: string; readonly task: string };
  /** A length that a call gives: what the reader of quantities says of it. */
  readonly "unread length": { readonly what: string; readonly mend: string };
}

export type Refusal = { readonly [K in keyof Refused]: { readonly is: K } & Refused[K] }[keyof Refused];

/** A refusal, and where in the question, as the asker knows it: "legs/front-left", "load.mass". */
export type Fault = { readonly at: string } & Refusal;

/** What is wrong, and what would mend it. */
export interface FaultSaid {
  readonly what: string;
  readonly mend: string;
}

/** A language. */
export type Refusing = { readonly [K in keyof Refused]: (values: Refused[K], write: Writing) => FaultSaid };

const one = <K extends keyof Refused>(refusing: Refusing, refusal: { readonly is: K } & Refused[K], write: Writing) =>
  refusing[refusal.is](refusal, write);

export const sayRefusal = (refusing: Refusing, refusal: Refusal, write: Writing): FaultSaid =>
  one(refusing, refusal, write);
