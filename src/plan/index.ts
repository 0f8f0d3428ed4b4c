// The door of plan: from an order on a vehicle to what must come off, the order of the work, and the way back.

export { type Access, accessOf } from "./access.ts";
export { type Conflict, conflictOf, type Rule } from "./conflict.ts";
export { type JointReading, jointOf } from "./joint.ts";
export { bagsOf, type KitDocument, kitOf } from "./kit.ts";
export { labelOf } from "./labels.ts";
export { sayLack } from "./lack.ts";
export type { LiftLimit, OutOfReach } from "./lift.ts";
export { type Order, type OrderFault, orderFor, type Person } from "./order.ts";
export { makePlan, type Plan, type PlannedLift, type PlanStep, type Visit } from "./plan.ts";
export {
  type Assumed,
  type Lack,
  ownerOf,
  type Question,
  type Removed,
  type Source,
  type Swap,
  translate,
} from "./question.ts";
export { type ResolvedRefit, refitOf } from "./refit.ts";
export { writePlan } from "./text.ts";
export { type WhileOut, whileItIsOut, writeWhileOut } from "./while-out.ts";
