// Owns the ranges of a rig with a beam or two hooks: proved where every leg is sure to pull, tried where it is not.
//
// Where all legs pull whatever the case, the equations of balance are the same ones everywhere, and tubes about their solution hold every case (tube.ts). The box of what
// is not known is cut into orthants at the nominal figures where it is too wide for one tube: the straight way from there to any case stays within one of them.

import { DEGREES } from "./attitude.ts";
import type { Rested } from "./bodies.ts";
import type { Edges } from "./enclose.ts";
import { Equations } from "./equations.ts";
import { GRAVITY } from "./gravity.ts";
import { hangSound } from "./hang.ts";
import { restThatHolds } from "./hang-bodies.ts";
import { madeLength, stiffnessBounds } from "./leg.ts";
import type { Rig, Vector } from "./problem.ts";
import type { Case, End, Range, RangeResult, Ranges } from "./ranges.ts";
import type { Hanging } from "./result.ts";
import { mixesOf } from "./statics.ts";
import { attitudeTried, rangesTried } from "./tried.ts";
import { regular, type System, type Tube, tubeOf } from "./tube.ts";
import { distance } from "./vector.ts";

/** Figures that the box is cut at, one attempt after the other: 1, 4, 16 tubes. */
const CUTS = [0, 2, 4] as const;

export const TIPPING: RangeResult = { kind: "unbounded", why: { is: "tips" } };

/** The ranges of a sound rig with a beam or two hooks. */
export function rangesOfBodies(rig: Rig): RangeResult {
  // The equations of balance hold just as well where the balance does not.
  return hangSound(rig).kind === "tips" ? TIPPING : (proved(rig) ?? rangesTried(rig));
}

/** Its attitude alone, which takes a fraction of that where it is only tried. */
export function attitudeOfBodies(rig: Rig): (Pick<Ranges, "pitch" | "roll"> & { readonly tried?: true }) | undefined {
  if (hangSound(rig).kind === "tips") return undefined;
  const found = proved(rig);
  if (found !== undefined) return found;
  const tried = attitudeTried(rig);
  return tried && { ...tried, tried: true };
}

function proved(rig: Rig): Ranges | undefined {
  const { rested } = restThatHolds(rig);
  if (rested.still.strained || rested.still.pulls.some((pull) => !(pull > 0))) return undefined;
  // How more legs share than statics can tell hangs on their stiffness, and on a table's nothing is counted.
  if (rig.legs.some(({ stiffnessWithin }) => stiffnessWithin === undefined) && !toldByStatics(rested)) return undefined;
  const balanced = systemOf(rig, rested);
  const tubes = tubesOf(rig, balanced);
  return tubes && provedBy(rig, balanced, tubes);
}

/** Whether no pulls balance one another. */
function toldByStatics(rested: Rested): boolean {
  const { values } = mixesOf(rested);
  return values[0]! > TOLD * values.at(-1)!;
}
const TOLD = 1e-5;

/** How four and more legs of known stiffness to one hook share, where all of them are sure to pull. */
export function sharedBy(rig: Rig): Ranges | undefined {
  if (rig.legs.length < 4 || rig.legs.some(({ stiffnessWithin }) => stiffnessWithin === undefined)) return undefined;
  const hung = hangSound(rig);
  if (hung.kind !== "hangs") return undefined;
  const least = Math.min(...hung.legs.map(({ tension }) => tension));
  // Stiff legs slacken by what their lengths may be out, and the sharing is any: not worth the asking.
  if (rig.legs.some(({ length, within, stiffnessWithin }) => (within * stiffnessWithin![1]) / length > least))
    return undefined;
  return proved(rig);
}

/** The outputs of the equations, in order: u_x, u_y/u_z, height, of each leg its pull and the sine of its angle, of each hook its load. */
const OUTPUT = { forward: 0, aside: 1, height: 2, legs: 3 } as const;

