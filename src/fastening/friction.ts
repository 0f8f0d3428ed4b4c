// Owns friction: the states that threads and faces are found in, each with its nut factor and the range the sources leave it.

import type { Fault } from "./fault.ts";
import type { Span } from "./span.ts";

/**
 * Either a nut factor K of T = K·d·F, or the coefficients of the thread and of the face under the head. `name` is the
 * state, where it has one.
 */
export type Friction =
  | { readonly factor: Span; readonly name?: string; readonly source?: string }
  | { readonly thread: Span; readonly head: Span; readonly name?: string; readonly source?: string };

/** A figure without a doubt of its own. */
export const exactly = (value: number): Span => ({ low: value, nominal: value, high: value });

interface State {
  readonly name: string;
  readonly also: readonly string[];
  readonly factor: readonly [number, number, number];
  readonly source: string;
}

/**
 * Low, nominal and high nut factor of each state. The sources contradict one another, on zinc even in the sign, so
 * the range is part of the figure.
 */
const STATES: readonly State[] = [
  {
    name: "plain",
    also: ["dry", "as received", "steel"],
    factor: [0.15, 0.2, 0.3],
    source:
      "0.20: Industrial Fasteners Institute tables quoted by the US Army; 0.30 dry black: Shigley as quoted; 0.15: trade tables",
  },
  {
    name: "zinc",
    also: ["galvanised", "zinc-plated", "zinc plated"],
    factor: [0.17, 0.2, 0.35],
    source: "0.20: Shigley as quoted; 0.295: Bickford and Nassar as quoted; range of a trade table",
  },
  {
    name: "plated",
    also: ["electroplated"],
    factor: [0.15, 0.15, 0.2],
    source: "0.15: Industrial Fasteners Institute N-12 and N-16; up to plain 0.20",
  },
  {
    name: "lubricated",
    also: ["oiled", "oil", "wet", "machine oil"],
    factor: [0.1, 0.15, 0.26],
    source: "0.15 and the range for machine oil: trade tables; Shigley has 0.18 (from memory)",
  },
  {
    name: "cadmium",
    also: ["cadmium-plated"],
    factor: [0.15, 0.16, 0.2],
    source: "0.16: Shigley as quoted; 0.20 dry: Bickford and Nassar as quoted",
  },
  {
    name: "phosphate and oil",
    also: ["phosphated", "phosphate"],
    factor: [0.15, 0.18, 0.22],
    source: "range of trade tables; the middle is ours",
  },
  {
    name: "stainless dry",
    also: ["stainless"],
    factor: [0.3, 0.4, 0.5],
    source: "range of trade tables; the middle is ours",
  },
  {
    name: "anti-seize",
    also: ["copper paste"],
    factor: [0.09, 0.12, 0.14],
    source: "range from memory; the middle is ours",
  },
  {
    name: "moly",
    also: ["moly paste", "molybdenum disulphide"],
    factor: [0.09, 0.12, 0.14],
    source: "as anti-seize: range from memory; the middle is ours",
  },
  {
    name: "waxed",
    also: ["wax"],
    factor: [0.09, 0.12, 0.14],
    source: "as anti-seize: range from memory; the middle is ours",
  },
  {
    name: "thread-lock",
    also: ["thread lock", "threadlock", "locking compound"],
    factor: [0.13, 0.18, 0.25],
    source: "liquid compound, wet as it goes in: from memory; the middle is ours",
  },
];

/** The names of the states, as messages list them. */
export const FRICTION_STATES: readonly string[] = STATES.map(({ name }) => name);

const of = ({ name, factor: [low, nominal, high], source }: State): Friction => ({
  factor: { low, nominal, high },
  name,
  source,
});

/** What is taken where nothing is said: clean and dry, as common practice has it. */
export const PLAIN: Friction = of(STATES[0] as State);

/** Stainless on stainless without a lubricant. */
export const STAINLESS_DRY: Friction = of(STATES.find(({ name }) => name === "stainless dry") as State);

/** Reads the name of a state: "lubricated", "zinc", "dry". An unknown name is a fault that lists those known. */
export function readFriction(
  text: string,
  at = "friction",
): { readonly friction: Friction } | { readonly fault: Fault } {
  const wanted = text.trim().toLowerCase();
  const state = STATES.find(({ name, also }) => name === wanted || also.includes(wanted));
  if (state !== undefined) return { friction: of(state) };
  return {
    fault: {
      rule: "unknown-friction",
      at,
      what: `"${text}" is no state of a thread known here`,
      mend: `Give one of ${FRICTION_STATES.join(", ")}, a nut factor or a coefficient.`,
      values: { text },
    },
  };
}
