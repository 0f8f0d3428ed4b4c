// Owns the picture of a position: the connections of a card where the file says they are, numbered as on the card, over the outlines of the parts.

import type { Point, Vehicle } from "../vehicle/index.ts";
import { circle, drawing, line, mm, onWhite, rect, words as text, widthOf } from "./drawing.ts";
import type { Words } from "./said.ts";
import type { FigureBlock } from "./sheet.ts";

export interface Placed {
  readonly number: number;
  readonly at: Point;
}

type View = "left" | "right" | "top";

const WIDE = 178;
/** Millimetres, by how many numbers there are to keep apart. */
const highOf = (numbers: number): number => (numbers <= 3 ? 48 : numbers <= 8 ? 60 : 74);
/** Without outlines there is less to see. */
const BARE = 44;
const MARGIN = 9;
/** Size of a number in its ring, and of the ring. */
const SIZE = 3.1;
const RING = 2.7;
/** Size of a part's name. */
const NAME = 2.5;
/** A place farther from the side than this is looked at from the side, metres; nearer the middle, or low down, from above. */
const ASIDE = 0.25;

/** From where most is seen: a person at a side looks at that side; beneath, in front and behind the plan view says more. */
const viewOf = (at: Point | undefined, points: readonly Point[]): View => {
  const middle = points.reduce((sum, [, y]) => sum + y, 0) / Math.max(1, points.length);
  const y = at?.[1] ?? middle;
  if (y > ASIDE) return "left";
  return y < -ASIDE ? "right" : "top";
};

const flatten = (view: View, [x, y, z]: Point): readonly [number, number] =>
  view === "left" ? [-x, z] : view === "right" ? [x, z] : [-x, -y];

interface Spot {
  readonly number: number;
  /** Where it is, and where its number stands. */
  readonly x: number;
  readonly y: number;
  readonly ring: { x: number; y: number };
}

/** Moves numbers apart until none covers another; each stays inside the picture. */
const spread = (spots: readonly Spot[], wide: number, high: number): void => {
  const apart = 2 * RING + 0.6;
  for (let round = 0; round < 200; round += 1) {
    let moved = false;
    for (const [i, one] of spots.entries())
      for (const other of spots.slice(i + 1)) {
        const [dx, dy] = [other.ring.x - one.ring.x, other.ring.y - one.ring.y];
        const distance = Math.hypot(dx, dy);
        if (distance >= apart) continue;
        moved = true;
        // Two at the very same place part along a direction that depends on nothing but their numbers.
        const angle = distance < 0.01 ? (one.number * 2.4 + other.number) % 6.28 : Math.atan2(dy, dx);
        const push = (apart - distance) / 2 + 0.05;
        one.ring.x -= Math.cos(angle) * push;
        one.ring.y -= Math.sin(angle) * push;
        other.ring.x += Math.cos(angle) * push;
        other.ring.y += Math.sin(angle) * push;
      }
    for (const { ring } of spots) {
      ring.x = Math.min(wide - RING - 0.5, Math.max(RING + 0.5, ring.x));
      ring.y = Math.min(high - RING - 0.5, Math.max(RING + 0.5, ring.y));
    }
    if (!moved) return;
  }
};

/** A round length of about a fifth of the picture, metres. */
const barOf = (metres: number): number => [5, 2, 1, 0.5, 0.2, 0.1, 0.05].find((one) => one <= metres / 4) ?? 0.02;

