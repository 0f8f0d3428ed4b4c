// Owns the picture of a hanging load: side, end and top elevation to one scale, as one SVG. What a colour says a shape, a dash or a word says too.

import { tiltOf, turned, turnOf } from "./attitude.ts";
import { GRAVITY } from "./gravity.ts";
import type { Box, Rig, Vector } from "./problem.ts";
import type { Ranges } from "./ranges.ts";
import type { Hanging, Tipping } from "./result.ts";
import { subtract } from "./vector.ts";

export interface PictureOptions {
  readonly title?: string;
  /** The ranges, when they are known: the centre's box is drawn, and tensions show their upper ends. */
  readonly ranges?: Ranges;
  /** What stands about the load, in its axes before the lift. Drawn as it lies beside the hanging load with the centre where it was built in. */
  readonly obstacles?: readonly Box[];
  /** Places on the load, in its axes, that are pointed at: ties that may still hold it. */
  readonly marks?: readonly { readonly id: string; readonly at: Vector }[];
}

interface View {
  readonly name: string;
  /** Which world coordinate goes to the right and which up, and their signs. */
  readonly across: readonly [0 | 1 | 2, 1 | -1];
  readonly upward: readonly [0 | 1 | 2, 1 | -1];
  readonly ahead: string;
}

const VIEWS: readonly View[] = [
  { name: "Side, from the left", across: [0, -1], upward: [2, 1], ahead: "front ◂" },
  { name: "End, from behind", across: [1, -1], upward: [2, 1], ahead: "left ◂" },
  { name: "Top", across: [0, -1], upward: [1, -1], ahead: "front ◂" },
];
const WIDE = 420;
const HIGH = 470;
const MARGIN = 56;
const TOP = 84;

/** Metres about the load within which what stands there is drawn. */
const ABOUT = 0.25;

/** A view by itself, for whoever sets the page and names it: its parts have classes, so that a page may draw them in its own ink. */
export interface DrawnView {
  readonly name: string;
  readonly svg: string;
  /** Where on its sheet what is drawn lies, so that a page may leave the empty margins out. */
  readonly left: number;
  readonly top: number;
  readonly wide: number;
  readonly high: number;
}

/** The elevations of a rig as it hangs, or of the balance that does not hold, to one scale, each a picture of its own; the same as in `drawHanging`. */
export function drawViews(rig: Rig, hanging: Hanging | Tipping, options: PictureOptions = {}): readonly DrawnView[] {
  const { drawn, scale, high, across } = elevationsOf(rig, hanging, options, 0);
  const named = rig.hooks.length > 1 ? NAMES : 0;
  const [top, tall] = [TOP + (HIGH - high) / 2 - ROUND - named, named + high + 2 * ROUND + 24];
  const bar = niceLength(90 / scale) * scale + BAR_TEXT;
  return drawn.map((parts, v) => {
    const left = (WIDE - across[v]!) / 2 - ROUND;
    return {
      name: VIEWS[v]!.name,
      left,
      top,
      wide: Math.max(across[v]! + 2 * ROUND, bar),
      high: tall,
      svg: [
        `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 ${n(top)} ${WIDE} ${n(tall)}" font-family="Noto Sans, DejaVu Sans, sans-serif" fill="#112">`,
        HATCH,
        parts,
        scaleBar(scale, Math.round(left), top + tall - 12),
        "</svg>",
      ].join("\n"),
    };
  });
}

/** About what is drawn, where a view stands by itself. */
const ROUND = 26;
/** Behind the bar of the scale, for its length in words. */
const BAR_TEXT = 60;
/** And above that, where hooks have their names over them. */
const NAMES = 16;

interface Elevations {
  readonly drawn: readonly string[];
  readonly scale: number;
  /** Of all views, and how wide each is. */
  readonly high: number;
  readonly across: readonly number[];
  readonly hasBeam: boolean;
}

