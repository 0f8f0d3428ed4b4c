// The door of rigging: how a load hangs, what each thing carries, what still holds it.

export { FAULTS, type Fault, sentence } from "./fault.ts";
export { type HangOptions, hang, type Sample } from "./hang.ts";
export {
  type Beam,
  type Box,
  type CheckRules,
  type DynamicFactor,
  EYE_RULES,
  type Eye,
  type EyeRule,
  type Gear,
  type Hoist,
  type Hook,
  type Leg,
  type Load,
  type Rating,
  type Rig,
  SHARING_RULES,
  type SharingRule,
  type Spread,
  type Stated,
  type TakeUp,
  type Vector,
} from "./problem.ts";
export type { Attitude, Hanging, HangResult, LegState, LiftOff, Stability, Tipping } from "./result.ts";
