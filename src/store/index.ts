// The door of the store: what a shop keeps, in one SQLite file or in a PostgreSQL database.
export { restoreInto, type Told, writeBackup } from "./backup.ts";
export { MAIN_SITE } from "./migrations.ts";
export { openStore } from "./open.ts";
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
  type Photo,
  type PhotoType,
  type Revised,
  type Run,
  type Site,
  type Store,
  StoreFault,
  type VehicleVersion,
} from "./store.ts";
