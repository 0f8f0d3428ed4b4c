// Owns the balance of a rig of bodies as equations: the poses of load and beam and the pulls of taut legs, against mass, centre, lengths and give, all as models of what moves.
//
// Unknown are, of each body, the shift of one point and a turn ω, the tangent of half its angle along its axis (Cayley), both from where it hangs with the figures as they
// are; and of each taut leg its pull a metre, σ = T/|d|, so that forces are Σσ·d, without a root. docs/rigging.md, "Ranges".

import { GRAVITY } from "./gravity.ts";
import { type Pose, placeOf, turnBy } from "./pose.ts";
import type { Rig, Vector } from "./problem.ts";
import type { Arithmetic } from "./taylor.ts";
import { subtract } from "./vector.ts";

type Triple<T> = readonly [T, T, T];

/** Where the bodies hang with the figures as they are, world axes; and the hooks. */
export interface Stance {
  readonly load: Pose;
  readonly beam?: Pose;
  readonly hooks: ReadonlyMap<string, Vector>;
}

/** What is not known: kilograms, the centre's coordinates, metres of each leg without load, and 1/EA of each. */
export interface Figures<T> {
  readonly mass: T;
  readonly centre: Triple<T>;
  readonly lengths: readonly T[];
  readonly gives: readonly T[];
}

/** What follows from poses and pulls. */
export interface Balance<T> {
  /** Nought where all is in balance and each taut leg as long as its pull makes it; as many as there are unknowns. */
  readonly off: readonly T[];
  /** World-up in the load's axes. */
  readonly up: Triple<T>;
  /** Metres from the middle of the hooks down to the centre. */
  readonly overCentre: T;
  readonly legs: readonly LegBalance<T>[];
  /** Newtons on each hook. */
  readonly hooks: readonly T[];
}
export interface LegBalance<T> {
  /** Newtons; of a leg that is not taut none. */
  readonly pull?: T;
  /** Metres between its ends; and the sine of its angle from the horizontal. */
  readonly reach: T;
  readonly steepness: T;
}

type BodyName = "load" | "beam";
interface Frame {
  /** First unknown of its shift (absent: pinned) and of its turn, and about how many axes it turns. */
  readonly shift?: number;
  readonly turn: number;
  readonly axes: 2 | 3;
  /** The point that is shifted, in body axes, and where it was. */
  readonly from: Vector;
  readonly at: Vector;
  readonly pose: Pose;
}

/** The equations of a rig in which these legs (indices) are taut. */
export class Equations {
  readonly unknowns: number;
  /** Unknowns that are poses; the pulls come after them. */
  readonly poses: number;
  readonly taut: readonly number[];
  private readonly rig: Rig;
  private readonly hooks: ReadonlyMap<string, Vector>;
  private readonly frames: Readonly<Partial<Record<BodyName, Frame>>> & { readonly load: Frame };
  private readonly points: ReadonlyMap<string, { readonly body: BodyName; readonly at: Vector }>;

  constructor(rig: Rig, stance: Stance, taut: readonly number[]) {
    this.rig = rig;
    this.taut = taut;
    this.hooks = stance.hooks;
    // Under one hook any heading is as good as another: the load does not turn about the plumb line, and needs no equation for it.
    const axes = rig.hooks.length === 1 ? 2 : 3;
    const { centre } = rig.load;
    const load: Frame = { shift: 0, turn: 3, axes, from: centre, at: placeOf(stance.load, centre), pose: stance.load };
    const next = 3 + axes;
    const beam = rig.beam && stance.beam && beamFrame(rig.beam, stance.beam, next);
    this.frames = { load, ...(beam ? { beam } : {}) };
    this.poses = beam === undefined ? next : beam.turn + 3;
    this.unknowns = this.poses + taut.length;
    this.points = new Map<string, { readonly body: BodyName; readonly at: Vector }>([
      ...rig.eyes.map(({ id, at }) => [id, { body: "load" as const, at }] as const),
      ...(rig.beam?.points ?? []).map(({ id, at }) => [id, { body: "beam" as const, at }] as const),
    ]);
  }

