// Owns the catalogue of first guesses: minutes by kind, size, count, access and tool, each figure with where it comes from.

import type { Fault } from "./fault.ts";
import { fromMedian, type Lognormal } from "./lognormal.ts";

/** Where a figure comes from. `read`: read in a public text; `memory`: of a public table, from memory; `ours`: nobody's but ours. */
export interface Origin {
  readonly mark: "read" | "memory" | "ours";
  readonly source: string;
}

/** Minutes for one, at a bench, one person, nothing in the way. */
export interface Element {
  readonly id: string;
  readonly off: number;
  readonly on: number;
  readonly origin: Origin;
}

export interface Factor {
  readonly id: string;
  readonly times: number;
  readonly text: string;
  readonly origin: Origin;
}

const READ: Origin = { mark: "read", source: "MIL-HDBK-470A/472, as a public paper on MTTR cites it" };
const MEMORY: Origin = { mark: "memory", source: "MIL-HDBK-472 Procedure V, from memory" };
const OURS: Origin = { mark: "ours", source: "ours" };

const element = (id: string, off: number, on: number, origin: Origin): Element => ({ id, off, on, origin });
const factor = (id: string, times: number, text: string): Factor => ({ id, times, text, origin: OURS });

/** Fasteners, one at a time. The handbook's are those of an electronics rack: larger, rusted and overhead ones need a shop's own times. */
export const FASTENERS: readonly Element[] = [
  element("bolt", 0.34, 0.44, READ),
  element("nut", 0.34, 0.44, READ),
  element("screw", 0.16, 0.26, MEMORY),
  element("socket screw", 0.17, 0.43, MEMORY),
  element("machine screw", 0.21, 0.46, MEMORY),
  element("captive screw", 0.15, 0.2, MEMORY),
  element("quarter-turn", 0.08, 0.05, MEMORY),
  element("thumbscrew", 0.06, 0.08, MEMORY),
  element("retaining ring", 0.2, 0.27, MEMORY),
  element("latch", 0.03, 0.03, MEMORY),
  element("spring clip", 0.04, 0.03, MEMORY),
  element("terminal", 0.23, 0.42, MEMORY),
  element("bayonet plug", 0.07, 0.12, MEMORY),
  element("friction plug", 0.09, 0.13, MEMORY),
  element("threaded plug", 0.09, 0.17, MEMORY),
  element("hose clamp", 0.4, 0.5, OURS),
  element("union nut", 0.6, 0.8, OURS),
  element("split pin", 0.5, 0.6, OURS),
  element("clevis pin", 0.4, 0.5, OURS),
  element("cable tie", 0.1, 0.25, OURS),
  element("quick coupling", 0.1, 0.1, OURS),
];

/** What a connection of a kind takes besides its fasteners: getting at it, parting it, plugging, marking. */
export const HANDLING: readonly Element[] = [
  element("hose", 1.5, 2, OURS),
  element("line", 1.5, 2.5, OURS),
  element("cable", 0.5, 0.8, OURS),
  element("wire", 0.3, 0.5, OURS),
  element("strap", 1, 1.5, OURS),
  element("linkage", 1, 2, OURS),
  element("rod", 1, 2, OURS),
  element("spring", 1, 1.5, OURS),
  element("clamp", 0.5, 0.8, OURS),
  element("clip", 0.2, 0.3, OURS),
  element("flange", 3, 5, OURS),
  element("bracket", 1, 1.5, OURS),
  element("coupling", 2, 4, OURS),
  element("shaft joint", 2.5, 4, OURS),
  element("bolted joint", 2, 4, OURS),
  element("mount", 3, 5, OURS),
  element("cover fixing", 1, 1.2, OURS),
];

export const ACCESS: readonly Factor[] = [
  factor("free", 1, "seen, both hands, room to swing"),
  factor("tight", 1.5, "one hand, or a few degrees at a time"),
  factor("overhead", 1.6, "arms above the shoulders"),
  factor("blind", 2.2, "by feel"),
];

export const TOOLS: readonly Factor[] = [
  factor("hand", 1, "spanner, socket or driver"),
  factor("power", 0.6, "power driver, ratchet or impact wrench"),
  factor("torque wrench", 1.4, "to a torque, on the way back"),
  factor("special", 1.3, "a tool of its own that is set first"),
];

