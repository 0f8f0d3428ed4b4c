// Owns the forecasting of a trial lift's readings under one explanation, and how likely that makes the readings that were taken.
//
// Mass, centre, lengths and rise are out by a little in every explanation; what that does to the readings depends on the explanation (a load that a stiff tie holds does
// not tilt for a centre that is out), so the errors are worked out anew for each, from how the readings follow each figure where the load rests. The ties' stiffness is integrated
// out by Laplace's method in its logarithm.

import { GRAVITY } from "./gravity.ts";
import type { Replies, Reply, Rested } from "./held.ts";
import { type HeldRig, heldRig } from "./held-rig.ts";
import { madeLength } from "./leg.ts";
import type { Vector } from "./problem.ts";
import type { Expected, Measured, Middle, Trial, TrialTie } from "./readings.ts";
import type { Case, HeldLeg, HeldTie, Poses } from "./strain.ts";
import { type Whitening, whiten, whitening } from "./whiten.ts";

/** Where no rise is read: a trial lift of some centimetres, as is common practice. */
const USUAL_RISE: Measured = { value: 0.03, error: 0.01 };
/** What the forecast itself may be out by: degrees, and a share of the load. */
const MODEL_DEGREES = 0.03;
const MODEL_LOAD = 0.001;
/** Degrees by which a load that still stands may lean besides. */
const STANDING_DEGREES = 2;
/** A tie pulls at least so much, newtons, to count as pulling. */
const FAINT = 1;
const LOG_2PI = Math.log(2 * Math.PI);

/** A tie that can be told of, by how far its point would move freed. */
export interface Drawn {
  readonly tie: TrialTie;
  /** Metres. */
  readonly move: number;
}

export interface Weighed {
  /** Logarithm of the likelihood of the readings. */
  readonly log: number;
  /** Squared distance of the readings from the forecast, in standard errors. */
  readonly misfit: number;
}

/** What is uncertain, as it is in one forecast. */
interface Figures {
  readonly weight: number;
  readonly centre: Vector;
  readonly legs: readonly HeldLeg[];
  readonly rises: readonly number[];
}

/** What would be read, and how each reading follows what is not known. */
interface Forecast {
  readonly rested: readonly Rested[];
  readonly replies: readonly Replies[];
}

type Slot = {
  readonly what: "load" | "pitch" | "roll";
  readonly r: number;
  readonly value: number;
  readonly error: number;
};

export class Scene {
  readonly told: readonly Drawn[];
  readonly untold: readonly Drawn[];
  readonly count: number;
  readonly trial: Trial;
  /** The reading with the greatest rise. */
  readonly reference: number;
  private readonly rig: HeldRig;
  private readonly slots: readonly Slot[];
  private readonly nominal: Figures;
  /** Each figure that is not known by itself: its standard error, and how the r-th reading follows it. */
  private readonly doubts: readonly { readonly error: number; readonly reply: (to: Replies, r: number) => Reply }[];
  private readonly starts: readonly Poses[];
  /** Where the load came to rest last with ties on it, for each reading: nearby questions start there. */
  private readonly lately: readonly Poses[];
  private readonly scratch: Poses;
  private readonly bare: readonly Rested[];
  private readonly bareErrors: Float64Array;
  private readonly bareWhite: Whitening;

