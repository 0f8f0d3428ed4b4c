// Owns where everything of a tie chart is drawn: the assembly to scale in the middle, seen from above with the front upwards; the vehicle as the hull about it; every tie from its real
// place to a place of its own on the hull, by the position that it is worked on from, left positions on the left and right ones on the right.

import type { Point, Position, Vehicle } from "../../vehicle/index.ts";
import type { Scene, Tie } from "./scene.ts";

export type Spot = readonly [x: number, y: number];

export interface PlacedTie {
  readonly tie: Tie;
  readonly side: "left" | "right";
  /** At the assembly, and at the hull; of what is undone for the way only, both at the hull. */
  readonly inner: Spot;
  readonly outer: Spot;
}

export interface Sector {
  readonly id: string;
  readonly label: string;
  readonly side: "left" | "right";
  /** Of its heading, and of its last row. */
  readonly top: number;
  readonly bottom: number;
  readonly ties: readonly string[];
}

export interface DrawnPart {
  readonly id: string;
  readonly label: string;
  /** x, y, width, height. */
  readonly box: readonly [number, number, number, number];
}

export interface Layout {
  readonly width: number;
  readonly height: number;
  /** x, y, width, height of the vehicle. */
  readonly hull: readonly [number, number, number, number];
  readonly parts: readonly DrawnPart[];
  readonly ties: readonly PlacedTie[];
  /** Ties within the assembly: they reach nothing outside of it. */
  readonly within: readonly { readonly tie: Tie; readonly at: Spot }[];
  readonly sectors: readonly Sector[];
  /** Between two rows: a label fits where it is high enough. */
  readonly row: number;
}

/** Room for the labels beside the hull, as a share of the width, and between it and the edge. */
const LABELS = 0.275;
const EDGE = 14;
/** Of the room within the hull that the assembly takes at most. */
const FILLED = 0.46;
const HIGHEST_ROW = 24;
/** Empty rows between two sectors, the heading among them. */
const HEADING = 1.6;
/** How far what joins the vehicle to itself reaches inwards. */
const SHORT = 52;
/** A part without an outline is drawn as a square of this side, metres, and one without a place is left out. */
const SOME = 0.16;

interface Box {
  readonly low: readonly [number, number];
  readonly high: readonly [number, number];
}

/** Forward and left extent of a part, as far as the file gives it. */
const extentOf = ({ outline, centre }: Vehicle["parts"][number]): Box | undefined => {
  if (outline !== undefined && outline.length > 0)
    return {
      low: [Math.min(...outline.map(({ low }) => low[0])), Math.min(...outline.map(({ low }) => low[1]))],
      high: [Math.max(...outline.map(({ high }) => high[0])), Math.max(...outline.map(({ high }) => high[1]))],
    };
  if (centre === undefined) return undefined;
  return { low: [centre[0] - SOME / 2, centre[1] - SOME / 2], high: [centre[0] + SOME / 2, centre[1] + SOME / 2] };
};

const unite = (boxes: readonly Box[]): Box | undefined =>
  boxes.length === 0
    ? undefined
    : {
        low: [Math.min(...boxes.map(({ low }) => low[0])), Math.min(...boxes.map(({ low }) => low[1]))],
        high: [Math.max(...boxes.map(({ high }) => high[0])), Math.max(...boxes.map(({ high }) => high[1]))],
      };

/** The side of each position: by its place across; those in the middle go where there is less, so that both sides are read at the same size. */
const sidesOf = (vehicle: Vehicle, counts: ReadonlyMap<string, number>): ReadonlyMap<string, "left" | "right"> => {
  const sides = new Map<string, "left" | "right">();
  const rows = { left: 0, right: 0 };
  const put = (id: string, side: "left" | "right") => {
    sides.set(id, side);
    rows[side] += (counts.get(id) ?? 0) + HEADING;
  };
  const across = ({ at }: Position): number => at?.[1] ?? 0;
  const used = vehicle.positions.filter(({ id }) => counts.has(id));
  for (const one of used) if (Math.abs(across(one)) > 0.3) put(one.id, across(one) > 0 ? "left" : "right");
  const middle = [...used.filter(({ id }) => !sides.has(id)).map(({ id }) => id), ...(counts.has("") ? [""] : [])];
  middle.sort((a, b) => (counts.get(b) ?? 0) - (counts.get(a) ?? 0));
  for (const id of middle) put(id, rows.left <= rows.right ? "left" : "right");
  return sides;
};

const forward = (at: Point | undefined): number => at?.[0] ?? 0;

/**
 * @param aspect height over width of the place that it is drawn in
 * @param width in units of the drawing; text is 13 of them high
 */