interface Balanced {
  /** With the load's centre so much higher, metres. */
  readonly system: (raised: number) => System;
  readonly start: readonly number[];
  /** Heights of the hooks. */
  readonly hooks: readonly number[];
}

function systemOf(rig: Rig, { still, hooks }: Rested): Balanced {
  const all = rig.legs.map((_, i) => i);
  const [load, beam] = still.poses;
  const stance = { load: load!, ...(beam ? { beam } : {}), hooks: new Map(hooks.map(({ id, at }) => [id, at])) };
  const equations = new Equations(rig, stance, all);
  const system = (raised: number): System => ({
    unknowns: equations.unknowns,
    at: (m, x, [mass, cx, cy, cz, ...more]) => {
      const [lengths, gives] = [more.slice(0, all.length), more.slice(all.length)];
      const figures = { mass: mass!, centre: [cx!, cy!, cz!] as const, lengths, gives };
      const { off, up, overCentre, legs, hooks: loads } = equations.at(m, x, figures, raised);
      const forces = legs.flatMap(({ pull, steepness }) => [pull!, steepness]);
      return { off, out: [up[0], m.times(up[1], m.inverse(up[2])), overCentre, ...forces, ...loads] };
    },
  });
  const stretched = rig.legs.map(
    (leg, i) => madeLength(leg) * (1 + still.pulls[i]! / (leg.stiffness ?? Number.POSITIVE_INFINITY)),
  );
  return {
    system,
    hooks: hooks.map(({ at }) => at[2]),
    start: [...new Array<number>(equations.poses).fill(0), ...all.map((i) => still.pulls[i]! / stretched[i]!)],
  };
}

/** Nominal figures and their bounds, in the order of the equations: kilograms, the centre, lengths, 1/EA. */
function figuresOf(rig: Rig): { readonly nominal: readonly number[]; readonly box: Edges } {
  const { mass, centre, within } = rig.load;
  const made = rig.legs.map(madeLength);
  const give = (stiffness: number | undefined): number => (stiffness === undefined ? 0 : 1 / stiffness);
  return {
    nominal: [mass.nominal, ...centre, ...made, ...rig.legs.map(({ stiffness }) => give(stiffness))],
    box: [
      [mass.low, mass.high],
      ...centre.map((c, i) => [c - within[i]!, c + within[i]!] as const),
      ...rig.legs.map(({ within: play }, i) => [made[i]! - play, made[i]! + play] as const),
      ...rig.legs.map((leg) => {
        const [low, high] = stiffnessBounds(leg) ?? [];
        return [give(high), give(low)] as const;
      }),
    ],
  };
}

interface Boxed {
  readonly tube: Tube;
  readonly box: Edges;
}

/** Tubes that hold every case between them, or nothing. */
function tubesOf(rig: Rig, { system, start }: Balanced): readonly Boxed[] | undefined {
  const { nominal, box } = figuresOf(rig);
  let heavy: readonly number[] = [];
  for (const cuts of CUTS) {
    const at = heavy.slice(0, cuts).filter((i) => box[i]![0] < nominal[i]! && nominal[i]! < box[i]![1]);
    if (cuts > 0 && at.length === 0) return undefined;
    const tubes: Boxed[] = [];
    for (const part of orthants(box, nominal, at)) {
      const found = tubeOf(system(0), start, part);
      if (!("outputs" in found)) {
        heavy = found.heavy;
        break;
      }
      if (!holdsStart(found, part, nominal, start)) return undefined;
      tubes.push({ tube: found, box: part });
    }
    if (tubes.length === 2 ** at.length) return tubes;
  }
  return undefined;
}

/** The box cut in two at the nominal value of each of these figures. */
function orthants(box: Edges, nominal: readonly number[], at: readonly number[]): Edges[] {
  return at.reduce<Edges[]>(
    (parts, i) =>
      parts.flatMap((part) => [part.with(i, [part[i]![0], nominal[i]!]), part.with(i, [nominal[i]!, part[i]![1]])]),
    [box],
  );
}