  /** @param raised metres by which the load's centre is raised along the plumb line: no force changes by it, only what turning the load does. */
  at<T>(m: Arithmetic<T>, x: readonly T[], figures: Figures<T>, raised = 0): Balance<T> {
    const { rig, frames } = this;
    const load = new Placed(m, frames.load, x);
    const beam = frames.beam && new Placed(m, frames.beam, x);
    const sums = { load: new Sum(m), beam: new Sum(m) };
    const weight = m.scaled(figures.mass, GRAVITY);
    const up = load.up();
    const centre = load.loose(figures.centre);
    const weighed = load.loose(
      figures.centre.map((each, i) => m.sum(each, m.held(up[i]!), raised)) as unknown as Triple<T>,
    );
    sums.load.weigh(weight, raised === 0 ? centre : weighed);
    if (rig.beam && beam) sums.beam.weigh(m.plain(rig.beam.mass * GRAVITY), beam.arm(rig.beam.centre));
    const onHooks = new Map(rig.hooks.map(({ id }) => [id, new Sum(m)]));
    const stretched: T[] = [];
    const end = (id: string): { readonly body?: BodyName; readonly arm?: Triple<T>; readonly at: Triple<T> } => {
      const point = this.points.get(id);
      if (point === undefined) return { at: this.hooks.get(id)!.map((each) => m.plain(each)) as unknown as Triple<T> };
      const placed = point.body === "load" ? load : beam!;
      const arm = placed.arm(point.at);
      return { body: point.body, arm, at: added(m, placed.origin, arm) };
    };
    const legs = rig.legs.map((leg, i): LegBalance<T> => {
      const [lower, upper] = [end(leg.lower), end(leg.upper)];
      const d = [0, 1, 2].map((k) => m.less(upper.at[k]!, lower.at[k]!)) as unknown as Triple<T>;
      const reach = m.root(squares(m, d));
      const steepness = m.times(d[2], m.inverse(reach));
      const dense = x[this.poses + this.taut.indexOf(i)];
      if (!this.taut.includes(i) || dense === undefined) return { reach, steepness };
      const pull = m.times(dense, reach);
      const force = d.map((each) => m.times(dense, each)) as unknown as Triple<T>;
      stretched.push(m.less(reach, m.times(figures.lengths[i]!, m.shifted(m.times(figures.gives[i]!, pull), 1))));
      sums[lower.body!].pull(force, lower.arm, 1);
      if (upper.body) sums[upper.body].pull(force, upper.arm, -1);
      else onHooks.get(leg.upper)!.pull(force, undefined, 1);
      return { reach, steepness, pull };
    });
    const middle = [...this.hooks.values()].reduce((sum, at) => sum + at[2] / this.hooks.size, 0);
    return {
      off: [
        ...sums.load.force,
        ...sums.load.moment.slice(0, frames.load.axes),
        ...(frames.beam === undefined ? [] : frames.beam.shift === undefined ? [] : sums.beam.force),
        ...(frames.beam === undefined ? [] : sums.beam.moment),
        ...stretched,
      ],
      up,
      overCentre: m.shifted(m.scaled(m.sum(load.origin[2], centre[2]), -1), middle),
      legs,
      // One hook bears it all, pinned or not.
      hooks: rig.hooks.map(({ id }) =>
        rig.hooks.length === 1
          ? m.shifted(weight, (rig.beam?.mass ?? 0) * GRAVITY)
          : m.root(squares(m, onHooks.get(id)!.force)),
      ),
    };
  }
}

function beamFrame({ points, pin, centre }: NonNullable<Rig["beam"]>, pose: Pose, next: number): Frame {
  const pinned = points.find(({ id }) => id === pin)?.at;
  const from = pinned ?? centre;
  const at = placeOf(pose, from);
  return { from, at, pose, axes: 3, ...(pinned === undefined ? { shift: next, turn: next + 3 } : { turn: next }) };
}

const added = <T>(m: Arithmetic<T>, a: Triple<T>, b: Triple<T>): Triple<T> => [
  m.sum(a[0], b[0]),
  m.sum(a[1], b[1]),
  m.sum(a[2], b[2]),
];
const squares = <T>(m: Arithmetic<T>, a: Triple<T>): T =>
  m.sum(m.sum(m.times(a[0], a[0]), m.times(a[1], a[1])), m.times(a[2], a[2]));

