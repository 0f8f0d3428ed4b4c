// Owns where the bolts of a joint are: coordinates as given, or a named layout laid out, and what shape that is.

import type { Answer, Fault } from "./fault.ts";

/** A bolt as seen from where the wrench is: x to the right, y up, metres. */
export interface Bolt {
  readonly id: string;
  readonly x: number;
  readonly y: number;
}

/**
 * Coordinates, or a layout with a name: a circle of so many (number 1 at the top, clockwise), a rectangle of rows and columns (A1, A2 …
 * from the upper left; `hollow`: only its edge has bolts), a line from left to right.
 */
export type Layout =
  | { readonly bolts: readonly Bolt[] }
  | { readonly circle: number }
  | { readonly rows: number; readonly columns: number; readonly hollow?: boolean }
  | { readonly line: number };

/** What a layout is, which decides how it is tightened. */
export type Shape = "even circle" | "symmetric" | "uneven";

/** Half the width of a named layout, metres: any size would do, its picture has none. */
const UNIT = 0.1;
/** Most bolts of one joint that anybody draws on one page. */
const MOST = 400;
/** How far a hole may lie off, as a share of the layout's size, and still be where symmetry wants it. */
const TRUE = 0.01;

export interface Polar {
  readonly bolt: Bolt;
  /** From the centre, in units of the farthest bolt's distance. */
  readonly radius: number;
  /** Clockwise from the top, in [0, 2π). */
  readonly angle: number;
}

/** The bolts of a layout, or its faults: none at all, two at one place, an id twice, a count that is none. */
export function layOut(layout: Layout): Answer<readonly Bolt[]> {
  const faults: Fault[] = [];
  const count = (at: string, value: number) => {
    if (Number.isInteger(value) && value >= 1 && value <= MOST) return;
    faults.push({
      rule: "not-a-count",
      at,
      what: `${value} bolts in a ${at} is no layout`,
      mend: `Give a whole number from 1 to ${MOST}.`,
      values: { value },
    });
  };
  if ("bolts" in layout && layout.bolts.length > MOST) count("list", layout.bolts.length);
  if ("circle" in layout) count("circle", layout.circle);
  if ("line" in layout) count("line", layout.line);
  if ("rows" in layout) {
    count("rows", layout.rows);
    count("columns", layout.columns);
    if (faults.length === 0 && layout.rows * layout.columns > MOST) count("rectangle", layout.rows * layout.columns);
  }
  if (faults.length > 0) return { faults };
  const bolts = place(layout);
  faults.push(...misplaced(bolts));
  return faults.length > 0 ? { faults } : { answer: bolts };
}

function place(layout: Layout): readonly Bolt[] {
  if ("bolts" in layout) return layout.bolts;
  if ("circle" in layout)
    return Array.from({ length: layout.circle }, (_, i) => {
      const angle = (2 * Math.PI * i) / layout.circle;
      return { id: String(i + 1), x: UNIT * Math.sin(angle), y: UNIT * Math.cos(angle) };
    });
  const rows = "line" in layout ? 1 : layout.rows;
  const columns = "line" in layout ? layout.line : layout.columns;
  const hollow = "rows" in layout && layout.hollow === true;
  const step = (2 * UNIT) / Math.max(rows - 1, columns - 1, 1);
  const bolts: Bolt[] = [];
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      if (hollow && row > 0 && row < rows - 1 && column > 0 && column < columns - 1) continue;
      bolts.push({
        id: "line" in layout ? String(column + 1) : `${letters(row)}${column + 1}`,
        x: (column - (columns - 1) / 2) * step,
        y: ((rows - 1) / 2 - row) * step,
      });
    }
  return bolts;
}

/** A, B … Z, AA, AB …: rows past the alphabet. */
const letters = (row: number): string =>
  (row >= 26 ? letters(Math.floor(row / 26) - 1) : "") + String.fromCharCode(65 + (row % 26));