/** By nominal diameter of the thread, mm: the first line that it does not exceed. */
const SIZES: readonly (readonly [number, number])[] = [
  [8, 1],
  [12, 1.3],
  [18, 1.8],
  [24, 2.5],
  [Number.POSITIVE_INFINITY, 3.5],
];

/** Spread of the logarithm of a guess from the catalogue: wider than of a number that a person gave. Ours. */
export const CATALOGUE_SPREAD = 0.45;

export interface Guessed {
  readonly kind: string;
  readonly fastener?: string;
  readonly count?: number;
  /** Nominal diameter of the thread, mm. */
  readonly size?: number;
  readonly access?: string;
  readonly tool?: string;
}

export interface Guess {
  readonly off: Lognormal;
  readonly on: Lognormal;
  /** What it is made of, in the order it is reckoned. */
  readonly made: readonly {
    readonly what: string;
    readonly off: number;
    readonly on: number;
    readonly origin: Origin;
  }[];
}

const find = <T extends { readonly id: string }>(list: readonly T[], id: string, at: string): T | Fault =>
  list.find((one) => one.id === id) ?? {
    at,
    what: `the catalogue has no ${at} called ${id}`,
    mend: `Name one of: ${list.map((one) => one.id).join(", ")}.`,
  };

/** A first time for a connection out of the catalogue: (handling + count × fastener × size) × access × tool. A torque wrench counts on the way back only. */
export const guess = (asked: Guessed): Guess | readonly Fault[] => {
  const count = asked.count ?? 1;
  const handling = find(HANDLING, asked.kind, "kind");
  const fastener = asked.fastener === undefined ? undefined : find(FASTENERS, asked.fastener, "fastener");
  const access = find(ACCESS, asked.access ?? "free", "access");
  const tool = find(TOOLS, asked.tool ?? "hand", "tool");
  const faults = [handling, fastener, access, tool].filter((one): one is Fault => one !== undefined && "mend" in one);
  if (!(Number.isInteger(count) && count >= 1))
    faults.push({ at: "count", what: `${count} is no count of fasteners`, mend: "Give a whole number from 1." });
  if (asked.size !== undefined && !(asked.size > 0))
    faults.push({ at: "size", what: `${asked.size} mm is no thread`, mend: "Give the nominal diameter in mm." });
  if ("mend" in handling || "mend" in access || "mend" in tool || (fastener !== undefined && "mend" in fastener))
    return faults;
  if (faults.length > 0) return faults;
  const size = SIZES.find(([most]) => (asked.size ?? 0) <= most)?.[1] ?? 1;
  const toolOff = tool.id === "torque wrench" ? 1 : tool.times;
  const each = (minutes: number) => count * size * minutes;
  const made = [
    { what: `${handling.id}, handling`, off: handling.off, on: handling.on, origin: handling.origin },
    ...(fastener === undefined
      ? []
      : [
          {
            what: `${count} × ${fastener.id}`,
            off: count * fastener.off,
            on: count * fastener.on,
            origin: fastener.origin,
          },
          ...(size === 1
            ? []
            : [
                {
                  what: `size M${asked.size}, × ${size}`,
                  off: each(fastener.off) - count * fastener.off,
                  on: each(fastener.on) - count * fastener.on,
                  origin: OURS,
                },
              ]),
        ]),
  ];
  const [off, on] = [made.reduce((sum, one) => sum + one.off, 0), made.reduce((sum, one) => sum + one.on, 0)];
  const factors = [
    { what: `access ${access.id}, × ${access.times}`, off: access.times, on: access.times, origin: access.origin },
    { what: `tool ${tool.id}, × ${tool.times}`, off: toolOff, on: tool.times, origin: tool.origin },
  ];
  let [outOff, outOn] = [off, on];
  for (const one of factors) {
    const [moreOff, moreOn] = [outOff * (one.off - 1), outOn * (one.on - 1)];
    if (one.off !== 1 || one.on !== 1) made.push({ what: one.what, off: moreOff, on: moreOn, origin: one.origin });
    outOff += moreOff;
    outOn += moreOn;
  }
  return { off: fromMedian(outOff, CATALOGUE_SPREAD), on: fromMedian(outOn, CATALOGUE_SPREAD), made };
};
