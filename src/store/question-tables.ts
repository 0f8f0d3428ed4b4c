// Owns the tables of questions: their shape and the step that made them. A backup leaves them out: what was computed can be computed again.
import type { Kysely, Migration } from "kysely";

interface QuestionModelTable {
  digest: string;
  files: string;
}

interface QuestionTable {
  digest: string;
  kind: string;
  vehicle: string | null;
  version: number | null;
  model: string | null;
  body: string;
  rank: number;
  at: number;
  asked_by: string;
  state: string;
  revision: number;
  attempts: number;
  worker: string | null;
  progress: string | null;
  answer: string | null;
  fault: string | null;
  begun: number | null;
  ended: number | null;
}

export interface QuestionTables {
  question_model: QuestionModelTable;
  question: QuestionTable;
}

export const questionsMigration: Migration = {
  async up(db: Kysely<unknown>) {
    const { schema } = db;
    await schema
      .createTable("question_model")
      .addColumn("digest", "text", (c) => c.primaryKey())
      .addColumn("files", "text", (c) => c.notNull())
      .execute();
    await schema
      .createTable("question")
      .addColumn("digest", "text", (c) => c.primaryKey())
      .addColumn("kind", "text", (c) => c.notNull())
      .addColumn("vehicle", "text")
      .addColumn("version", "integer")
      .addColumn("model", "text", (c) => c.references("question_model.digest"))
      .addColumn("body", "text", (c) => c.notNull())
      .addColumn("rank", "integer", (c) => c.notNull())
      .addColumn("at", "bigint", (c) => c.notNull())
      .addColumn("asked_by", "text", (c) => c.notNull())
      .addColumn("state", "text", (c) => c.notNull())
      .addColumn("revision", "integer", (c) => c.notNull())
      .addColumn("attempts", "integer", (c) => c.notNull())
      .addColumn("worker", "text")
      .addColumn("progress", "text")
      .addColumn("answer", "text")
      .addColumn("fault", "text")
      .addColumn("begun", "bigint")
      .addColumn("ended", "bigint")
      .addForeignKeyConstraint("question_version", ["vehicle", "version"], "vehicle_version", ["vehicle", "version"])
      .execute();
    await schema.createIndex("question_next").on("question").columns(["state", "rank", "at"]).execute();
    await schema.createIndex("question_of_person").on("question").columns(["asked_by", "state"]).execute();
  },
};
