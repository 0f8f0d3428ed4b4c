// Owns how a kind of connection is told from another without colour: the pattern of its line and the mark at its end (docs/look.md, rule 4).

import type { Kind } from "../../vehicle/index.ts";

/** How the line runs: one, two beside each other, or a coil. */
export type Run = "single" | "double" | "coil";

export interface KindMark {
  readonly run: Run;
  /** Half the distance of a double line. */
  readonly apart?: number;
  readonly dash?: string;
  readonly width: number;
  /** A path in a box from -6 to 6. */
  readonly mark: string;
  /** The mark is filled. */
  readonly solid?: true;
}

const RING = "M-4 0a4 4 0 1 0 8 0a4 4 0 1 0 -8 0z";

export const KIND_MARKS: Readonly<Record<Kind, KindMark>> = {
  // Fluids: two walls with something between.
  hose: { run: "double", apart: 2.1, width: 1, mark: RING },
  line: { run: "double", apart: 1.2, width: 1, mark: RING, solid: true },
  // Currents: broken lines.
  cable: { run: "single", dash: "10 4", width: 1.8, mark: "M-4 -4H4V4H-4z" },
  wire: { run: "single", dash: "2.5 3", width: 1.3, mark: "M-2.5 -2.5H2.5V2.5H-2.5z", solid: true },
  // What pulls or pushes.
  strap: { run: "single", dash: "18 2", width: 3, mark: "M-4 -3H4M-4 3H4M-4 -3V3M4 -3V3" },
  linkage: {
    run: "single",
    dash: "12 3 2 3",
    width: 1.5,
    mark: "M-5 0a2 2 0 1 0 4 0a2 2 0 1 0 -4 0zM1 0a2 2 0 1 0 4 0a2 2 0 1 0 -4 0z",
  },
  rod: { run: "single", width: 2.6, mark: "M0 -5V5" },
  spring: { run: "coil", width: 1.1, mark: "M-5 0L-3 -4L-1 4L1 -4L3 4L5 0" },
  // What is fastened.
  clamp: { run: "single", width: 1.3, mark: "M3.5 -3A4.5 4.5 0 1 0 3.5 3" },
  clip: { run: "single", width: 1.3, mark: "M-4 -4L0 4L4 -4" },
  flange: { run: "single", width: 1.3, mark: "M-2 -5V5M2 -5V5" },
  bracket: { run: "single", width: 1.3, mark: "M-3.5 -5V4H4.5" },
  coupling: { run: "single", width: 1.3, mark: "M-1.5 -4.5A4.5 4.5 0 0 0 -1.5 4.5zM1.5 -4.5A4.5 4.5 0 0 1 1.5 4.5z" },
  "shaft joint": { run: "single", dash: "18 4 4 4", width: 2, mark: `${RING}M-5.5 0H5.5M0 -5.5V5.5` },
  "bolted joint": { run: "single", width: 1.3, mark: "M-5 0L-2.5 -4.4H2.5L5 0L2.5 4.4H-2.5z" },
  mount: { run: "single", width: 1.3, mark: "M0 -5L5 4H-5z", solid: true },
  "cover fixing": { run: "single", width: 1.3, mark: `${RING}M-2.6 2.6L2.6 -2.6` },
};

type Point = readonly [number, number];

const n = (value: number): string => String(Math.round(value * 10) / 10);

/** The path of a line of a kind from one point to another. */
export const pathOf = ({ run, apart = 0 }: KindMark, [ax, ay]: Point, [bx, by]: Point): string => {
  const [dx, dy] = [bx - ax, by - ay];
  const length = Math.hypot(dx, dy);
  if (run === "single" || length < 1) return `M${n(ax)} ${n(ay)}L${n(bx)} ${n(by)}`;
  const [nx, ny] = [-dy / length, dx / length];
  if (run === "double") {
    const [ox, oy] = [nx * apart, ny * apart];
    return `M${n(ax + ox)} ${n(ay + oy)}L${n(bx + ox)} ${n(by + oy)}M${n(ax - ox)} ${n(ay - oy)}L${n(bx - ox)} ${n(by - oy)}`;
  }
  const turns = Math.max(2, Math.round(length / 9));
  let path = `M${n(ax)} ${n(ay)}`;
  for (let i = 0; i < turns; i += 1) {
    const along = (i + 0.5) / turns;
    const side = i % 2 === 0 ? 3 : -3;
    path += `L${n(ax + dx * along + nx * side)} ${n(ay + dy * along + ny * side)}`;
  }
  return `${path}L${n(bx)} ${n(by)}`;
};