  constructor(trial: Trial) {
    this.trial = trial;
    const { rig, readings } = trial;
    const { mass, centre, within } = rig.load;
    const rises = readings.map(({ rise }) => rise ?? USUAL_RISE);
    this.reference = rises.reduce((most, { value }, i) => (value > rises[most]!.value ? i : most), 0);
    this.slots = readings.flatMap((reading, r) =>
      (["load", "pitch", "roll"] as const).flatMap((what) => {
        const measured = reading[what];
        return measured === undefined ? [] : [{ what, r, value: measured.value, error: measured.error }];
      }),
    );
    this.count = this.slots.length;
    const lengths = rig.legs.map(madeLength);
    this.rig = heldRig(rig);
    const { weight, legsOf } = this.rig;
    const nominal: Figures = {
      weight,
      centre,
      legs: legsOf(lengths),
      rises: rises.map(({ value }) => value),
    };
    this.nominal = nominal;
    // Limits are taken as two standard errors each way.
    const still: Reply = { load: 0, pitch: 0, roll: 0 };
    this.doubts = [
      { error: ((mass.high - mass.low) / 4) * GRAVITY, reply: (to: Replies) => to.weight },
      ...within.map((far, i) => ({ error: far / 2, reply: (to: Replies) => to.centre[i]! })),
      ...rig.legs.map((leg, i) => ({ error: leg.within / 2, reply: (to: Replies) => to.lengths[i]! })),
      ...rises.map(({ error }, own) => ({ error, reply: (to: Replies, r: number) => (r === own ? to.rise : still) })),
    ].filter(({ error }) => error > 0);
    this.starts = rises.map(({ value }, r) => {
      const into = this.rig.freed(value);
      this.rig.load.rest(this.caseOf(nominal, [], r), into, into);
      return into;
    });
    this.scratch = this.rig.freed(0);
    this.lately = this.starts.map((start) => Float64Array.from(start));
    const bare = this.forecast(nominal, []);
    this.bare = bare.rested;
    this.bareErrors = this.errors(bare);
    this.bareWhite = whitening(this.bareErrors, this.count);
    // A tie without stiffness shows how far its point goes when nothing holds it.
    const loose = trial.ties.map(({ at, slack }): HeldTie => ({ at, slack, stiffness: 0 }));
    const { moves } = this.rested(nominal, loose, this.reference);
    const drawn = trial.ties.map((tie, i): Drawn => ({ tie, move: moves[i]! }));
    const pulls = ({ tie, move }: Drawn): boolean => (move - tie.slack) * tie.stiffness.likely > FAINT;
    this.told = drawn.filter(pulls);
    this.untold = drawn.filter((each) => !pulls(each));
  }

  private caseOf({ weight, centre, legs, rises }: Figures, ties: readonly HeldTie[], r: number): Case {
    const { beam, hooksAt } = this.rig;
    return { weight, centre, ties, legs, hooks: hooksAt(rises[r]!), ...(beam ? { beam } : {}) };
  }

  private rested(figures: Figures, ties: readonly HeldTie[], r: number): Rested {
    return this.rig.load.rest(this.caseOf(figures, ties, r), this.starts[r]!, this.scratch);
  }

  /** @param fresh from where the freed load rests; else from where it rested last, which is then much the same. */
  private rests(figures: Figures, ties: readonly HeldTie[], fresh = true): readonly Rested[] {
    return this.lately.map((lately, r) =>
      this.rig.load.rest(this.caseOf(figures, ties, r), fresh ? this.starts[r]! : lately, lately),
    );
  }

  private forecast(figures: Figures, ties: readonly HeldTie[], fresh = true): Forecast {
    const replies: Replies[] = [];
    const rested = this.lately.map((lately, r) => {
      const asked = this.caseOf(figures, ties, r);
      const at = this.rig.load.rest(asked, fresh ? this.starts[r]! : lately, lately);
      replies.push(this.rig.load.replies(asked));
      return at;
    });
    return { rested, replies };
  }

  /** What the readings' differences from a forecast may be by chance. */
  private errors({ rested, replies }: Forecast): Float64Array {
    const n = this.count;
    const covariance = new Float64Array(n * n);
    for (const [k, { what, r, error }] of this.slots.entries())
      covariance[k * n + k] = error ** 2 + (what === "load" ? (MODEL_LOAD * rested[r]!.load) ** 2 : MODEL_DEGREES ** 2);
    for (const { error, reply } of this.doubts)
      spread(
        covariance,
        this.slots.map(({ what, r }) => error * reply(replies[r]!, r)[what]),
      );
    return covariance;
  }

  private offsets(rested: readonly Rested[]): number[] {
    return this.slots.map(({ what, r, value }) => value - rested[r]![what]);
  }

  private weigh(rested: readonly Rested[], white: Whitening): Weighed {
    const whitened = new Float64Array(this.count);
    whiten(white, this.offsets(rested), whitened);
    const misfit = whitened.reduce((sum, each) => sum + each * each, 0);
    return { misfit, log: -(misfit + white.logDet + this.count * LOG_2PI) / 2 };
  }

  /** Nothing holds it. */
  freed(): Weighed {
    return this.weigh(this.bare, this.bareWhite);
  }

  /** It still stands on something: the hook may have any part of the weight, and the tilt be anything between as it was built in and as it would hang. */
  standing(): Weighed {
    let [log, misfit] = [0, 0];
    for (const [k, { what, r, value }] of this.slots.entries()) {
      const freed = this.bare[r]![what];
      const error = Math.sqrt(this.bareErrors[k * this.count + k]!);
      if (what === "load") {
        // Evenly from nothing to all of it, with an end as soft as the freed load is uncertain.
        const beyond = Math.max(0, (value - freed) / error);
        log -= Math.log(freed) + beyond ** 2 / 2;
        misfit += beyond ** 2;
      } else {
        const sigma = Math.hypot(freed / 2, STANDING_DEGREES, error);
        const off = (value - freed / 2) / sigma;
        log -= (off ** 2 + LOG_2PI) / 2 + Math.log(sigma);
        misfit += off ** 2;
      }
    }
    return { log, misfit };
  }

