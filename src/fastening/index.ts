// The door of fastening: threads and classes, torque and preload, patterns, what is left over, and the kit that goes out and comes in.

export type { Bag, Counted } from "./bag.ts";
export type { Consumable, Used } from "./consumable.ts";
export { type Answer, FAULTS, type Fault, sentence } from "./fault.ts";
export { exactly, FRICTION_STATES, type Friction, PLAIN, readFriction, STAINLESS_DRY } from "./friction.ts";
export type { Bearing } from "./head.ts";
export { settle } from "./interaction.ts";
export type { Aim, Joint, Split, Standing, Tightening, Turn, Verdict } from "./joint.ts";
export {
  type Drained,
  type Fluid,
  type Hardware,
  type Kit,
  type KitBag,
  type KitQuestion,
  type KitStep,
  makeKit,
  type Pick,
  type Uneven,
  type UsuallyNew,
  type Wanted,
} from "./kit.ts";
export { type Bolt, type Layout, layOut, type Shape } from "./layout.ts";
export {
  type Leftover,
  type LeftoverQuestion,
  rankLeftover,
  type Suspect,
} from "./leftover.ts";
export { CHANCES, type Chances } from "./omission.ts";
export { layPattern, type Pass, type Pattern, type PatternQuestion } from "./pattern.ts";
export { drawPattern } from "./picture.ts";
export { METHODS, type Method } from "./scatter.ts";
export { STYLES, type Style } from "./sequence.ts";
export type { Span } from "./span.ts";
export { assumeFindings, type Finding, rankStandBy, type StandBy } from "./stand-by.ts";
export { proofLoad, readStrength, type Strength } from "./strength.ts";
export { readStyle, type StyleReading } from "./style.ts";
export {
  findThread,
  readThread,
  stressArea,
  type Thread,
  type ThreadReading,
} from "./thread.ts";
export { tighten } from "./tighten.ts";
export { listTransfer, type Transfer, type TransferQuestion, type TransferTie } from "./transfer.ts";
export { type Adapter, findWrench, type Multiplier, type Wrench } from "./wrench.ts";
