// The door of the desk: a run as the store carries it.

export { openRun } from "./opening.ts";
export { type NotTaken, type Reception, sayNotTaken } from "./reception.ts";
export { type Desk, RunDesk } from "./run-desk.ts";
export { type Placed, planOf, type World } from "./run-record.ts";
export type { TakeHow, Taking } from "./taking.ts";
