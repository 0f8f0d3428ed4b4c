// The door of the server: what a store does with orders and entries, whoever brings them.

export {
  type Desk,
  type NotTaken,
  openRun,
  type Placed,
  planOf as planInForce,
  type Reception,
  RunDesk,
  type TakeHow,
  type Taking,
  type World,
} from "./desk/index.ts";
export type { Frozen } from "./frozen.ts";
export type { Authority, Certificate } from "./http/authority.ts";
export { loadAuthority, loadDocuments, loadServe, loadWork } from "./load-serving.ts";
export { type OrderBody, type OrderTaken, takeOrder } from "./order.ts";
export { whoNext } from "./plan-anew.ts";
export type { Reason, Refusals } from "./refusals.ts";
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