/** @param apart how far to the right of the one before each view is drawn; 0: each by itself, and without its name */
function elevationsOf(rig: Rig, hanging: Hanging | Tipping, options: PictureOptions, apart: number): Elevations {
  const turn = turnOf(hanging.up);
  const world = (point: Vector): Vector => turned(turn, subtract(point, hanging.hook));
  const { centre, within, outline } = rig.load;
  const eyes = rig.eyes.map(({ id, at }) => ({ id, at: world(at) }));
  const eyeOf = new Map(rig.eyes.map(({ id, at }) => [id, at]));
  const doubt: Box = {
    id: "centre",
    low: centre.map((c, i) => c - within[i]!) as unknown as Vector,
    high: centre.map((c, i) => c + within[i]!) as unknown as Vector,
  };
  const solid = outline.map((box) =>
    cornersOf(bounded(box, [...eyes.map(({ id }) => eyeOf.get(id)!), centre])).map(world),
  );
  // Each leg from its lower end along its own direction: to the hook, or to the point of the beam that it hangs from.
  const upper = new Map<string, Vector>();
  const strands = rig.legs.map((leg, i) => {
    const state = hanging.legs[i]!;
    const eye = eyeOf.get(leg.lower);
    const from = eye === undefined ? upper.get(leg.lower) : world(eye);
    const to =
      eye === undefined
        ? ORIGIN
        : world(eye.map((x, k) => x + state.length * state.direction[k]!) as unknown as Vector);
    if (eye !== undefined) upper.set(leg.upper, to);
    return from === undefined ? undefined : { from, to };
  });
  const held = (id: string): readonly Vector[] => {
    const at = upper.get(id);
    return at === undefined ? [] : [at];
  };
  const beam = rig.beam?.points.flatMap(({ id }) => held(id)) ?? [];
  const hooks = rig.hooks.length === 1 ? [ORIGIN] : rig.hooks.flatMap(({ id }) => held(id));
  const all = [
    ...solid.flat(),
    ...beam,
    ...hooks,
    ...eyes.map(({ at }) => at),
    world(centre),
    ...cornersOf(doubt).map(world),
  ];
  const stood = standingAbout(options.obstacles ?? [], centre, world(centre), all);
  const shown = [...all, ...stood.flat()];
  const reach = VIEWS.map((view) => spanOf(shown, view));
  const scale = Math.min(
    ...reach.map(({ wide, high }) => Math.min((WIDE - 2 * MARGIN) / wide, (HIGH - 2 * MARGIN) / high)),
  );

  const drawn = VIEWS.map((view, v) => {
    const { left, bottom, wide, high } = reach[v]!;
    const [ox, oy] = [v * apart + (WIDE - wide * scale) / 2, TOP + MARGIN + (HIGH - 2 * MARGIN + high * scale) / 2];
    const at = (point: Vector): readonly [number, number] => [
      ox + (point[view.across[0]] * view.across[1] - left) * scale,
      oy - (point[view.upward[0]] * view.upward[1] - bottom) * scale,
    ];
    return viewOf(view, v, at);
  });

  function viewOf(view: View, v: number, at: (point: Vector) => readonly [number, number]): string {
    const parts: string[] =
      apart === 0
        ? []
        : [
            text(v * apart + WIDE / 2, TOP + 14, view.name, 17, "middle", "600"),
            text(v * apart + 14, TOP + 32, view.ahead, 14, "start"),
          ];
    for (const corners of stood) {
      const shape = hull(corners.map(at));
      parts.push(
        `<polygon points="${shape.map(pair).join(" ")}" class="about" fill="url(#hatch)" stroke="#776" stroke-width="1" stroke-dasharray="6 3"/>`,
      );
    }
    for (const corners of solid) {
      const shape = hull(corners.map(at));
      parts.push(
        `<polygon points="${shape.map(pair).join(" ")}" class="solid" fill="#eef1f4" stroke="#445" stroke-width="1.2"/>`,
      );
    }
    const below = world(centre);
    const [gx, gy] = at(below);
    // Plumb above the centre; under one hook it ends there.
    const [px, py] = at([below[0], below[1], Math.max(...hooks.map((hook) => hook[2]))]);
    parts.push(
      `<line x1="${n(px)}" y1="${n(py)}" x2="${n(gx)}" y2="${n(gy)}" class="plumb" stroke="#667" stroke-dasharray="2 4"/>`,
    );
    const labels: Label[] = [];
    if (beam.length > 0) {
      const shape = hull([...beam, ...(rig.beam?.pin === undefined ? [] : [ORIGIN])].map(at));
      parts.push(
        `<polygon points="${shape.map(pair).join(" ")}" class="beam" fill="#d9dee6" stroke="#124" stroke-width="2.2" stroke-linejoin="round"/>`,
        ...beam
          .map(at)
          .map(([x, y]) => `<rect x="${n(x - 4)}" y="${n(y - 4)}" width="8" height="8" class="point" fill="#124"/>`),
      );
    }
    for (const [i, leg] of hanging.legs.entries()) {
      const strand = strands[i];
      if (strand === undefined) continue;
      const [[x, y], [tx, ty]] = [at(strand.from), at(strand.to)];
      const slack = leg.tension <= 0;
      parts.push(
        `<line x1="${n(tx)}" y1="${n(ty)}" x2="${n(x)}" y2="${n(y)}" class="ink" stroke="#124" stroke-width="${slack ? 1 : 2.2}"${slack ? ' stroke-dasharray="7 5"' : ""}/>`,
      );
      labels.push({ x: x + (tx - x) * 0.34, y: y + (ty - y) * 0.34, text: String(i + 1) });
    }
    for (const { at: eye } of eyes) {
      const [x, y] = at(eye);
      parts.push(`<circle cx="${n(x)}" cy="${n(y)}" r="4" class="eye" fill="#fff" stroke="#124" stroke-width="1.6"/>`);
    }
    if (within.some((w) => w > 0)) {
      const shape = hull(cornersOf(doubt).map(world).map(at));
      parts.push(
        `<polygon points="${shape.map(pair).join(" ")}" class="doubt" fill="none" stroke="#a33" stroke-width="1" stroke-dasharray="3 2"/>`,
      );
    }
    parts.push(
      `<path d="M${n(gx - 7)} ${n(gy)}h14M${n(gx)} ${n(gy - 7)}v14" class="centre" stroke="#a33" stroke-width="1.6"/><circle cx="${n(gx)}" cy="${n(gy)}" r="4.5" class="centre" fill="none" stroke="#a33" stroke-width="1.6"/>`,
      ...hooks
        .map(at)
        .map(([x, y]) =>
          view.upward[0] === 2
            ? `<path d="M${n(x)} ${n(y - 15)}v8a6 6 0 1 1 -6 6" class="ink" fill="none" stroke="#124" stroke-width="3"/>`
            : `<circle cx="${n(x)}" cy="${n(y)}" r="8" class="ink" fill="none" stroke="#124" stroke-width="3"/>`,
        ),
    );
    for (const { x, y, text: label } of together(labels)) {
      const half = 5.5 + 3.5 * label.length;
      parts.push(
        `<rect x="${n(x - half)}" y="${n(y - 9)}" width="${n(2 * half)}" height="18" rx="9" class="eye" fill="#fff" stroke="#124"/>${text(x, y + 4, label, 11, "middle", "600")}`,
      );
    }
    for (const { id, at: place } of options.marks ?? []) {
      const [x, y] = at(world(place));
      parts.push(
        `<g class="tie"><path d="M${n(x - 9)} ${n(y)}h18M${n(x)} ${n(y - 9)}v18" stroke="#c02c06" stroke-width="2.4"/><circle cx="${n(x)}" cy="${n(y)}" r="8" fill="none" stroke="#c02c06" stroke-width="2.4"/>${text(x + 12, y - 8, id, 14, "start", "600")}</g>`,
      );
    }
    if (hooks.length > 1) {
      const above = view.upward[0] === 2;
      const names = hooks.map((hook, i) => {
        const [x, y] = at(hook);
        return above ? { x, y: y - 22, text: rig.hooks[i]!.id } : { x: x + 13, y: y + 5, text: rig.hooks[i]!.id };
      });
      for (const { x, y, text: name } of together(names)) parts.push(text(x, y, name, 13, above ? "middle" : "start"));
    }
    return parts.join("");
  }

  return {
    drawn,
    scale,
    high: scale * Math.max(...reach.map(({ high }) => high)),
    across: reach.map(({ wide }) => scale * wide),
    hasBeam: beam.length > 0,
  };
}

