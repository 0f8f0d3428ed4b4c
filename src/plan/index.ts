// The door of plan: from an order on a vehicle to what must come off, the order of the work, and the way back.

export { type Access, accessOf } from "./access.ts";
export { type Conflict, conflictOf, type Rule } from "./conflict.ts";
export { type Crew, crewOf, crewOfShop, fewestCrew } from "./crew.ts";
export { answerCrew, type CrewAnswer, describeCrewLack } from "./crew-answer.ts";
export { type CrewCurve, type CurvePoint, crewCurve } from "./crew-curve.ts";
export { drawCrewCurve, writeCrewCurve } from "./crew-curve-text.ts";
export { crewDoubts } from "./crew-doubts.ts";
export { drawCrewPlan } from "./crew-drawing.ts";
export { crewSchema, readCrew } from "./crew-file.ts";
export { type Held, heldIn } from "./crew-held.ts";
export type { CrewLack } from "./crew-lack.ts";
export { nearTo } from "./crew-near.ts";
export { type Pin, type PinFault, type Pinned, type PinRefused, pinned } from "./crew-pin.ts";
export type { ChainLink, CrewChange, CrewPlan, CrewStep } from "./crew-plan.ts";
export { type CrewQuestion, crewQuestion } from "./crew-question.ts";
export { writeCrewPlan } from "./crew-text.ts";
export { answerFinish, type Finish, type FinishAsked, finishesOf } from "./finish-answer.ts";
export { type Learnt, learnRuns, strangersIn, writeLearnt } from "./finish-learn.ts";
export { drawFinish, writeFinish } from "./finish-text.ts";
export {
  type ImproveAsked,
  type Improved,
  type ImprovedChange,
  type ImproveStage,
  improve,
  type Ranking,
} from "./improve.ts";
export type { Reckoning } from "./improve-base.ts";
export { type Change, changeVehicle } from "./improve-change.ts";
export { type ChangesFile, changesSchema, readChanges } from "./improve-file.ts";
export { writeImproved } from "./improve-text.ts";
export { type JointReading, jointOf } from "./joint.ts";
export { drawnPattern, layoutOf } from "./joint-pattern.ts";
export { bagsOf, type KitDocument, type KitGiven, kitOf } from "./kit.ts";
export { readStore, type Store, storeSchema } from "./kit-store.ts";
export { labelOf, nameIn, ownId } from "./labels.ts";
export { sayLack } from "./lack.ts";
export type { LiftLimit, OutOfReach } from "./lift.ts";
export { besidesLoad, CELL_ERROR, type LiftAsked, type LiftReckoned, reckonLift } from "./lift-answer.ts";
export { groupsOf, STRAIGHT_UP } from "./lift-group.ts";
export { HOOK } from "./lift-hooks.ts";
export {
  type LiftHung,
  type LiftOfPlan,
  type LiftRefused,
  type LiftStanding,
  type LiftWanted,
  reckonLiftOf,
} from "./lift-of-plan.ts";
export { makePlan } from "./make-plan.ts";
export { type Order, type OrderFault, orderFor, type Person } from "./order.ts";
export type { Overseer, Progress } from "./overseer.ts";
export type { Plan, PlannedLift, PlanStep, Visit } from "./plan.ts";
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
export {
  describeAlternative,
  describeOrder,
  describeReason,
  describeRelease,
  RULES,
} from "./release-document.ts";
export { type Earlier, replan, type Standing, unknownIn } from "./replan.ts";
export { type CrewAnswered, type CrewAsked, solveCrew } from "./solve-crew.ts";
export { type ReleaseAnswered, type ReleaseAsked, solveRelease } from "./solve-release.ts";
export { solveTimes, type TimesAnswered, type TimesAsked } from "./solve-times.ts";
export { type Answer, type Doubt, type Stake, type Stakes, stakesOf } from "./stake.ts";
export { type StandardFiguresOf, standardFiguresOf, writeFigures } from "./standard-figures.ts";
export { type PadCheck, padOf, type Support, supportAlong } from "./support.ts";
export { writePlan } from "./text.ts";
export { isWithin, statedLimits, TORQUE_SHARE, type TorqueLimits, torqueLimits } from "./torque-limits.ts";
export { type TrialQuestion, trialOf } from "./trial-of-plan.ts";
export { compareWays, type WayAsked, type Ways, type WaysAsked, type WayToMend } from "./ways.ts";
export { drawWays, writeWays } from "./ways-text.ts";
export { type WhileOut, whileItIsOut, writeWhileOut } from "./while-out.ts";
export { type WholeJob, wholeJob } from "./whole-job.ts";
