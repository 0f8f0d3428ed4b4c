// The door of crew: who does what, when, with a bound on the time; and the checker that shares nothing with the search.

export { linksOf } from "./chain.ts";
export { check } from "./check.ts";
export { lacksOf } from "./lacks.ts";
export type {
  After,
  Change,
  Hold,
  Person,
  Position,
  Problem,
  Seat,
  Spell,
  State,
  Stock,
  Task,
  Told,
  Work,
} from "./problem.ts";
export type { Changed, Figures, Lack, Limits, Link, Placed, Result, Schedule, Status, Watch } from "./result.ts";
export { solve } from "./solve.ts";
