// The door of rigging: how a load hangs, what each thing carries, what still holds it.

export { type Cause, causesOf } from "./causes.ts";
export {
  type Check,
  type CheckResult,
  checkRig,
  checkSentence,
  DEFAULT_RULES,
  type Demand,
  demandOf,
  type Verdict,
} from "./check.ts";
export { type Clearing, clear, type Meeting, type StayingTie, type Tautness, tautAlong } from "./clear.ts";
export { ENGLISH, inEnglish, thingInEnglish } from "./english.ts";
export { eyeRating } from "./eye.ts";
export { aboutTenth, type FileFault, type RigFile, type RigReading, readRig } from "./file.ts";
export { type LegMaterial, legRating, legStretch, linkPitch, madeWithin } from "./gear.ts";
export { GERMAN, thingInGerman } from "./german.ts";
export { GRAVITY } from "./gravity.ts";
export { hang } from "./hang.ts";
export type { HangOptions, Sample } from "./hang-options.ts";
export { hoistingFactor, LAND_LIFT } from "./lifting.ts";
export type { Station, Stretch, Way } from "./path.ts";
export { type DrawnView, drawHanging, drawViews, type PictureOptions } from "./picture.ts";
export {
  type Beam,
  type Box,
  type CheckRules,
  type DynamicFactor,
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
export { demandOverRange, rangesOf } from "./range.ts";
export type { Case, End, LegRange, Range, RangeResult, Ranges } from "./ranges.ts";
export type {
  Held,
  Measured,
  Middle,
  Reading,
  Suspect,
  Trial,
  TrialAnswer,
  TrialResult,
  TrialTie,
} from "./readings.ts";
export { type Fault, type FaultSaid, type Refusal, type Refusing, sayRefusal } from "./refusal.ts";
export { faultInEnglish, REFUSED_IN_ENGLISH } from "./refused-in-english.ts";
export { REFUSED_IN_GERMAN } from "./refused-in-german.ts";
export { type Remark, type Saying, sayRemarks, type Writing } from "./remark.ts";
export type { Attitude, Hanging, HangResult, LegState, LiftOff, Stability, Tipping } from "./result.ts";
export type { Band, Fit, TakeUpResult } from "./search.ts";
export { sourceInGerman } from "./source-in-german.ts";
export { type Bearing, type Share, type Stand, type Standing, standAlong, standOf, type Walk } from "./standing.ts";
export { padChecks } from "./standing-check.ts";
export { type StandRange, standRange } from "./standing-range.ts";
export { hungBy, type PinFit, pinFor, pinsOf, takeUpFor, withTaken } from "./take-up.ts";
export { type Foot, type StopLoad, stopLoad, type TakingStep, takingUp } from "./taking.ts";
export { TIE_STIFFNESS, type TieStiffness } from "./tie.ts";
export { weighTrial } from "./trial.ts";
