// The door of the server: what a store does with orders and entries, whoever brings them.

export { type OrderTaken, takeOrder } from "./order.ts";
export type { Refusal } from "./refusal.ts";
export { openRun, type Reception, RunDesk, type TakeHow, type Taking } from "./run-desk.ts";
export type { World } from "./run-record.ts";
export { nodesOwn, nodesSigner } from "./signatures.ts";
