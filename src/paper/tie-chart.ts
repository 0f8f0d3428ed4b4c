// Owns the tie chart on paper: each connection of a lift's cut as a line from the vehicle to the assembly, whole before, cut at the lift.

import type { Plan } from "../plan/index.ts";
import type { Connection, Vehicle } from "../vehicle/index.ts";
import { drawing, fitted, line, rect, words as text } from "./drawing.ts";
import type { Words } from "./said.ts";
import type { Block, FigureBlock, Paper, Sheet } from "./sheet.ts";
import { saidCode, type Tagging } from "./tag-faces.ts";

/** Millimetres: the page's width, the most that a row is high, where the walls and the assembly stand. */
const WIDE = 178;
const ROW = 6.5;
/** The lowest that a row is made, and the height there is for all of a page. */
const LOWEST = 3.7;
const ROOM: Readonly<Record<Paper, number>> = { a4: 206, letter: 182 };
const TOP = 10;
const WALL = 6;
/** Before: from the wall at 0 to the assembly; at the lift beside it. */
const BEFORE = { wall: 0, from: WALL, to: 104, assembly: 10 };
const AT_LIFT = { from: 130, to: 150, assembly: 10, box: 170 };

const STROKES = {
  carrying: 'stroke="#000" stroke-width=".9"',
  fluid: 'stroke="#000" stroke-width=".3"',
  electric: 'stroke="#000" stroke-width=".35" stroke-dasharray="1.2 .8"',
  other: 'stroke="#000" stroke-width=".3"',
} as const;

type Sort = keyof typeof STROKES;

const sortOf = ({ carrying, holds, live, kind }: Connection): Sort =>
  carrying
    ? "carrying"
    : holds !== undefined || kind === "hose" || kind === "line"
      ? "fluid"
      : live !== undefined || kind === "wire" || kind === "cable"
        ? "electric"
        : "other";

/** A line in the manner of its sort: what carries is thick, what holds a fluid double, what is electric dashed. */
const stroke = (sort: Sort, x1: number, x2: number, y: number): string =>
  sort === "fluid"
    ? line(x1, y - 0.45, x2, y - 0.45, STROKES.fluid) + line(x1, y + 0.45, x2, y + 0.45, STROKES.fluid)
    : line(x1, y, x2, y, STROKES[sort]);

/** Connections between the lifted parts and everything else. */
export const cutOf = (vehicle: Vehicle, parts: readonly string[]): readonly Connection[] => {
  const up = new Set(parts);
  return vehicle.connections.filter(
    ({ joins }) => joins.some((part) => up.has(part)) && joins.some((part) => !up.has(part)),
  );
};

interface Row {
  readonly step: number | undefined;
  readonly label: string;
  readonly code: string;
  readonly sort: Sort;
  readonly position: string;
}

export function chartSheet(vehicle: Vehicle, plan: Plan, tagging: Tagging, say: Words, paper: Paper): Sheet {
  const blocks = plan.lifts.flatMap(({ label, parts }, n): readonly Block[] => {
    const rows = rowsOf(
      vehicle,
      plan,
      parts.map(({ id }) => id),
      tagging,
    );
    const pages = Math.max(1, Math.ceil((rows.length * LOWEST) / ROOM[paper]));
    // As many on each page, so that none is small type and the next nearly empty.
    const most = Math.ceil(rows.length / pages);
    const row = Math.min(ROW, ROOM[paper] / Math.max(1, most));
    return [
      ...(n === 0 ? [] : [{ kind: "page" } as const]),
      { kind: "heading", level: 2, text: label },
      { kind: "text", text: say.chart.intro(rows.length, parts.map((part) => part.label).join(", ")) },
      ...Array.from({ length: pages }, (_, at): readonly Block[] => [
        ...(at === 0 ? [] : [{ kind: "page" } as const]),
        draw(rows.slice(at * most, (at + 1) * most), row, say),
      ]).flat(),
    ];
  });
  return {
    kind: "chart",
    title: say.chart.title,
    ...(blocks.length > 0 ? { blocks } : { blocks: [{ kind: "text", text: say.chart.noLift }], empty: true as const }),
  };
}

function rowsOf(vehicle: Vehicle, plan: Plan, parts: readonly string[], tagging: Tagging): readonly Row[] {
  const steps = new Map(
    [...plan.out, ...plan.work].flatMap(({ label, steps: list }) =>
      list.flatMap(({ action, id, number }) =>
        action === "release" || action === "loosen" ? [[id, { number, label }] as const] : [],
      ),
    ),
  );
  return cutOf(vehicle, parts)
    .map((connection) => {
      const step = steps.get(connection.id);
      return {
        step: step?.number,
        label: connection.label,
        code: saidCode(tagging, connection.id),
        sort: sortOf(connection),
        position: step?.label ?? "",
      };
    })
    .toSorted((a, b) => (a.step ?? 0) - (b.step ?? 0));
}

