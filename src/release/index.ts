// The door of release: the question of what must come off, its solver, the checker that shares nothing with it, and what still ties.

export {
  type Breach,
  breachSentence,
  check,
  checkPlan,
  type Fault,
  faultSentence,
  type Rule,
  type Verdict,
} from "./check.ts";
export type { Dropped, Rested } from "./check-carrying.ts";
export { chainSentence, type Freedom, type Tie, type TieGraph, ties } from "./freedom.ts";
export type { Connection, Need, Part, Problem, Task, Way } from "./problem.ts";
export type { Limits, Plan, Result, Status, Step } from "./result.ts";
export { solve } from "./solve.ts";
export {
  type Alternative,
  type Choice,
  choiceOf,
  type EdgePart,
  edgeParts,
  type Reason,
  reasonFor,
  reasonsFor,
} from "./why.ts";
