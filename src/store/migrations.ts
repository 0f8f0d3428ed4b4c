// Owns how the tables came to be, step by step and forward only: a step that was ever used is never changed, a change is a new step.
import type { ColumnDataType, Kysely, Migration } from "kysely";
import { accountsMigration } from "./account-tables.ts";
import { questionsMigration } from "./question-tables.ts";

/** Where everything belongs that was kept before there were sites. */
export const MAIN_SITE = "main";

/** What the two databases call the same thing. */
export interface Words {
  readonly bytes: ColumnDataType;
}

/** Every migration by its name, in the order of the names. */
export function migrations({ bytes }: Words): Record<string, Migration> {
  return {
    "001-beginning": {
      async up(db: Kysely<unknown>) {
        const { schema } = db;
        await schema
          .createTable("vehicle_version")
          .addColumn("vehicle", "text", (c) => c.notNull())
          .addColumn("version", "integer", (c) => c.notNull())
          .addColumn("digest", "text", (c) => c.notNull())
          .addColumn("files", "text", (c) => c.notNull())
          .addColumn("at", "bigint", (c) => c.notNull())
          .addColumn("made_by", "text", (c) => c.notNull())
          .addPrimaryKeyConstraint("vehicle_version_key", ["vehicle", "version"])
          .execute();
        await schema
          .createTable("machine")
          .addColumn("id", "text", (c) => c.primaryKey())
          .addColumn("vehicle", "text", (c) => c.notNull())
          .addColumn("body", "text", (c) => c.notNull())
          .addColumn("revision", "integer", (c) => c.notNull())
          .execute();
        await schema
          .createTable("person")
          .addColumn("id", "text", (c) => c.primaryKey())
          .addColumn("name", "text", (c) => c.notNull())
          .addColumn("roles", "text", (c) => c.notNull())
          .addColumn("skills", "text", (c) => c.notNull())
          .addColumn("body", "text", (c) => c.notNull())
          .addColumn("revision", "integer", (c) => c.notNull())
          .execute();
        await schema
          .createTable("device")
          .addColumn("id", "text", (c) => c.primaryKey())
          .addColumn("key", "text", (c) => c.notNull())
          .addColumn("at", "bigint", (c) => c.notNull())
          .execute();
        await schema
          .createTable("photo")
          .addColumn("digest", "text", (c) => c.primaryKey())
          .addColumn("type", "text", (c) => c.notNull())
          .addColumn("bytes", bytes, (c) => c.notNull())
          .execute();
        await schema
          .createTable("learnt")
          .addColumn("vehicle", "text", (c) => c.notNull())
          .addColumn("key", "text", (c) => c.notNull())
          .addColumn("body", "text", (c) => c.notNull())
          .addColumn("at", "bigint", (c) => c.notNull())
          .addPrimaryKeyConstraint("learnt_key", ["vehicle", "key"])
          .execute();
        await schema
          .createTable("job_order")
          .addColumn("id", "text", (c) => c.primaryKey())
          .addColumn("vehicle", "text", (c) => c.notNull())
          .addColumn("version", "integer", (c) => c.notNull())
          .addColumn("machine", "text", (c) => c.references("machine.id"))
          .addColumn("jobs", "text", (c) => c.notNull())
          .addColumn("body", "text", (c) => c.notNull())
          .addColumn("at", "bigint", (c) => c.notNull())
          .addColumn("made_by", "text", (c) => c.notNull())
          .addColumn("revision", "integer", (c) => c.notNull())
          .addForeignKeyConstraint("job_order_version", ["vehicle", "version"], "vehicle_version", [
            "vehicle",
            "version",
          ])
          .execute();
        await schema
          .createTable("plan")
          .addColumn("id", "text", (c) => c.primaryKey())
          .addColumn("job_order", "text", (c) => c.notNull().references("job_order.id"))
          .addColumn("body", "text", (c) => c.notNull())
          .addColumn("at", "bigint", (c) => c.notNull())
          .execute();
        await schema
          .createTable("run")
          .addColumn("id", "text", (c) => c.primaryKey())
          .addColumn("job_order", "text", (c) => c.notNull().references("job_order.id"))
          .addColumn("plan", "text", (c) => c.notNull().references("plan.id"))
          .addColumn("vehicle", "text", (c) => c.notNull())
          .addColumn("version", "integer", (c) => c.notNull())
          .addColumn("opened", "bigint", (c) => c.notNull())
          .addColumn("opened_by", "text", (c) => c.notNull())
          .addColumn("closed", "bigint")
          .addColumn("length", "integer", (c) => c.notNull())
          .addForeignKeyConstraint("run_version", ["vehicle", "version"], "vehicle_version", ["vehicle", "version"])
          .execute();
        await schema
          .createTable("entry")
          .addColumn("run", "text", (c) => c.notNull().references("run.id"))
          .addColumn("position", "integer", (c) => c.notNull())
          .addColumn("id", "text", (c) => c.notNull().unique())
          .addColumn("device", "text", (c) => c.notNull())
          .addColumn("text", "text", (c) => c.notNull())
          .addPrimaryKeyConstraint("entry_place", ["run", "position"])
          .execute();
      },
    },
    "002-sites": {
      async up(db: Kysely<unknown>) {
        const { schema } = db;
        await schema
          .createTable("site")
          .addColumn("id", "text", (c) => c.primaryKey())
          .addColumn("label", "text", (c) => c.notNull())
          .addColumn("body", "text", (c) => c.notNull())
          .addColumn("revision", "integer", (c) => c.notNull())
          .execute();
        for (const table of ["job_order", "run"]) {
          await schema
            .alterTable(table)
            .addColumn("site", "text", (c) => c.notNull().defaultTo(MAIN_SITE))
            .execute();
          await schema.createIndex(`${table}_of_site`).on(table).columns(["site", "id"]).execute();
        }
      },
    },
    "003-accounts": accountsMigration,
    "004-questions": questionsMigration,
  };
}