function draw(rows: readonly Row[], high: number, say: Words): FigureBlock {
  const { chart } = say;
  const end = TOP + rows.length * high + 2;
  const across = [
    rect(BEFORE.wall, TOP - 1, WALL, end - TOP + 1, 'fill="none" stroke="#000" stroke-width=".3"'),
    ...hatched(BEFORE.wall, TOP - 1, WALL, end - TOP + 1),
    rect(BEFORE.to, TOP - 1, BEFORE.assembly, end - TOP + 1, 'fill="none" stroke="#000" stroke-width=".6"'),
    rect(AT_LIFT.from - WALL, TOP - 1, WALL, end - TOP + 1, 'fill="none" stroke="#000" stroke-width=".3"'),
    ...hatched(AT_LIFT.from - WALL, TOP - 1, WALL, end - TOP + 1),
    // Cast off: the same assembly, a little higher.
    rect(AT_LIFT.to, TOP - 3, AT_LIFT.assembly, end - TOP + 1, 'fill="none" stroke="#000" stroke-width=".6"'),
    upright(BEFORE.to + BEFORE.assembly / 2 + 1.2, (TOP + end) / 2, chart.assembly),
    upright(AT_LIFT.to + AT_LIFT.assembly / 2 + 1.2, (TOP + end) / 2 - 2, chart.assembly),
    text(BEFORE.from + 1, 3.4, 3.6, chart.before, 'font-weight="bold"'),
    text(AT_LIFT.from - WALL, 3.4, 3.6, chart.atLift, 'font-weight="bold"'),
    text(WIDE, TOP - 4, 2.3, chart.seen, 'text-anchor="end"'),
    text(BEFORE.from + 1, TOP - 2.5, 2.5, `${chart.step}, ${chart.connection}`),
    text(BEFORE.to - 1, TOP - 2.5, 2.5, chart.code, 'text-anchor="end"'),
  ];
  const size = Math.min(3.2, 0.6 * high);
  const lines = rows.map(({ step, label, code, sort }, n) => {
    const y = TOP + (n + 0.78) * high;
    const name = fitted(label, size, 75);
    const gap = (AT_LIFT.to - AT_LIFT.from) * 0.28;
    return [
      stroke(sort, BEFORE.from, BEFORE.to, y),
      text(BEFORE.from + 7, y - 1, size, String(step ?? "–"), 'text-anchor="end" font-weight="bold"'),
      text(BEFORE.from + 9, y - 1, name.size, name.text),
      text(BEFORE.to - 1, y - 1, size, code, 'text-anchor="end"'),
      stroke(sort, AT_LIFT.from, AT_LIFT.from + gap, y),
      stroke(sort, AT_LIFT.to - gap, AT_LIFT.to, y - 2),
      text(AT_LIFT.box - 3, y, 2.5, String(step ?? "–"), 'text-anchor="end"'),
      rect(AT_LIFT.box, y - 2.6, 3.1, 3.1, 'fill="none" stroke="#000" stroke-width=".3"'),
    ].join("");
  });
  const legend = (["carrying", "fluid", "electric", "other"] as const).map((sort, n) => {
    const x = BEFORE.from + n * 40;
    return stroke(sort, x, x + 9, end + 5) + text(x + 10.5, end + 6, 2.6, chart.lines[sort]);
  });
  return {
    kind: "figure",
    svg: drawing(WIDE, end + 8, [...across, ...lines, ...legend]),
    alt: chart.alt(rows.map(({ step, label, code }) => `${step ?? "–"} ${label} ${code}`).join("; ")),
  };
}

const upright = (x: number, y: number, what: string): string =>
  `<text transform="translate(${x} ${y}) rotate(-90)" font-size="3.4" text-anchor="middle" letter-spacing=".4" font-weight="bold">${what}</text>`;

/** The wall's hatching: strokes at a slant, as ground is drawn. */
const hatched = (x: number, y: number, wide: number, high: number): readonly string[] => {
  const strokes: string[] = [];
  for (let at = 0; at + wide <= high; at += 4)
    strokes.push(line(x, y + at + wide, x + wide, y + at, 'stroke="#000" stroke-width=".15"'));
  return strokes;
};