export const layOut = (vehicle: Vehicle, scene: Scene, width: number, aspect: number, elsewhere: string): Layout => {
  const group = new Set(scene.assembly.parts);
  const isWithin = ({ joins }: Tie) => joins.every((part) => group.has(part));
  const shown = scene.ties.filter((tie) => !isWithin(tie));
  const counts = new Map<string, number>();
  for (const { position } of shown) counts.set(position, (counts.get(position) ?? 0) + 1);
  const sides = sidesOf(vehicle, counts);
  const places = new Map(vehicle.positions.map((one) => [one.id, one]));
  const of = (side: "left" | "right") =>
    [...counts.keys()]
      .filter((id) => sides.get(id) === side)
      .sort((a, b) => forward(places.get(b)?.at) - forward(places.get(a)?.at) || (a < b ? -1 : 1));
  const rowsOf = (ids: readonly string[]) => ids.reduce((sum, id) => sum + (counts.get(id) ?? 0) + HEADING, 0);
  const most = Math.max(1, rowsOf(of("left")), rowsOf(of("right")));
  const height = width * aspect;
  // As many as there are fit; what is too small to read is read when it is enlarged, or in the list.
  const row = Math.min(HIGHEST_ROW, (height - 2 * EDGE) / most);

  const side = width * LABELS;
  const hull = [side, EDGE, width - 2 * side, height - 2 * EDGE] as const;
  const middle: Spot = [width / 2, height / 2];

  const own = vehicle.parts.filter(({ id }) => group.has(id));
  const whole = unite(own.flatMap((part) => extentOf(part) ?? []));
  const size =
    whole === undefined ? undefined : ([whole.high[0] - whole.low[0], whole.high[1] - whole.low[1]] as const);
  const scale =
    size === undefined
      ? 1
      : Math.min((hull[3] * FILLED) / Math.max(size[0], 0.1), (hull[2] * FILLED) / Math.max(size[1], 0.1));
  const centre: Spot =
    whole === undefined ? [0, 0] : [(whole.low[0] + whole.high[0]) / 2, (whole.low[1] + whole.high[1]) / 2];
  /** From metres forward and to the left. */
  const place = ([x, y]: readonly [number, number]): Spot => [
    middle[0] - (y - centre[1]) * scale,
    middle[1] - (x - centre[0]) * scale,
  ];
  const parts = own.flatMap((part): DrawnPart[] => {
    const box = extentOf(part);
    if (box === undefined) return [];
    const [x, y] = place([box.high[0], box.high[1]]);
    return [
      {
        id: part.id,
        label: part.label,
        box: [x, y, (box.high[1] - box.low[1]) * scale, (box.high[0] - box.low[0]) * scale],
      },
    ];
  });
  // The largest first, so that what is small is drawn upon it.
  parts.sort((a, b) => b.box[2] * b.box[3] - a.box[2] * a.box[3]);

  const half = size === undefined ? [40, 40] : [(size[1] * scale) / 2, (size[0] * scale) / 2];
  /** Near the assembly: what the file has elsewhere, or nowhere, is drawn at its edge. */
  const near = ([x, y]: Spot): Spot => [
    Math.min(middle[0] + (half[0] ?? 0), Math.max(middle[0] - (half[0] ?? 0), x)),
    Math.min(middle[1] + (half[1] ?? 0), Math.max(middle[1] - (half[1] ?? 0), y)),
  ];
  const innerOf = (tie: Tie): Spot => {
    if (tie.at !== undefined) return near(place([tie.at[0], tie.at[1]]));
    const part = parts.find(({ id }) => tie.joins.includes(id));
    return part === undefined ? middle : [part.box[0] + part.box[2] / 2, part.box[1] + part.box[3] / 2];
  };

  const placed: PlacedTie[] = [];
  const sectors: Sector[] = [];
  for (const where of ["left", "right"] as const) {
    const ids = of(where);
    const x = where === "left" ? hull[0] : hull[0] + hull[2];
    // What is left of the height goes between the sectors.
    const spare = Math.max(0, height - 2 * EDGE - rowsOf(ids) * row) / (ids.length + 1);
    let y = EDGE + spare;
    for (const id of ids) {
      const own = shown.filter(({ position }) => position === id);
      const rows = own
        .map((tie) => ({ tie, inner: innerOf(tie) }))
        // As the ends at the assembly lie, so that few lines cross.
        .sort((a, b) => a.inner[1] - b.inner[1] || a.inner[0] - b.inner[0]);
      const top = y + row * 0.9;
      y += HEADING * row;
      for (const { tie, inner } of rows) {
        const outer: Spot = [x, y + row / 2];
        // What joins the vehicle to itself does not reach the assembly.
        const end: Spot = tie.isCut ? inner : [x + (where === "left" ? SHORT : -SHORT), outer[1]];
        placed.push({ tie, side: where, inner: end, outer });
        y += row;
      }
      sectors.push({
        id,
        label: id === "" ? elsewhere : (places.get(id)?.label ?? id),
        side: where,
        top,
        bottom: y,
        ties: own.map((tie) => tie.id),
      });
      y += spare;
    }
  }
  const within = scene.ties.filter(isWithin).map((tie) => ({ tie, at: innerOf(tie) }));
  return { width, height, hull, parts, ties: placed, within, sectors, row };
};
