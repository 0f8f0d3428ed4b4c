// Owns the whole answer about one hanging load: attitude, ranges, every check, lengths for a wanted attitude, clearing, what comes taut, when to stop.

import {
  type Band,
  type Box,
  type Cause,
  type Check,
  type CheckRules,
  type Clearing,
  causesOf,
  checkRig,
  clear,
  demandOf,
  demandOverRange,
  type Fault,
  type Foot,
  GRAVITY,
  type Hanging,
  hang,
  type PinFit,
  pinFor,
  pinsOf,
  type RangeResult,
  type Remark,
  type Rig,
  rangesOf,
  type StayingTie,
  type StopLoad,
  type Stretch,
  stopLoad,
  type TakeUpResult,
  type TakingStep,
  type Tautness,
  type Tipping,
  takeUpFor,
  takingUp,
  tautAlong,
  type Way,
} from "../rigging/index.ts";

/** What is asked of a load that hangs. */
export interface LiftAsked {
  readonly rig: Rig;
  readonly rules: CheckRules;
  /** Boxes that stay where they are, in the load's axes before the lift; and the way it goes. */
  readonly obstacles: readonly Box[];
  readonly path: readonly Stretch[];
  /** Ties and where they hold: what comes taut if it stays on. */
  readonly ties: readonly StayingTie[];
  /** What the load stands on before the lift. */
  readonly feet: readonly Foot[];
  /** A wanted attitude, degrees. */
  readonly wanted?: Band;
  /** Plan position of the hook before the lift; right over the centre where it is not said. */
  readonly stands?: readonly [number, number];
}

/** What makes the greatest pull in a leg the greatest. */
export interface LegCauses {
  readonly leg: string;
  readonly causes: readonly Cause[];
}

export interface LiftReckoned {
  readonly kind: "reckoned";
  /** How it hangs; or the balance that does not hold and what it turns over to. */
  readonly hanging: Hanging | Tipping;
  readonly ranges: RangeResult;
  readonly causes: readonly LegCauses[];
  readonly checks: readonly Check[];
  /** Backwards, where an attitude is wanted; or why that cannot be asked. */
  readonly takeUp?: Backwards;
  readonly clearing: Clearing;
  /** Each tie of the cut as if it had stayed on: the first to come taut first. */
  readonly taut: readonly Tautness[];
  readonly stop: StopLoad;
  /** What is to be seen as the hook takes the weight of the freed load. */
  readonly taking: readonly TakingStep[];
}

/** Lengths for a wanted attitude; where to hang the beam for it; or why neither can be asked. */
export type Backwards = TakeUpResult | { readonly pins: readonly PinFit[] } | { readonly why: Remark };

export type LiftReckoning = LiftReckoned | { readonly kind: "refused"; readonly faults: readonly Fault[] };

/** Metres of rise over which the weight comes on and the load leans to how it hangs. */
const LEANING = 0.02;
/** Metres that the hook has risen at each look at the trial lift; a few centimetres are common practice. */
const RISES = [0, 0.002, 0.005, 0.01, 0.02, 0.03] as const;
/** Of the hook load, the standard error of a load cell; mark of no norm, common practice. */
export const CELL_ERROR = 0.01;
/** Legs with a take-up that a search over all their steps is exact for. */
const MOST_LEGS = 4;

/** Everything about how it hangs, or every fault that keeps it from being asked. */
export function reckonLift(asked: LiftAsked): LiftReckoning {
  const { rig, rules, wanted, stands } = asked;
  const found = hang(rig, stands === undefined ? {} : { stands });
  if (found.kind === "refused") return found;
  const hangs = found.kind === "hangs" ? found : undefined;
  const ranges = rangesOf(rig);
  const demand =
    hangs === undefined
      ? demandOfTipping(rig, found as Tipping)
      : ranges.kind === "ranges"
        ? demandOverRange(rig, ranges, hangs)
        : demandOf(hangs, rig);
  const checked = checkRig(rig, demand, rules);
  if (checked.kind === "refused") return checked;
  const way = wayOf(asked, hangs ?? (found as Tipping));
  const tackle = besidesLoad(rig, rules) / GRAVITY;
  return {
    kind: "reckoned",
    hanging: found,
    ranges,
    causes:
      ranges.kind === "ranges"
        ? ranges.legs.map(({ id, tension }, i) => ({
            leg: id,
            causes: causesOf(rig, tension.high, ({ legs }) => legs[i]!.tension),
          }))
        : [],
    checks: checked.checks,
    ...(wanted === undefined ? {} : { takeUp: backwards(rig, wanted) }),
    clearing: clear(rig.load.outline, asked.obstacles, way),
    taut: tautAlong(asked.ties, way),
    stop: stopLoad(rig, tackle, CELL_ERROR * rig.load.mass.nominal * GRAVITY, checked.checks),
    taking: hangs !== undefined && asked.feet.length >= 3 ? takingUp(rig, asked.feet, RISES) : [],
  };
}

/** Newtons on the cell besides the load: tackle, and a beam. */
export const besidesLoad = (rig: Rig, rules: CheckRules): number =>
  ((rules.hoist?.tackle ?? 0) + (rig.beam?.mass ?? 0)) * GRAVITY;

function demandOfTipping(rig: Rig, { legs, margin }: Tipping): ReturnType<typeof demandOf> {
  return {
    legs: legs.map(({ id, tension, angle, direction }) => ({
      id,
      tension,
      angle,
      directions: [direction],
      least: tension,
    })),
    hooks: rig.hooks.map(({ id }) => ({ id, load: (rig.load.mass.nominal * GRAVITY) / rig.hooks.length })),
    weight: rig.load.mass.nominal * GRAVITY,
    margin,
    over: "nominal figures",
  };
}

function wayOf({ rig, path }: LiftAsked, { pitch, roll, up }: Hanging | Tipping): Way {
  const rise = path[0]?.move[2] ?? 0;
  return {
    centre: rig.load.centre,
    stretches: path,
    hanging: { pitch, roll, up },
    // A first stretch that does not rise has the load hanging before it begins.
    leaning: Math.max(0, Math.min(LEANING, rise)),
  };
}

function backwards(rig: Rig, wanted: Band): Backwards {
  const able = rig.legs.filter(({ takeUp }) => takeUp !== undefined).length;
  if (able > MOST_LEGS) return { why: { is: "many take-ups", able, most: MOST_LEGS } };
  if (able > 0) return takeUpFor(rig, wanted);
  if (rig.beam?.pin === undefined) return { why: { is: "no take-up" } };
  const pins = pinsOf(rig);
  if (pins.length > 1) return { pins: pinFor(rig, pins, wanted) };
  return { why: { is: "last point", point: rig.beam.pin } };
}
