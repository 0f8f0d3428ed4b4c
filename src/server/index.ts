// The door of the server: what a store does with orders and entries, whoever brings them.

export type { Frozen } from "./frozen.ts";
export type { Authority, Certificate } from "./http/authority.ts";
export { loadAuthority, loadDocuments, loadServe, loadWork } from "./load-serving.ts";
export { type OrderBody, type OrderTaken, takeOrder } from "./order.ts";
export { whoNext } from "./plan-anew.ts";
export { type Desk, openRun, type Reception, RunDesk, type TakeHow, type Taking } from "./run-desk.ts";
export type {
  BackupDocument,
  EntryDocument,
  GateDocument,
  OrderDocument,
  RunDocument,
  RunListDocument,
  ShiftDocument,
  TakenInDocument,
  VerifyDocument,
} from "./run-documents.ts";
export { type Placed, planOf as planInForce, type World } from "./run-record.ts";
export type { ServeOptions, Serving } from "./serve.ts";
export { nodesOwn, nodesSigner } from "./signatures.ts";
export {
  describeGates,
  describeOrders,
  describeReception,
  describeRun,
  describeShift,
  describeTaken,
} from "./standing.ts";