/** Whether the hanging at the nominal figures is within the tube. */
function holdsStart(
  { wide, models, unknowns }: Tube,
  box: Edges,
  nominal: readonly number[],
  start: readonly number[],
): boolean {
  const at = wide.map((i) => (2 * nominal[i]! - box[i]![0] - box[i]![1]) / (box[i]![1] - box[i]![0]));
  return unknowns.every(
    (model, i) => Math.abs(models.valueAt(model, at) - start[i]!) <= model.over + 1e-9 * (1 + Math.abs(start[i]!)),
  );
}

const pitchOf = (forward: number): number => -Math.asin(Math.max(-1, Math.min(1, forward))) * DEGREES;
const rollOf = (aside: number): number => Math.atan(aside) * DEGREES;
const angleOf = (sine: number): number => Math.asin(Math.max(-1, Math.min(1, sine))) * DEGREES;
const itself = (x: number): number => x;

function provedBy(rig: Rig, balanced: Balanced, tubes: readonly Boxed[]): Ranges | undefined {
  const cases = new Cases(rig);
  const ends = (output: number, sign: 1 | -1): number => {
    let most = Number.NEGATIVE_INFINITY;
    let worst: readonly number[] = [];
    for (const { tube, box } of tubes) {
      const { bound, at } = tube.models.end(tube.outputs[output]!, sign);
      if (sign * bound <= most) continue;
      most = sign * bound;
      const corner = figuresOf(rig).nominal.slice();
      for (const [k, i] of tube.wide.entries()) {
        const [lo, hi] = box[i]!;
        corner[i] = at[k]! > 0 ? hi : at[k]! < 0 ? lo : (lo + hi) / 2;
      }
      worst = corner;
    }
    cases.hang(worst);
    return sign * most;
  };
  const wanted: {
    readonly output: number;
    readonly value: (x: number) => number;
    readonly falls?: true;
    readonly read: (hung: Hanging) => number;
  }[] = [
    { output: OUTPUT.forward, value: pitchOf, falls: true, read: ({ pitch }) => pitch },
    { output: OUTPUT.aside, value: rollOf, read: ({ roll }) => roll },
    { output: OUTPUT.height, value: itself, read: ({ overCentre }) => overCentre },
    ...rig.legs.flatMap((_, i) => [
      { output: OUTPUT.legs + 2 * i, value: itself, read: ({ legs }: Hanging) => legs[i]!.tension },
      { output: OUTPUT.legs + 2 * i + 1, value: angleOf, read: ({ legs }: Hanging) => legs[i]!.angle },
    ]),
    ...rig.hooks.map((_, i) => ({
      output: OUTPUT.legs + 2 * rig.legs.length + i,
      value: itself,
      read: ({ hooks }: Hanging) => hooks[i]!.load,
    })),
  ];
  const bounds = wanted.map(({ output, value, falls }) => {
    const pair = [value(ends(output, -1)), value(ends(output, 1))] as const;
    return falls ? ([pair[1], pair[0]] as const) : pair;
  });
  // A leg that may hang slack makes the equations others.
  if (rig.legs.some((_, i) => !(bounds[3 + 2 * i]![0] > 0))) return undefined;
  if (cases.lost) return undefined;
  const margin = marginOf(rig, balanced, tubes, cases, bounds[2]![1]);
  if (margin === undefined) return undefined;
  const ranges = wanted.map(
    ({ read }, k): Range => ({
      low: cases.end(read, -1, bounds[k]![0]),
      high: cases.end(read, 1, bounds[k]![1]),
    }),
  );
  const [pitch, roll, overCentre] = ranges;
  return {
    kind: "ranges",
    pitch: pitch!,
    roll: roll!,
    overCentre: overCentre!,
    margin,
    legs: rig.legs.map(({ id }, i) => ({
      id,
      tension: ranges[3 + 2 * i]!,
      angle: ranges[4 + 2 * i]!,
      maySlack: false,
    })),
    hooks: rig.hooks.map(({ id }, i) => ({ id, load: ranges[3 + 2 * rig.legs.length + i]! })),
    weight: [rig.load.mass.low * GRAVITY, rig.load.mass.high * GRAVITY],
    status: "proved",
    carrying: [rig.legs.map(({ id }) => id)],
  };
}