/** The picture; undefined where nothing of it has a place. */
export function positionPicture(
  vehicle: Vehicle,
  label: string,
  at: Point | undefined,
  placed: readonly Placed[],
  say: Words,
): FigureBlock | undefined {
  if (placed.length === 0) return undefined;
  const view = viewOf(
    at,
    placed.map((one) => one.at),
  );
  const boxes = vehicle.parts.flatMap(({ label: part, fixed, outline = [] }) =>
    outline.map(({ low, high }) => {
      const [a, b] = [flatten(view, low), flatten(view, high)];
      return {
        part,
        fixed,
        left: Math.min(a[0], b[0]),
        right: Math.max(a[0], b[0]),
        low: Math.min(a[1], b[1]),
        high: Math.max(a[1], b[1]),
      };
    }),
  );
  const points = placed.map((one) => flatten(view, one.at));
  // Without outlines the other connections say where on the machine it is.
  const others =
    boxes.length > 0
      ? []
      : vehicle.connections.flatMap(({ at: place }) =>
          place === undefined || placed.some((one) => one.at === place) ? [] : [flatten(view, place)],
        );
  const around = [...points, ...others].concat(
    boxes.flatMap(({ left, right, low, high }) => [[left, low] as const, [right, high] as const]),
  );
  const [left, right] = [Math.min(...around.map(([x]) => x)), Math.max(...around.map(([x]) => x))];
  const [low, high] = [Math.min(...around.map(([, y]) => y)), Math.max(...around.map(([, y]) => y))];
  const [spanX, spanY] = [Math.max(0.2, right - left), Math.max(0.1, high - low)];
  const scale = Math.min(
    (WIDE - 2 * MARGIN) / spanX,
    ((boxes.length > 0 ? highOf(placed.length) : BARE) - 2 * MARGIN) / spanY,
  );
  const tall = Math.max(26, spanY * scale + 2 * MARGIN);
  const shift = (WIDE - spanX * scale) / 2;
  const lift = (tall - spanY * scale) / 2;
  const X = (x: number) => shift + (x - left) * scale;
  const Y = (y: number) => tall - lift - (y - low) * scale;
  const spots: readonly Spot[] = placed.map(({ number }, n) => {
    const [x, y] = [X(points[n]?.[0] ?? 0), Y(points[n]?.[1] ?? 0)];
    return { number, x, y, ring: { x, y } };
  });
  spread(spots, WIDE, tall);
  const bar = barOf(spanX);
  // A part's name stands in a corner of its box that has the room for it and where no number is, and each part's once.
  const named = new Map<string, { readonly x: number; readonly y: number; readonly long: number }>();
  const nameAt = (part: string, box: { left: number; top: number; wide: number; deep: number }): string | undefined => {
    const long = widthOf(part, NAME);
    if (named.has(part) || long > box.wide - 2 || box.deep < NAME + 1.5) return undefined;
    const [near, far] = [box.left + 1.2, box.left + box.wide - 1.2 - long];
    const [upper, lower] = [box.top + 3.2, box.top + box.deep - 1.2];
    const free = [
      [near, upper],
      [near, lower],
      [far, upper],
      [far, lower],
      [(near + far) / 2, (upper + lower) / 2],
    ].find(
      ([x = 0, y = 0]) =>
        spots.every(
          ({ ring }) =>
            ring.x < x - RING || ring.x > x + long + RING || ring.y < y - NAME - RING || ring.y > y + RING + 0.5,
        ) &&
        [...named.values()].every(
          (other) => other.x > x + long + 1 || other.x + other.long + 1 < x || Math.abs(other.y - y) > NAME + 0.5,
        ),
    );
    const [x, y] = free ?? [];
    if (x === undefined || y === undefined) return undefined;
    named.set(part, { x, y, long });
    return onWhite(x + long / 2, y, NAME, part, 'fill="#333"');
  };
  const outlines = boxes.map(({ part, fixed, left: l, right: r, low: b, high: t }) => {
    const [wide, deep] = [(r - l) * scale, (t - b) * scale];
    return {
      box: rect(
        X(l),
        Y(t),
        wide,
        deep,
        `fill="none" stroke="#000" stroke-width=".2"${fixed ? ' stroke-dasharray="1.6 1"' : ""} opacity=".55"`,
      ),
      name: nameAt(part, { left: X(l), top: Y(t), wide, deep }) ?? "",
    };
  });
  // Beneath all rings, so that no line is drawn through a number.
  const leaders = spots.flatMap(({ x, y, ring }) =>
    Math.hypot(ring.x - x, ring.y - y) > RING ? [line(x, y, ring.x, ring.y) + circle(x, y, 0.5, 'fill="#000"')] : [],
  );
  const marks = spots.map(({ number, ring }) => {
    const size = String(number).length > 2 ? SIZE * 0.82 : SIZE;
    return [
      circle(ring.x, ring.y, RING, 'fill="#fff" stroke="#000" stroke-width=".35"'),
      text(ring.x, ring.y + 0.36 * size, size, String(number), 'text-anchor="middle" font-weight="bold"'),
    ].join("");
  });
  const under = tall + 5;
  const svg = drawing(WIDE, under + 2, [
    rect(0.2, 0.2, WIDE - 0.4, tall - 0.4, 'fill="none" stroke="#000" stroke-width=".2"'),
    ...outlines.map(({ box }) => box),
    ...outlines.map(({ name }) => name),
    ...others.map(([x, y]) => circle(X(x), Y(y), 1, 'fill="#fff" stroke="#000" stroke-width=".25"')),
    ...leaders,
    ...marks,
    `<path d="M${mm(WIDE - 2 - bar * scale)} ${mm(under - 2.6)}v1.6h${mm(bar * scale)}v-1.6" fill="none" stroke="#000" stroke-width=".3"/>`,
    text(
      WIDE - 4 - bar * scale,
      under - 0.8,
      2.6,
      `${bar < 1 ? `${Math.round(bar * 100)} cm` : `${bar} m`}`,
      'text-anchor="end"',
    ),
    text(0.5, under, 2.8, `${say.cards.view[view]}${others.length === 0 ? "" : `; ${say.cards.others}`}`),
  ]);
  return { kind: "figure", svg, alt: say.cards.picture(label, placed.map(({ number }) => number).join(", ")) };
}