  private loaded(kilograms: number, at: Vector): Figures {
    const { weight, centre } = this.nominal;
    const all = weight + kilograms * GRAVITY;
    return {
      ...this.nominal,
      weight: all,
      centre: centre.map((c, i) => (c * weight + at[i]! * kilograms * GRAVITY) / all) as unknown as Vector,
    };
  }

  /** A mass left on at a known place. */
  withMass(kilograms: number, at: Vector): Weighed {
    const forecast = this.forecast(this.loaded(kilograms, at), []);
    return this.weigh(forecast.rested, whitening(this.errors(forecast), this.count));
  }

  /** A mass that nobody knows of: from a tenth of the middle guess to ten times, anywhere about the centre; each with its share of the prior. */
  unknownMasses(): readonly (Weighed & { readonly kilograms: number })[] {
    const { kilograms: middle, within } = this.trial.unknown;
    const points = 24;
    return Array.from({ length: points }, (_, i) => {
      const z = -2.4 + (4.8 * (i + 0.5)) / points;
      const kilograms = middle * Math.exp(z);
      const { rested, replies } = this.forecast(this.loaded(kilograms, this.nominal.centre), []);
      const covariance = Float64Array.from(this.bareErrors);
      // The centre of both goes with the mass's share of the whole.
      const moves = (within * kilograms * GRAVITY) / (this.nominal.weight + kilograms * GRAVITY);
      for (const i of [0, 1, 2])
        spread(
          covariance,
          this.slots.map(({ what, r }) => moves * replies[r]!.centre[i]![what]),
        );
      // Half a step of the mass itself, so that what lies between two points is not missed.
      const half = 0.8 * kilograms * (Math.exp(2.4 / points) - 1) * GRAVITY;
      spread(
        covariance,
        this.slots.map(({ what, r }) => half * replies[r]!.weight[what]),
      );
      const { log, misfit } = this.weigh(rested, whitening(covariance, this.count));
      return { log: log - (z * z) / 2 - LOG_2PI / 2 + Math.log(4.8 / points), misfit, kilograms };
    });
  }

  /** One or two ties hold it: the likeliest stiffnesses found by Gauss and Newton's steps, and Laplace's integral about them. */
  explain(which: readonly Drawn[]): (Weighed & { readonly pulls: readonly number[] }) | undefined {
    const d = which.length;
    const n = this.count;
    const tiesAt = (z: readonly number[]): HeldTie[] =>
      which.map(({ tie }, k) => ({
        at: tie.at,
        slack: tie.slack,
        stiffness: tie.stiffness.likely * Math.exp(z[k]! * tie.stiffness.spread),
      }));
    // Unknowns are counted in spreads of the logarithm, so what is known of them before is a unit normal.
    const residual = (z: readonly number[], rested: readonly Rested[], white: Whitening): Residual => {
      const at = new Float64Array(n + d);
      whiten(white, this.offsets(rested), at);
      for (let k = 0; k < d; k++) at[n + k] = z[k]!;
      return { at, sum: inner(at, at) };
    };
    const slopesOf = ({ replies }: Forecast, white: Whitening): Float64Array[] =>
      which.map(({ tie }, k) => {
        const slope = new Float64Array(n + d);
        const by = -tie.stiffness.spread;
        whiten(
          white,
          this.slots.map(({ what, r }) => by * replies[r]!.stiffness[k]![what]),
          slope,
        );
        slope[n + k] = 1;
        return slope;
      });

    const grid = d === 1 ? GRID.map((x) => [x]) : PAIR_GRID;
    let z: readonly number[] = grid[0]!;
    let value = Number.POSITIVE_INFINITY;
    for (const start of grid) {
      const { sum } = residual(start, this.rests(this.nominal, tiesAt(start), start === grid[0]), this.bareWhite);
      if (sum < value) [value, z] = [sum, start];
    }
    let here = this.forecast(this.nominal, tiesAt(z), false);
    let white = whitening(this.errors(here), n);
    for (let turn = 0; turn < 2; turn++) {
      let { at: base, sum } = residual(z, here.rested, white);
      for (let round = 0; round < 4; round++) {
        const move = stepOf(slopesOf(here, white), base);
        let share = Math.min(1, 1.5 / Math.max(1e-9, ...move.map(Math.abs)));
        let gained = 0;
        for (let halving = 0; halving < 4; halving++, share /= 3) {
          const next = z.map((each, k) => each + share * move[k]!);
          const there = this.forecast(this.nominal, tiesAt(next), false);
          const left = residual(next, there.rested, white);
          if (left.sum >= sum) continue;
          gained = sum - left.sum;
          [z, here, base, sum] = [next, there, left.at, left.sum];
          break;
        }
        if (gained < 0.01) break;
      }
      white = whitening(this.errors(here), n);
    }
    const { at: base, sum } = residual(z, here.rested, white);
    const slopes = slopesOf(here, white);
    const a = inner(slopes[0]!, slopes[0]!);
    const det = d === 1 ? a : a * inner(slopes[1]!, slopes[1]!) - inner(slopes[0]!, slopes[1]!) ** 2;
    if (!(det > 0)) return undefined;
    let misfit = 0;
    for (let i = 0; i < n; i++) misfit += base[i]! ** 2;
    return {
      misfit,
      log: -(sum + white.logDet + n * LOG_2PI) / 2 - Math.log(det) / 2,
      pulls: here.rested[this.reference]!.pulls,
    };
  }