/** The rig as it hangs, or the balance that does not hold, with the beam and what stands about it before the lift. */
export function drawHanging(rig: Rig, hanging: Hanging | Tipping, options: PictureOptions = {}): string {
  const { drawn, scale, hasBeam } = elevationsOf(rig, hanging, options, WIDE);
  const rows = hanging.legs.map((leg, i) => {
    const range = options.ranges?.legs.find(({ id }) => id === leg.id);
    const force =
      leg.tension <= 0 ? `slack by ${(1000 * leg.slack).toFixed(0)} mm` : `${(leg.tension / 1000).toFixed(2)} kN`;
    const upper = range
      ? `, at most ${(range.tension.high.bound / 1000).toFixed(2)} kN${range.maySlack ? ", may hang slack" : ""}`
      : "";
    return `${i + 1}  ${leg.id}: ${force}, ${leg.angle.toFixed(1)}° from the horizontal${upper}`;
  });
  const tilt = (value: number, level: string, words: string): string =>
    Math.abs(value) < 0.05 ? level : `${Math.abs(value).toFixed(1)}° ${words}`;
  if (rig.beam !== undefined && hanging.kind === "hangs" && hanging.beam !== undefined)
    rows.push(`Beam, ${Number(rig.beam.mass.toFixed(1))} kg: ${tilt(tiltOf(hanging.beam.up), "level", "off level")}`);
  const height = TOP + HIGH + 40 + 22 * (rows.length + 2);
  const pitch = tilt(hanging.pitch, "level lengthwise", `nose ${hanging.pitch < 0 ? "up" : "down"}`);
  const roll = tilt(hanging.roll, "level across", `left side ${hanging.roll < 0 ? "down" : "up"}`);
  const said = headline(hanging, `${pitch}, ${roll}`);
  const base = TOP + HIGH;
  const title = options.title ?? "The load as it hangs";
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${3 * WIDE} ${height}" role="img" font-family="Noto Sans, DejaVu Sans, sans-serif" fill="#112">`,
    `<title>${escaped(title)}</title><desc>${escaped(`${said}. ${rows.join(". ")}`)}</desc>`,
    HATCH,
    `<rect width="${3 * WIDE}" height="${height}" fill="#fff"/>`,
    text(20, 32, title, 20, "start", "600"),
    text(20, 58, said, 16, "start"),
    ...drawn,
    scaleBar(scale, 20, base + 10),
    legend(220, base + 10, hasBeam),
    ...rows.map((row, i) => text(20, base + 46 + 22 * i, row, 16, "start")),
    text(
      20,
      base + 54 + 22 * rows.length,
      "A calculation aid. A competent person checks the lift by the makers' data and local rules.",
      14,
      "start",
    ),
    "</svg>",
  ].join("\n");
}

