// Owns the torque sheet: each joint's target, tolerance, tool and places to write, and the pattern of each that has an order.

import { drawPattern } from "../fastening/index.ts";
import { drawnPattern, layoutOf, type Plan, type PlanStep, TORQUE_SHARE, torqueLimits } from "../plan/index.ts";
import { newtonMetres } from "../quantity/index.ts";
import { type Connection, permissibleDeviation, type Vehicle } from "../vehicle/index.ts";
import { LETTERS } from "./drawing.ts";
import type { Figures } from "./figures.ts";
import type { Words } from "./said.ts";
import type { Block, Cell, FigureBlock, Sheet } from "./sheet.ts";
import { saidCode, type Tagging } from "./tag-faces.ts";

/** Behind a tolerance that the file does not state. */
const PRACTICE = "*";

/** Joints of a sheet that does not need a page of its own. */
const SHORT = 8;

/** Steps of the way back that are tightened to a figure. */
export const torqued = (plan: Plan): readonly PlanStep[] =>
  [...plan.work, ...plan.back]
    .flatMap(({ steps }) => steps)
    .filter(
      ({ action, torque, tightening }) =>
        (action === "refit" || action === "tighten") && (torque !== undefined || tightening !== undefined),
    );

/** Whether a wrench that is in order may be off by more than the file allows. */
const isCoarse = (off: number, full: number, stated: PlanStep["torqueLimits"]): boolean =>
  stated !== undefined && off > Math.min(full - stated.low, stated.high - full);

export function torqueSheet(vehicle: Vehicle, plan: Plan, tagging: Tagging, words: Words, figures: Figures): Sheet {
  const say = words.torque;
  const steps = torqued(plan);
  const connections = new Map(vehicle.connections.map((one) => [one.id, one]));
  const said = (value: number): string => `${figures.places(value, 3)} N·m`;
  const isPractice = steps.some(({ torqueLimits: stated }) => stated === undefined);
  const rows = steps.map((step): readonly Cell[] => {
    const connection = connections.get(step.id);
    const full = step.tightening?.torque ?? step.torque ?? 0;
    const { low, high } = torqueLimits(full, step.torqueLimits);
    const off = permissibleDeviation(newtonMetres(full));
    const wrench = step.tools.filter((tool) => /wrench|torque|N·m/i.test(tool));
    const critical =
      connection !== undefined &&
      (connection.refit.critical ?? (connection.carrying && connection.refit.torque !== undefined));
    return [
      String(step.number),
      `${step.label} (${saidCode(tagging, step.id)})`,
      step.tightening?.proposal === true
        ? { strong: `${said(full)} ${say.proposal}` }
        : `${said(full)}${step.tightening?.turn === undefined ? "" : ` + ${figures.places(step.tightening.turn, 3)}°`}${(step.tightening?.fasteners ?? 1) > 1 ? ` (${step.tightening?.fasteners} ×)` : ""}`,
      `${figures.limits(low, high)}${step.torqueLimits === undefined ? PRACTICE : ""}`,
      // By the torque alone: the file does not say of what class a wrench is.
      `${wrench.join(", ") || say.noTool}, ±\u00a0${figures.number(100 * off, 0)}\u00a0%${isCoarse(off * full, full, step.torqueLimits) ? `: ${say.coarse}` : ""}`,
      { box: "write" },
      critical ? { box: "write" } : "–",
      { box: "write" },
      { box: "tick" },
    ];
  });
  return {
    kind: "torque",
    title: say.title,
    ...(rows.length === 0 ? { empty: true as const } : {}),
    ...(rows.length <= SHORT ? { joins: "whole" as const } : {}),
    blocks:
      rows.length === 0
        ? [{ kind: "text", text: say.none }]
        : [
            {
              kind: "text",
              text: `${say.intro} ${isPractice ? `${PRACTICE} ${say.practice(figures.number(100 * TORQUE_SHARE, 0))} ` : ""}${say.deviation}`,
            },
            {
              kind: "table",
              columns: [
                { title: say.step, width: { mm: 12 }, right: true },
                { title: say.joint, width: { share: 1 } },
                { title: say.target, width: { mm: 21 } },
                { title: say.band, width: { mm: 22 } },
                { title: say.tool, width: { mm: 29 } },
                { title: say.actual, width: { mm: 15 } },
                { title: say.second, width: { mm: 13 } },
                { title: say.initials, width: { mm: 14 } },
                { title: say.paint, width: { mm: 11 } },
              ],
              rows,
            },
            ...patternBlocks(steps, connections, words),
          ],
  };
}

function patternBlocks(
  steps: readonly PlanStep[],
  connections: ReadonlyMap<string, Connection>,
  { torque: say }: Words,
): readonly Block[] {
  const found = steps.flatMap((step) => {
    const connection = connections.get(step.id);
    const { tightening } = step;
    if (connection === undefined || tightening?.order === undefined) return [];
    const pattern = drawnPattern(connection, step.pattern, tightening.fasteners);
    if (pattern === undefined) return [];
    const known = layoutOf(connection) !== undefined;
    const items = new Map(
      connection.hardware.flatMap(({ item, holes = [] }) => holes.map((hole) => [hole, item] as const)),
    );
    const name = `${step.number} ${step.label}`;
    const svg = drawPattern(pattern, name, items, say.sizes)
      .replace(/<title>[\s\S]*?<\/desc>\n?/, "")
      .replace('font-family="sans-serif"', `font-family="${LETTERS}"`);
    return [{ svg, name, order: pattern.order.join(", "), known }];
  });
  // Joints that are drawn alike share a drawing.
  const alike = new Map<string, typeof found>();
  for (const one of found) {
    const key = `${one.known} ${one.svg}`;
    alike.set(key, [...(alike.get(key) ?? []), one]);
  }
  const drawn = [...alike.values()].flatMap((joints): readonly FigureBlock[] => {
    const [first] = joints;
    if (first === undefined) return [];
    const names = joints.map(({ name }) => name).join("; ");
    return [
      {
        kind: "figure",
        svg: first.svg,
        alt: `${names}: ${first.order}`,
        caption: first.known ? names : `${names}. ${say.circle}`,
        high: 62,
      },
    ];
  });
  return drawn.length === 0
    ? []
    : [
        { kind: "heading", level: 2, text: say.patterns },
        { kind: "figures", figures: drawn },
      ];
}
