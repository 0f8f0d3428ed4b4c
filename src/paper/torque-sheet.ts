// Owns the torque sheet: each joint's target, tolerance, tool and places to write, and the pattern of each that has an order; and the hole cards.

import { type Bolt, drawPattern, layOut } from "../fastening/index.ts";
import { TORQUE_SHARE } from "../ledger/index.ts";
import { drawnPattern, layoutOf, type Plan, type PlanStep } from "../plan/index.ts";
import type { Connection, Vehicle } from "../vehicle/index.ts";
import { circle, drawing, LETTERS, line, words as text } from "./drawing.ts";
import type { Figures } from "./figures.ts";
import type { Block, Cell, FigureBlock, Paper, Sheet } from "./sheet.ts";
import { saidCode, type Tagging } from "./tag-faces.ts";
import type { Words } from "./words.ts";

/** Steps of the way back that are tightened to a figure. */
export const torqued = (plan: Plan): readonly PlanStep[] =>
  [...plan.work, ...plan.back]
    .flatMap(({ steps }) => steps)
    .filter(
      ({ action, torque, tightening }) =>
        (action === "refit" || action === "tighten") && (torque !== undefined || tightening !== undefined),
    );

export function torqueSheet(vehicle: Vehicle, plan: Plan, tagging: Tagging, words: Words, figures: Figures): Sheet {
  const say = words.torque;
  const steps = torqued(plan);
  const connections = new Map(vehicle.connections.map((one) => [one.id, one]));
  const newtonMetres = (value: number): string => `${figures.places(value, 3)} N·m`;
  const rows = steps.map((step): readonly Cell[] => {
    const connection = connections.get(step.id);
    const full = step.tightening?.torque ?? step.torque ?? 0;
    const wrench = step.tools.filter((tool) => /wrench|torque|N·m/i.test(tool));
    const critical =
      connection !== undefined &&
      (connection.refit.critical ?? (connection.carrying && connection.refit.torque !== undefined));
    return [
      String(step.number),
      `${step.label} (${saidCode(tagging, step.id)})`,
      step.tightening?.proposal === true
        ? { strong: `${newtonMetres(full)} ${say.proposal}` }
        : `${newtonMetres(full)}${step.tightening?.turn === undefined ? "" : ` + ${figures.places(step.tightening.turn, 3)}°`}${(step.tightening?.fasteners ?? 1) > 1 ? ` (${step.tightening?.fasteners} ×)` : ""}`,
      `${figures.places(full * (1 - TORQUE_SHARE), 3)}–${figures.places(full * (1 + TORQUE_SHARE), 3)}`,
      wrench.join(", ") || say.noTool,
      { box: "write" },
      critical ? { box: "write" } : "–",
      { box: "write" },
      { box: "tick" },
    ];
  });
  return {
    kind: "torque",
    title: say.title,
    blocks:
      rows.length === 0
        ? [{ kind: "text", text: say.none }]
        : [
            { kind: "text", text: `${say.intro} ${say.practice(figures.number(100 * TORQUE_SHARE, 0))}` },
            {
              kind: "table",
              columns: [
                { title: say.step, width: { mm: 12 }, right: true },
                { title: say.joint, width: { share: 1 } },
                { title: say.target, width: { mm: 24 } },
                { title: say.band, width: { mm: 18 } },
                { title: say.tool, width: { mm: 33 } },
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
  const drawn = steps.flatMap((step): readonly FigureBlock[] => {
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
    return [
      {
        kind: "figure",
        svg: drawPattern(pattern, name, items)
          .replace(/<title>[\s\S]*?<\/desc>\n?/, "")
          .replace('font-family="sans-serif"', `font-family="${LETTERS}"`),
        alt: `${name}: ${pattern.order.join(", ")}`,
        caption: known ? name : `${name}. ${say.circle}`,
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

/** Millimetres that a hole card may fill. */
const ROOM: Readonly<Record<Paper, { readonly wide: number; readonly high: number }>> = {
  a4: { wide: 178, high: 225 },
  letter: { wide: 184, high: 208 },
};
const AROUND = 16;

/** The cards to stick bolts through, at full size where the file gives the places and the paper holds them. */
export function holesSheet(
  vehicle: Vehicle,
  plan: Plan,
  tagging: Tagging,
  words: Words,
  figures: Figures,
  paper: Paper,
): Sheet {
  const out = new Map(
    [...plan.out, ...plan.work].flatMap(({ steps }) =>
      steps.flatMap(({ action, id, number }) => (action === "release" ? [[id, number] as const] : [])),
    ),
  );
  const blocks = vehicle.connections.flatMap((connection): readonly Block[] => {
    const number = out.get(connection.id);
    const lengths = new Set(connection.hardware.flatMap(({ item, holes }) => (holes === undefined ? [] : [item])));
    if (number === undefined || lengths.size < 2) return [];
    const layout = layoutOf(connection);
    const laid = layout === undefined ? undefined : layOut(layout);
    if (laid === undefined || !("answer" in laid)) return [];
    return [
      {
        kind: "heading",
        level: 2,
        text: `${number} ${connection.label}`,
        aside: saidCode(tagging, connection.id),
      },
      ...holeCard(connection, laid.answer, "bolts" in (layout ?? {}), words, figures, paper),
    ];
  });
  return {
    kind: "holes",
    title: words.tags.holes,
    blocks: blocks.length === 0 ? [{ kind: "text", text: words.tags.noHoles }] : blocks,
  };
}

function holeCard(
  { label, hardware }: Connection,
  bolts: readonly Bolt[],
  measured: boolean,
  { tags }: Words,
  figures: Figures,
  paper: Paper,
): readonly Block[] {
  const xs = bolts.map(({ x }) => 1000 * x);
  const ys = bolts.map(({ y }) => 1000 * y);
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const room = ROOM[paper];
  const full = Math.min(
    (room.wide - 2 * AROUND) / Math.max(1, right - left),
    (room.high - 2 * AROUND) / Math.max(1, high - low),
  );
  const scale = measured ? Math.min(1, full) : Math.min(full, 120 / Math.max(right - left, high - low, 1));
  const wide = Math.max(70, (right - left) * scale + 2 * AROUND);
  const tall = (high - low) * scale + 2 * AROUND;
  const shift = (wide - (right - left) * scale) / 2;
  const items = new Map(hardware.flatMap(({ item, holes = [] }) => holes.map((hole) => [hole, item] as const)));
  const diameter = (item: string): number => Number(/M(\d+(?:\.\d+)?)/.exec(item)?.[1] ?? 6);
  const marks = bolts.map(({ id, x, y }) => {
    const [px, py] = [shift + (1000 * x - left) * scale, AROUND + (high - 1000 * y) * scale];
    const item = items.get(id) ?? hardware[0]?.item ?? "";
    // A bolt is as thick on a card that is drawn smaller.
    const radius = diameter(item) / 2;
    return [
      circle(px, py, radius, 'fill="none" stroke="#000" stroke-width=".35"'),
      line(px - radius, py, px + radius, py, 'stroke="#000" stroke-width=".15"'),
      line(px, py - radius, px, py + radius, 'stroke="#000" stroke-width=".15"'),
      text(px, py - radius - 1.4, 3.2, shortOf(item), 'text-anchor="middle" font-weight="bold"'),
      text(px, py + radius + 3.6, 2.6, id, 'text-anchor="middle"'),
    ].join("");
  });
  const bar = measured
    ? [
        `<path d="M4 ${tall + 3}v2h${50 * scale}v-2" fill="none" stroke="#000" stroke-width=".3"/>`,
        text(6 + 50 * scale, tall + 5, 2.8, "50 mm"),
      ]
    : [];
  const told = [...new Set(items.values())].map(
    (item) => `${shortOf(item)}: ${[...items].flatMap(([hole, own]) => (own === item ? [hole] : [])).join(", ")}`,
  );
  return [
    {
      kind: "text",
      text: measured ? (scale < 1 ? tags.reduced(`1 : ${figures.number(1 / scale, 2)}`) : tags.fullSize) : tags.noSize,
    },
    {
      kind: "figure",
      svg: drawing(wide, tall + 8, [...marks, ...bar]),
      alt: tags.holeAlt(label, told.join("; ")),
      wide,
    },
    { kind: "text", small: true, text: told.join("; ") },
  ];
}

/** "bolt M10×45" → "M10×45". */
const shortOf = (item: string): string => /[M#]?\d\S*(?:\s*[×x]\s*\S+)?/.exec(item)?.[0] ?? item;