/** What is on the hooks and how it lies; of a load that tips first of all that it does. */
function headline(hanging: Hanging | Tipping, lies: string): string {
  if (hanging.kind === "tips") {
    const why = Number.isFinite(hanging.margin)
      ? `the centre is ${(-hanging.margin).toFixed(2)} m too high`
      : "the beam turns over, however low the centre is";
    return `IT TIPS: ${why}. Drawn is the balance that does not hold: ${lies}`;
  }
  const onHooks = hanging.hooks.map(
    ({ id, load }) =>
      `${(load / 1000).toFixed(2)} kN on ${hanging.hooks.length === 1 ? "the hook" : id} (${(load / GRAVITY).toFixed(0)} kg)`,
  );
  return `${onHooks.join(", ")}, ${lies}; the centre could be ${hanging.stability.margin.toFixed(2)} m higher before it tips`;
}

/** What stands within reach of the load, clipped to it, as the load hangs with its centre where it was built in; corners in the picture's axes. */
function standingAbout(
  obstacles: readonly Box[],
  centre: Vector,
  at: Vector,
  load: readonly Vector[],
): readonly (readonly Vector[])[] {
  const edge = (i: 0 | 1 | 2, side: 1 | -1): number =>
    side * (Math.max(...load.map((point) => side * point[i])) + ABOUT);
  return obstacles.flatMap(({ id, low, high }) => {
    const clip = (corner: Vector, side: 1 | -1): Vector =>
      corner.map((x, i) => {
        const k = i as 0 | 1 | 2;
        const moved = x - centre[k] + at[k];
        return side > 0 ? Math.min(moved, edge(k, 1)) : Math.max(moved, edge(k, -1));
      }) as unknown as Vector;
    const box: Box = { id, low: clip(low, -1), high: clip(high, 1) };
    return box.low.every((x, i) => x < box.high[i]!) ? [cornersOf(box)] : [];
  });
}

function scaleBar(scale: number, x: number, y: number): string {
  const bar = niceLength(90 / scale);
  return `<path class="ink" d="M${x} ${y - 4}v-8v4h${n(bar * scale)}v-4v8" fill="none" stroke="#112"/>${text(x + 8 + bar * scale, y, `${bar} m`, 14, "start")}`;
}

const ORIGIN: Vector = [0, 0, 0];
/** Hatching, so that what stands about is told from the load without colour. */
const HATCH =
  '<defs><pattern id="hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="7" height="7" class="ground" fill="#faf8f2"/><line y2="7" class="hatched" stroke="#998" stroke-width="1.6"/></pattern></defs>';