  expected(): readonly Expected[] {
    const n = this.count;
    return this.trial.readings.map((_, r) => {
      const middle = (what: Slot["what"]): Middle => {
        const k = this.slots.findIndex((slot) => slot.what === what && slot.r === r);
        return {
          value: this.bare[r]![what],
          ...(k < 0 ? {} : { within: 2 * Math.sqrt(this.bareErrors[k * n + k]!) }),
        };
      };
      return { load: middle("load"), pitch: middle("pitch"), roll: middle("roll") };
    });
  }

  /** What a first look at pairs needs: the freed load's pose and forces at the greatest rise, and the readings there. */
  lookout(): {
    readonly compliance: Float64Array;
    readonly pose: Poses;
    readonly weight: number;
    readonly offset: { readonly load: number; readonly pitch?: number; readonly roll?: number };
    readonly error: { readonly load: number; readonly pitch: number; readonly roll: number };
  } {
    const r = this.reference;
    const find = (what: Slot["what"]): number => this.slots.findIndex((slot) => slot.what === what && slot.r === r);
    const off = this.offsets(this.bare);
    const sigma = (what: Slot["what"]): number => {
      const k = find(what);
      return k < 0 ? 1 : Math.sqrt(this.bareErrors[k * this.count + k]!);
    };
    const [p, q] = [find("pitch"), find("roll")];
    return {
      compliance: this.rig.load.compliance(this.caseOf(this.nominal, [], r), this.starts[r]!),
      pose: this.starts[r]!,
      weight: this.nominal.weight,
      offset: { load: off[find("load")]!, ...(p < 0 ? {} : { pitch: off[p]! }), ...(q < 0 ? {} : { roll: off[q]! }) },
      error: { load: sigma("load"), pitch: sigma("pitch"), roll: sigma("roll") },
    };
  }
}

/** Stiffness to start from, in spreads of its logarithm from the middle. */
const GRID = [0, -1.4, -0.7, 0.7, 1.4];
const PAIR_GRID = [
  [0, 0],
  [-1, 0],
  [0, -1],
  [1, 0],
  [0, 1],
  [-1, -1],
] as const;

/** A forecast's differences from the readings in their errors, then the stiffnesses from their middles; and the sum of the squares. */
interface Residual {
  readonly at: Float64Array;
  readonly sum: number;
}

const inner = (a: Float64Array, b: Float64Array): number => a.reduce((sum, each, i) => sum + each * b[i]!, 0);

function stepOf([s0, s1]: readonly Float64Array[], base: Float64Array): number[] {
  const a = inner(s0!, s0!);
  const ga = inner(s0!, base);
  if (s1 === undefined) return [-ga / a];
  const b = inner(s0!, s1);
  const c = inner(s1, s1);
  const gc = inner(s1, base);
  const det = a * c - b * b;
  return [(-ga * c + gc * b) / det, (-gc * a + ga * b) / det];
}

/** Adds what one figure by itself does to all readings together. */
function spread(covariance: Float64Array, by: readonly number[]): void {
  const n = by.length;
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) covariance[i * n + j] = covariance[i * n + j]! + by[i]! * by[j]!;
}