function misplaced(bolts: readonly Bolt[]): Fault[] {
  if (bolts.length === 0)
    return [
      {
        rule: "empty-layout",
        at: "layout",
        what: "there is no bolt in it",
        mend: "Give coordinates, or a circle, a rectangle or a line of bolts.",
        values: {},
      },
    ];
  const faults: Fault[] = [];
  const at = (i: number) => `bolts/${i + 1}`;
  const ids = new Map<string, number>();
  for (const [i, { id, x, y }] of bolts.entries()) {
    const first = ids.get(id);
    if (first !== undefined)
      faults.push({
        rule: "id-twice",
        at: at(i),
        what: `two bolts are called ${id}`,
        mend: `Give this one or ${at(first)} another name.`,
        values: { id },
      });
    else ids.set(id, i);
    if (!(Number.isFinite(x) && Number.isFinite(y)))
      faults.push({
        rule: "same-place",
        at: at(i),
        what: `${id} is nowhere`,
        mend: "Give both its coordinates.",
        values: { id },
      });
  }
  for (const [i, one] of bolts.entries())
    for (const [j, other] of bolts.slice(0, i).entries())
      if (Math.hypot(one.x - other.x, one.y - other.y) < 1e-6)
        faults.push({
          rule: "same-place",
          at: at(i),
          what: `${one.id} is where ${other.id} is`,
          mend: `Correct the coordinates of this one or of ${at(j)}.`,
          values: { id: one.id, other: other.id },
        });
  return faults;
}

/** Centroid of the bolts, metres. */
export function centreOf(bolts: readonly Bolt[]): { readonly x: number; readonly y: number } {
  let [x, y] = [0, 0];
  for (const bolt of bolts) {
    x += bolt.x;
    y += bolt.y;
  }
  return { x: x / bolts.length, y: y / bolts.length };
}

/** Distance and clockwise angle of each bolt from the centroid, in the order given. */
export function polar(bolts: readonly Bolt[]): readonly Polar[] {
  const centre = centreOf(bolts);
  const far = Math.max(...bolts.map(({ x, y }) => Math.hypot(x - centre.x, y - centre.y)));
  return bolts.map((bolt) => {
    const [dx, dy] = [bolt.x - centre.x, bolt.y - centre.y];
    const radius = far === 0 ? 0 : Math.hypot(dx, dy) / far;
    // A hair left of the top is the top: rounding may not make it the last of the circle.
    const angle = radius < 1e-9 ? 0 : Math.atan2(dx, dy);
    return { bolt, radius, angle: angle < -1e-9 ? angle + 2 * Math.PI : Math.max(0, angle) };
  });
}

/** Direction of the long axis, radians from x: where the bolts spread most; 0 where they spread alike. */
function longAxis(bolts: readonly Bolt[]): number {
  const centre = centreOf(bolts);
  let [xx, yy, xy] = [0, 0, 0];
  for (const { x, y } of bolts) {
    xx += (x - centre.x) ** 2;
    yy += (y - centre.y) ** 2;
    xy += (x - centre.x) * (y - centre.y);
  }
  return Math.hypot(xx - yy, 2 * xy) < 1e-9 * (xx + yy) ? 0 : Math.atan2(2 * xy, xx - yy) / 2;
}

/** Coordinates along and across the long axis from the centroid, metres. */
export function along(
  bolts: readonly Bolt[],
): readonly { readonly bolt: Bolt; readonly u: number; readonly v: number }[] {
  const centre = centreOf(bolts);
  const axis = longAxis(bolts);
  const [cos, sin] = [Math.cos(axis), Math.sin(axis)];
  return bolts.map((bolt) => {
    const [dx, dy] = [bolt.x - centre.x, bolt.y - centre.y];
    return { bolt, u: dx * cos + dy * sin, v: dy * cos - dx * sin };
  });
}

/** What shape the bolts make: evenly round a circle, the same on both sides of both axes, or neither. */
export function shapeOf(bolts: readonly Bolt[]): Shape {
  const points = polar(bolts);
  if (bolts.length >= 3 && points.every(({ radius }) => radius > 1 - TRUE)) {
    const angles = points.map(({ angle }) => angle).sort((a, b) => a - b);
    const gap = (2 * Math.PI) / angles.length;
    if (angles.every((angle, i) => Math.abs(angle - (angles[0] as number) - i * gap) < TRUE * gap * 2))
      return "even circle";
  }
  const spots = along(bolts);
  const size = Math.max(...spots.map(({ u, v }) => Math.hypot(u, v)));
  const there = (u: number, v: number): boolean =>
    spots.some((spot) => Math.hypot(spot.u - u, spot.v - v) <= TRUE * size);
  return spots.every(({ u, v }) => there(-u, v) && there(u, -v)) ? "symmetric" : "uneven";
}