const legend = (x: number, y: number, beam: boolean): string =>
  `<circle cx="${x}" cy="${y - 4}" r="4" fill="#fff" stroke="#124" stroke-width="1.6"/>${text(x + 10, y, "eye", 14, "start")}` +
  `<path d="M${x + 53} ${y - 4}h14M${x + 60} ${y - 11}v14" stroke="#a33" stroke-width="1.6"/>${text(x + 74, y, "centre of mass, dashed: where it may be", 14, "start")}` +
  `<line x1="${x + 376}" y1="${y - 4}" x2="${x + 406}" y2="${y - 4}" stroke="#124" stroke-width="2.2"/>${text(x + 412, y, "leg that carries", 14, "start")}` +
  `<line x1="${x + 528}" y1="${y - 4}" x2="${x + 558}" y2="${y - 4}" stroke="#124" stroke-dasharray="7 5"/>${text(x + 564, y, "slack leg", 14, "start")}` +
  `<rect x="${x + 652}" y="${y - 12}" width="26" height="14" fill="url(#hatch)" stroke="#776" stroke-dasharray="6 3"/>${text(x + 684, y, "stands there before the lift", 14, "start")}` +
  (beam
    ? `<rect x="${x + 892}" y="${y - 10}" width="26" height="10" fill="#d9dee6" stroke="#124" stroke-width="2.2"/>${text(x + 924, y, "beam", 14, "start")}`
    : "");

interface Label {
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

/** Labels that fall on one another made into one: what lies behind is called where what lies before it is. */
function together(labels: readonly Label[]): Label[] {
  const placed: Label[] = [];
  for (const label of labels) {
    const i = placed.findIndex((other) => Math.hypot(other.x - label.x, other.y - label.y) < 19);
    if (i < 0) placed.push(label);
    else placed[i] = { ...placed[i]!, text: `${placed[i]!.text}, ${label.text}` };
  }
  return placed;
}

const n = (x: number): string => String(Math.round(x * 10) / 10);
const pair = ([x, y]: readonly [number, number]): string => `${n(x)},${n(y)}`;
const escaped = (words: string): string =>
  words.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");
const text = (x: number, y: number, words: string, size: number, anchor: string, weight = "400"): string =>
  `<text x="${n(x)}" y="${n(y)}" font-size="${size}" text-anchor="${anchor}" font-weight="${weight}">${escaped(words)}</text>`;

/** 1, 2 or 5 times a power of ten, at most this. */
function niceLength(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most));
  return Number(([5, 2, 1].find((each) => each * power <= most)! * power).toPrecision(1));
}

/** A box without sides is drawn as wide as what else there is. */
function bounded(box: Box, near: readonly Vector[]): Box {
  const clip = (x: number, i: 0 | 1 | 2): number =>
    x === Number.POSITIVE_INFINITY
      ? Math.max(...near.map((p) => p[i]))
      : x === Number.NEGATIVE_INFINITY
        ? Math.min(...near.map((p) => p[i]))
        : x;
  return {
    ...box,
    low: [clip(box.low[0], 0), clip(box.low[1], 1), clip(box.low[2], 2)],
    high: [clip(box.high[0], 0), clip(box.high[1], 1), clip(box.high[2], 2)],
  };
}

const cornersOf = ({ low, high }: Box): Vector[] =>
  [0, 1, 2, 3, 4, 5, 6, 7].map((code) => [
    code & 1 ? high[0] : low[0],
    code & 2 ? high[1] : low[1],
    code & 4 ? high[2] : low[2],
  ]);

function spanOf(
  points: readonly Vector[],
  { across, upward }: View,
): { readonly left: number; readonly bottom: number; readonly wide: number; readonly high: number } {
  const xs = points.map((p) => p[across[0]] * across[1]);
  const ys = points.map((p) => p[upward[0]] * upward[1]);
  const [left, bottom] = [Math.min(...xs), Math.min(...ys)];
  return { left, bottom, wide: Math.max(0.05, Math.max(...xs) - left), high: Math.max(0.05, Math.max(...ys) - bottom) };
}

/** The convex outline of points (Andrew's monotone chain, 1979). */
function hull(points: readonly (readonly [number, number])[]): (readonly [number, number])[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly (readonly [number, number])[]): (readonly [number, number])[] => {
    const chain: (readonly [number, number])[] = [];
    for (const p of list) {
      while (chain.length > 1) {
        const [a, b] = [chain.at(-2)!, chain.at(-1)!];
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
        chain.pop();
      }
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}
