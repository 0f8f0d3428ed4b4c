// The door of the store: what a shop keeps, in one SQLite file or in a PostgreSQL database.
export type {
  Accounts,
  AuditAbout,
  Challenge,
  Member,
  MemberChange,
  Pairing,
  Passkey,
  Secret,
  SecretKind,
  Session,
  SignIn,
} from "./accounts.ts";
export { restoreInto, type Told, writeBackup } from "./backup.ts";
export { digestOf } from "./keep.ts";
export { MAIN_SITE } from "./migrations.ts";
export { isDatabase, openPresence, openStore } from "./open.ts";
export type { Presence } from "./presence.ts";
export { QUEUE_TASK } from "./question-queue.ts";
export type {
  KeptQuestion,
  NewQuestion,
  QuestionFault,
  QuestionKeep,
  QuestionModel,
  QuestionState,
} from "./questions.ts";
export {
  type BackupLine,
  type Device,
  type FaultCode,
  type KeptEntry,
  type KeptPlan,
  type Learnt,
  type Machine,
  type ModelFile,
  type NewEntry,
  type Order,
  type Page,
  type Person,
  PHOTO_TYPES,
  type Photo,
  type Revised,
  type Run,
  type Site,
  type Store,
  StoreFault,
  type VehicleVersion,
  VOICE_TYPES,
} from "./store.ts";