/** Forces and moments on one body. */
class Sum<T> {
  readonly force: [T, T, T];
  readonly moment: [T, T, T];
  private readonly m: Arithmetic<T>;

  constructor(m: Arithmetic<T>) {
    this.m = m;
    this.force = [m.plain(0), m.plain(0), m.plain(0)];
    this.moment = [m.plain(0), m.plain(0), m.plain(0)];
  }

  weigh(weight: T, arm: Triple<T>): void {
    const { m, force, moment } = this;
    force[2] = m.less(force[2], weight);
    moment[0] = m.less(moment[0], m.times(weight, arm[1]));
    moment[1] = m.sum(moment[1], m.times(weight, arm[0]));
  }

  pull(force: Triple<T>, arm: Triple<T> | undefined, sign: 1 | -1): void {
    const { m } = this;
    for (const [i, j, k] of TURNS) {
      this.force[i] = m.sum(this.force[i], force[i], sign);
      if (arm === undefined) continue;
      const moment = m.less(m.times(arm[j], force[k]), m.times(arm[k], force[j]));
      this.moment[i] = m.sum(this.moment[i], moment, sign);
    }
  }
}

const TURNS = [
  [0, 1, 2],
  [1, 2, 0],
  [2, 0, 1],
] as const;

/** A body's points as they follow from its unknowns. */
class Placed<T> {
  readonly origin: Triple<T>;
  private readonly m: Arithmetic<T>;
  private readonly frame: Frame;
  private readonly rows: readonly Triple<T>[];

  constructor(m: Arithmetic<T>, frame: Frame, x: readonly T[]) {
    this.m = m;
    this.frame = frame;
    const { shift, at, turn, axes } = frame;
    this.origin = [0, 1, 2].map((i) =>
      shift === undefined ? m.plain(at[i]!) : m.shifted(x[shift + i]!, at[i]!),
    ) as unknown as Triple<T>;
    // The turn is 1 + s·([ω]× + ωωᵀ − |ω|²), s = 2/(1 + |ω|²).
    const w: Triple<T> = [x[turn]!, x[turn + 1]!, axes === 3 ? x[turn + 2]! : m.plain(0)];
    const size = squares(m, w);
    const s = m.scaled(m.inverse(m.shifted(size, 1)), 2);
    const diagonal = m.shifted(m.scaled(m.times(s, size), -1), 1);
    const sw: Triple<T> = [m.times(s, w[0]), m.times(s, w[1]), m.times(s, w[2])];
    this.rows = TURNS.map(([i, j, k]) => {
      const row: [T, T, T] = [diagonal, diagonal, diagonal];
      row[i] = m.sum(diagonal, m.times(sw[i], w[i]));
      row[j] = m.less(m.times(sw[i], w[j]), sw[k]);
      row[k] = m.sum(m.times(sw[i], w[k]), sw[j]);
      return row;
    });
  }

  /** From the point that is shifted to one of the body's, world axes. */
  arm(point: Vector): Triple<T> {
    const { m } = this;
    const [x, y, z] = turnBy(this.frame.pose.turn, subtract(point, this.frame.from));
    return this.rows.map((row) => m.sum(m.sum(m.scaled(row[0], x), row[1], y), row[2], z)) as unknown as Triple<T>;
  }

  /** The same of a point that is itself not known. */
  loose(point: Triple<T>): Triple<T> {
    const { m } = this;
    const off = point.map((each, i) => m.shifted(each, -this.frame.from[i]!));
    const v = this.frame.pose.turn.map((row) =>
      m.sum(m.sum(m.scaled(off[0]!, row[0]), off[1]!, row[1]), off[2]!, row[2]),
    );
    return this.rows.map((row) =>
      m.sum(m.sum(m.times(row[0], v[0]!), m.times(row[1], v[1]!)), m.times(row[2], v[2]!)),
    ) as unknown as Triple<T>;
  }

  /** World-up in body axes: the third row of the whole turn. */
  up(): Triple<T> {
    const { m } = this;
    const [row, turn] = [this.rows[2]!, this.frame.pose.turn];
    return [0, 1, 2].map((k) =>
      m.sum(m.sum(m.scaled(row[0], turn[0][k]!), row[1], turn[1][k]!), row[2], turn[2][k]!),
    ) as unknown as Triple<T>;
  }
}