/** Below the least of the cases, as shares of the way between them and of the least: the nearest that is proved is the bound. */
const BELOW = [
  [0.5, 0.02],
  [1.5, 0.12],
  [0, 0.5],
  [0, 0.75],
  [0, 0.9],
] as const;

/**
 * The margin against tipping. With the centre raised by s nothing else changes; where the slope of the equations is then regular for every case, the load stands as it does at
 * the nominal figures: it tips at no case before s. And it always tips before the centre is as high as the hooks, for all of it can turn about them.
 */
function marginOf(
  rig: Rig,
  { system, hooks }: Balanced,
  tubes: readonly Boxed[],
  cases: Cases,
  height: number,
): Range | undefined {
  const read = ({ stability }: Hanging): number => stability.margin;
  const [low, high] = [cases.end(read, -1), cases.end(read, 1)];
  const sure = (raised: number): boolean => tubes.every(({ tube, box }) => regular(system(raised), tube, box));
  const least =
    BELOW.map(([way, share]) => low.reached * (1 - share) - way * (high.reached - low.reached)).find(
      (s) => s > 0 && sure(s),
    ) ?? (sure(0) ? 0 : undefined);
  if (least === undefined) return undefined;
  const most = height + higherHook(hooks) + beamTurning(rig);
  return { low: { ...low, bound: least }, high: { ...high, bound: most } };
}

/** Metres from the middle of the hooks to the higher one. */
const higherHook = (hooks: readonly number[]): number =>
  Math.max(...hooks) - hooks.reduce((sum, z) => sum + z, 0) / hooks.length;

/** Metres of the load's centre that the beam's weight stands for when all of it turns about the hooks. */
function beamTurning({ beam, load, legs }: Rig): number {
  if (beam === undefined) return 0;
  const far = beam.points.reduce((most, { at }) => Math.max(most, distance(at, beam.centre)), 0);
  const up = Math.max(
    0,
    ...legs.map((leg) => (beam.points.some(({ id }) => id === leg.lower) ? leg.length + leg.within : 0)),
  );
  return (beam.mass / load.mass.low) * (far + up);
}

/** Cases hung one by one, each once. */
class Cases {
  lost = false;
  private readonly rig: Rig;
  private readonly known = new Map<string, { readonly hung: Hanging; readonly at: Case }>();

  constructor(rig: Rig) {
    this.rig = rig;
    this.hang(figuresOf(rig).nominal);
  }

  hang(figures: readonly number[]): void {
    const key = figures.join();
    if (this.known.has(key)) return;
    const [mass, x, y, z, ...more] = figures;
    const n = this.rig.legs.length;
    const stretches = this.rig.legs.some(({ stiffness }) => stiffness !== undefined);
    const sample = {
      mass: mass!,
      centre: [x!, y!, z!] as Vector,
      lengths: more.slice(0, n),
      ...(stretches ? { stiffness: more.slice(n).map((give) => 1 / give) } : {}),
    };
    const hung = hangSound(this.rig, { sample });
    if (hung.kind !== "hangs") this.lost = true;
    else this.known.set(key, { hung, at: { ...sample, carrying: this.rig.legs.map(({ id }) => id) } });
  }

  /** The case that goes farthest, and the bound where there is one. */
  end(read: (hung: Hanging) => number, sign: 1 | -1, bound?: number): End {
    const all = [...this.known.values()];
    const worst = all.reduce((a, b) => (sign * read(b.hung) > sign * read(a.hung) ? b : a));
    const reached = read(worst.hung);
    return { bound: bound ?? reached, reached, at: worst.at };
  }
}
