// Owns what the bearings below a body may carry over all that is not known, whatever their stiffness; how far it tilts on their give, and may lean before it tips.

import { DEGREES } from "./attitude.ts";
import { GRAVITY } from "./gravity.ts";
import { pointsOf, type Standing, standOf } from "./standing.ts";

export interface StandRange {
  /** Newtons that each bearing carries at the least and at the most: by statics alone, so nothing that stiffness decides lies outside. */
  readonly shares: readonly { readonly id: string; readonly low: number; readonly high: number }[];
  /** Degrees that it tilts on the bearings' give, the most of the corners of mass and centre; `sure`: all bearings press at each of them, and so it is the most of all. */
  readonly tilt: { readonly most: number; readonly sure: boolean };
  /** Degrees that what it stands on may lean before the centre, moved as unfavourably as it may be, is over the edge; absent: it is there already. */
  readonly leans?: number;
  /** Of two bearings: metres that one may be lower than the other before that. */
  readonly uneven?: number;
}

/** Undefined where not all of it is borne from below. */
export function standRange(body: Standing): StandRange | undefined {
  const { bearings, mass, centre, within } = body;
  if (bearings.length === 0 || bearings.some(({ bears }) => bears !== "from below")) return undefined;
  const corners = cornersOf(body);
  const stands = corners.flatMap(([x, y]) =>
    [mass.low, mass.high].map((kilograms) =>
      standOf({
        ...body,
        centre: [x, y, centre[2]],
        within: [0, 0, 0],
        mass: { nominal: kilograms, low: kilograms, high: kilograms },
      }),
    ),
  );
  const { margin } = standOf(body);
  const height = centre[2] + within[2] - Math.min(...bearings.map(({ at }) => at[2]));
  const leans = margin !== undefined && margin > 0 && height > 0 ? Math.atan2(margin, height) * DEGREES : undefined;
  const [first, second, ...more] = bearings;
  const span =
    second && more.length === 0 ? Math.hypot(first!.at[0] - second.at[0], first!.at[1] - second.at[1]) : undefined;
  return {
    shares: sharesOf(body, corners),
    tilt: {
      most: Math.max(...stands.map(({ pitch, roll }) => Math.hypot(pitch, roll))),
      sure: stands.every(({ falls, idle }) => !falls && idle.length === 0),
    },
    ...(leans === undefined ? {} : { leans }),
    ...(leans === undefined || span === undefined ? {} : { uneven: span * Math.tan(leans / DEGREES) }),
  };
}

/** Where the centre may be in plan, at the ends of what is not known. */
const cornersOf = ({ centre: [x, y], within: [dx, dy] }: Standing): (readonly [number, number])[] =>
  [-1, 1].flatMap((i) => [-1, 1].map((j) => [x + i * dx, y + j * dy] as const));

/**
 * Pushes of points that hold a centre somewhere in its box: a programme of four equations (all of the weight; its two moments; the centre a mean of its corners), so an extreme
 * is where at most four of the points and corners count (the fundamental theorem of linear programming). All such fours are tried.
 */
function sharesOf(body: Standing, corners: readonly (readonly [number, number])[]): StandRange["shares"] {
  const points = body.bearings.flatMap((bearing, i) => pointsOf(bearing, i));
  const columns = [...points.map(({ at: [x, y] }) => [1, x, y, 0]), ...corners.map(([x, y]) => [0, -x, -y, 1])];
  const found = body.bearings.map(() => ({ low: Number.POSITIVE_INFINITY, high: 0 }));
  for (const four of fours(columns.length)) {
    const parts = solved(four.map((k) => columns[k]!));
    if (parts === undefined || parts.some((part) => part < -1e-9)) continue;
    for (const [i, range] of found.entries()) {
      const share = four.reduce((sum, k, n) => sum + (points[k]?.bearing === i ? parts[n]! : 0), 0);
      range.low = Math.min(range.low, share);
      range.high = Math.max(range.high, share);
    }
  }
  const { low: light, high: heavy } = body.mass;
  return body.bearings.map(({ id }, i) => {
    const { low, high } = found[i]!;
    return { id, low: (Number.isFinite(low) ? Math.max(0, low) : 0) * light * GRAVITY, high: high * heavy * GRAVITY };
  });
}

/** Every four of so many. */
function* fours(count: number): Generator<readonly [number, number, number, number]> {
  for (let a = 0; a < count; a++)
    for (let b = a + 1; b < count; b++)
      for (let c = b + 1; c < count; c++) for (let d = c + 1; d < count; d++) yield [a, b, c, d];
}

/** The parts of four columns that make up [1, 0, 0, 1]; undefined where they do not tell. */
function solved(columns: readonly (readonly number[])[]): readonly number[] | undefined {
  const rows = [0, 1, 2, 3].map((i) => [...columns.map((column) => column[i]!), i === 0 || i === 3 ? 1 : 0]);
  for (let k = 0; k < 4; k++) {
    const pivot = rows.slice(k).reduce((best, row) => (Math.abs(row[k]!) > Math.abs(best[k]!) ? row : best));
    if (Math.abs(pivot[k]!) < 1e-10) return undefined;
    rows.splice(rows.indexOf(pivot), 1);
    rows.splice(k, 0, pivot);
    for (const row of rows) {
      if (row === pivot) continue;
      const factor = row[k]! / pivot[k]!;
      for (let j = k; j < 5; j++) row[j] = row[j]! - factor * pivot[j]!;
    }
  }
  return rows.map((row, k) => row[4]! / row[k]!);
}
