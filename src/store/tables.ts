// Owns the shape of the tables, the same in SQLite and PostgreSQL: text, whole numbers and bytes, JSON as text so that it comes back letter for letter.
import type { Kysely } from "kysely";
import { ACCOUNT_ORDER, type AccountTables } from "./account-tables.ts";
import type { QuestionTables } from "./question-tables.ts";

interface VehicleVersionTable {
  vehicle: string;
  version: number;
  digest: string;
  files: string;
  at: number;
  made_by: string;
}

interface MachineTable {
  id: string;
  vehicle: string;
  body: string;
  revision: number;
}

interface PersonTable {
  id: string;
  name: string;
  roles: string;
  skills: string;
  body: string;
  revision: number;
}

interface SiteTable {
  id: string;
  label: string;
  body: string;
  revision: number;
}

interface JobOrderTable {
  id: string;
  site: string;
  vehicle: string;
  version: number;
  machine: string | null;
  jobs: string;
  body: string;
  at: number;
  made_by: string;
  revision: number;
}

interface PlanTable {
  id: string;
  job_order: string;
  body: string;
  at: number;
}

interface RunTable {
  id: string;
  site: string;
  job_order: string;
  plan: string;
  vehicle: string;
  version: number;
  opened: number;
  opened_by: string;
  closed: number | null;
  length: number;
}

interface EntryTable {
  run: string;
  position: number;
  id: string;
  device: string;
  text: string;
}

interface DeviceTable {
  id: string;
  key: string;
  at: number;
}

/** Photos, and spoken notes, which are told by their type. */
interface PhotoTable {
  digest: string;
  type: string;
  bytes: Uint8Array;
}

interface LearntTable {
  vehicle: string;
  key: string;
  body: string;
  at: number;
}

export interface Tables extends AccountTables, QuestionTables {
  site: SiteTable;
  vehicle_version: VehicleVersionTable;
  machine: MachineTable;
  person: PersonTable;
  job_order: JobOrderTable;
  plan: PlanTable;
  run: RunTable;
  entry: EntryTable;
  device: DeviceTable;
  photo: PhotoTable;
  learnt: LearntTable;
}

export type Database = Kysely<Tables>;

/** Every table with the columns that name a row, each after those it refers to: the order of a backup. */
export const ORDER: readonly { readonly table: keyof Tables; readonly key: readonly string[] }[] = [
  { table: "vehicle_version", key: ["vehicle", "version"] },
  { table: "site", key: ["id"] },
  { table: "machine", key: ["id"] },
  { table: "person", key: ["id"] },
  ...ACCOUNT_ORDER,
  { table: "device", key: ["id"] },
  { table: "photo", key: ["digest"] },
  { table: "learnt", key: ["vehicle", "key"] },
  { table: "job_order", key: ["id"] },
  { table: "plan", key: ["id"] },
  { table: "run", key: ["id"] },
  { table: "entry", key: ["run", "position"] },
];
