// Owns how questions are kept: each change of state is one conditional write, so that two who make it at once cannot both have made it.
import { type Selectable, sql } from "kysely";
import { guard as guardBy, type Ways } from "./guard.ts";
import type { KeptQuestion, QuestionFault, QuestionKeep, QuestionModel, QuestionState } from "./questions.ts";
import { unknown } from "./row.ts";
import type { ModelFile } from "./store.ts";
import type { Database, Tables } from "./tables.ts";

/** States in which an answer is wanted. */
const OPEN: readonly QuestionState[] = ["waiting", "running"];

export function keepQuestions(db: Database, ways: Ways): QuestionKeep {
  const guard = <T>(work: () => Promise<T>) => guardBy(ways, work);

  const find = async (on: Database, digest: string) => {
    const row = await on.selectFrom("question").selectAll().where("digest", "=", digest).executeTakeFirst();
    return row && questionOf(row);
  };

  const changes = (tx: Database, digest: string, states: readonly QuestionState[]) =>
    tx
      .updateTable("question")
      .set(({ eb }) => ({ revision: eb("revision", "+", 1) }))
      .where("digest", "=", digest)
      .where("state", "in", states);

  /** Makes a change of one question and tells of it; what the change gives says whether it was made. */
  const change = <T>(digest: string, work: (tx: Database) => Promise<T | undefined>): Promise<T | undefined> =>
    guard(() =>
      db.transaction().execute(async (tx) => {
        const made = await work(tx);
        if (made !== undefined) await ways.questions.announce(tx, [digest]);
        return made;
      }),
    );
  const made = async (work: Promise<unknown>): Promise<boolean> => (await work) !== undefined;

  return {
    ask: (question, files, limit) =>
      guard(() =>
        db.transaction().execute(async (tx) => {
          const { digest, kind, rank, at, by } = question;
          const there = await find(tx, digest);
          if (there !== undefined && there.state !== "failed" && there.state !== "cancelled") return there;
          const { open } = await tx
            .selectFrom("question")
            .select(({ fn }) => fn.countAll<number>().as("open"))
            .where("asked_by", "=", by)
            .where("state", "in", OPEN)
            .executeTakeFirstOrThrow();
          if (open >= limit) return undefined;
          if (files !== undefined && "digest" in question.model)
            await tx
              .insertInto("question_model")
              .values({ digest: question.model.digest, files: JSON.stringify(files) })
              // Written as it is, so that it cannot be forgotten meanwhile.
              .onConflict((clash) =>
                clash.column("digest").doUpdateSet(({ ref }) => ({ files: ref("excluded.files") })),
              )
              .execute();
          const fresh = {
            rank,
            at,
            asked_by: by,
            state: "waiting",
            attempts: 0,
            worker: null,
            progress: null,
            fault: null,
            begun: null,
            ended: null,
          };
          const row = {
            digest,
            kind,
            ...columnsOf(question.model),
            body: JSON.stringify(question.body),
            revision: 1,
            answer: null,
            ...fresh,
          };
          const { numInsertedOrUpdatedRows } = await tx
            .insertInto("question")
            .values(row)
            .onConflict((clash) =>
              clash
                .column("digest")
                .doUpdateSet(({ eb }) => ({ ...fresh, revision: eb("question.revision", "+", 1) }))
                .where("question.state", "in", ["failed", "cancelled"]),
            )
            .executeTakeFirstOrThrow();
          // None where somebody else asked the same at the same moment: it is his.
          if (numInsertedOrUpdatedRows === 1n) {
            await ways.questions.enqueue(tx, digest, rank);
            await ways.questions.announce(tx, [digest]);
          }
          return await find(tx, digest);
        }),
      ),
    question: (digest) => guard(() => find(db, digest)),
    files: (model) =>
      guard(async () => {
        const row =
          "digest" in model
            ? await db
                .selectFrom("question_model")
                .select("files")
                .where("digest", "=", model.digest)
                .executeTakeFirst()
            : await db
                .selectFrom("vehicle_version")
                .select("files")
                .where("vehicle", "=", model.vehicle)
                .where("version", "=", model.version)
                .executeTakeFirst();
        if (row === undefined) throw unknown("question", "the model that it is about");
        return JSON.parse(row.files) as ModelFile[];
      }),

    take: (worker, at, digest) =>
      guard(() =>
        db.transaction().execute(async (tx) => {
          const next =
            digest ??
            (
              await tx
                .selectFrom("question")
                .select("digest")
                .where("state", "=", "waiting")
                .orderBy("rank")
                .orderBy("at")
                .limit(1)
                .executeTakeFirst()
            )?.digest;
          if (next === undefined) return undefined;
          const row = await changes(tx, next, ["waiting"])
            .set(({ eb }) => ({
              state: "running",
              worker,
              begun: at,
              progress: null,
              attempts: eb("attempts", "+", 1),
            }))
            .returningAll()
            .executeTakeFirst();
          if (row === undefined) return undefined;
          await ways.questions.announce(tx, [next]);
          return questionOf(row);
        }),
      ),
    tell: (digest, worker, progress) =>
      made(
        change(digest, (tx) =>
          changes(tx, digest, ["running"])
            .set({ progress: JSON.stringify(progress) })
            .where("worker", "=", worker)
            .returning("digest")
            .executeTakeFirst(),
        ),
      ),
    answer: (digest, answer, at) =>
      made(
        change(digest, async (tx) => {
          const row = await changes(tx, digest, OPEN)
            .set({ state: "answered", answer, progress: null, ended: at })
            .returning("digest")
            .executeTakeFirst();
          return row;
        }),
      ),
    fail: (digest, worker, fault, at) =>
      made(
        change(digest, (tx) =>
          changes(tx, digest, ["running"])
            .set({ state: "failed", fault: JSON.stringify(fault), progress: null, ended: at })
            .where("worker", "=", worker)
            .returning("digest")
            .executeTakeFirst(),
        ),
      ),
    giveBack: (digest, worker) =>
      made(
        change(digest, async (tx) => {
          const row = await changes(tx, digest, ["running"])
            .set(({ eb }) => ({ state: "waiting", worker: null, progress: null, attempts: eb("attempts", "-", 1) }))
            .where("worker", "=", worker)
            .returning("rank")
            .executeTakeFirst();
          if (row !== undefined) await ways.questions.enqueue(tx, digest, row.rank);
          return row;
        }),
      ),
    running: () =>
      guard(async () => {
        const rows = await db
          .selectFrom("question")
          .select(["digest", "worker"])
          .where("state", "=", "running")
          .execute();
        return rows.map(({ digest, worker }) => ({ digest, worker: worker ?? "" }));
      }),
    abandon: (digest, worker) =>
      made(
        change(digest, async (tx) => {
          const row = await changes(tx, digest, ["running"])
            .set({ state: "waiting", worker: null, progress: null })
            .where("worker", "=", worker)
            .returning("rank")
            .executeTakeFirst();
          if (row !== undefined) await ways.questions.enqueue(tx, digest, row.rank);
          return row;
        }),
      ),
    queueAgain: (before) =>
      guard(async () => {
        const rows = await db
          .selectFrom("question")
          .select(["digest", "rank"])
          .where("state", "=", "waiting")
          .where("at", "<", before)
          .execute();
        for (const { digest, rank } of rows) await ways.questions.enqueue(db, digest, rank);
      }),
    recover: () =>
      guard(async () => {
        const { numUpdatedRows } = await db
          .updateTable("question")
          .set(({ eb }) => ({ state: "waiting", worker: null, progress: null, revision: eb("revision", "+", 1) }))
          .where("state", "=", "running")
          .executeTakeFirst();
        return Number(numUpdatedRows);
      }),
    cancel: (digest, at) =>
      made(
        change(digest, async (tx) => {
          const row = await changes(tx, digest, OPEN)
            .set({ state: "cancelled", progress: null, ended: at })
            .returning("digest")
            .executeTakeFirst();
          if (row !== undefined) await ways.questions.dequeue(tx, digest);
          return row;
        }),
      ),
    forget: (before) =>
      guard(async () => {
        const { numDeletedRows } = await db.deleteFrom("question").where("ended", "<", before).executeTakeFirst();
        await sql`
          delete from question_model
          where not exists (select 1 from question where question.model = question_model.digest)`.execute(db);
        return Number(numDeletedRows);
      }),
    watch: (listener) => guard(() => ways.questions.watch(listener)),
  };
}

const columnsOf = (model: QuestionModel) =>
  "digest" in model
    ? { vehicle: null, version: null, model: model.digest }
    : { vehicle: model.vehicle, version: model.version, model: null };

function questionOf(row: Selectable<Tables["question"]>): KeptQuestion {
  const { digest, kind, rank, at, state, revision, attempts } = row;
  return {
    digest,
    kind,
    model:
      row.vehicle !== null && row.version !== null
        ? { vehicle: row.vehicle, version: row.version }
        : { digest: row.model ?? "" },
    body: JSON.parse(row.body),
    rank,
    at,
    by: row.asked_by,
    state: state as QuestionState,
    revision,
    attempts,
    worker: row.worker ?? undefined,
    progress: row.progress === null ? undefined : JSON.parse(row.progress),
    answer: row.answer ?? undefined,
    fault: row.fault === null ? undefined : (JSON.parse(row.fault) as QuestionFault),
    begun: row.begun ?? undefined,
    ended: row.ended ?? undefined,
  };
}
