// Owns the store over any database that kysely speaks to: each record in and out of its table.
import { createHash } from "node:crypto";
import { readPhoto, readVoice } from "./attached.ts";
import { readRows, takeRows } from "./copy.ts";
import { guard as guardBy, type Ways } from "./guard.ts";
import { keepAccounts } from "./keep-accounts.ts";
import { keepQuestions } from "./keep-questions.ts";
import { checkText, readEntries, writeGroup } from "./log.ts";
import { makeQueue } from "./queue.ts";
import { clash, expectRow, once, revise, stale, unknown } from "./row.ts";
import {
  type Attached,
  type KeptPlan,
  type Machine,
  type ModelFile,
  type Order,
  type Page,
  type Person,
  PHOTO_TYPES,
  type Run,
  type Site,
  type Store,
  type VehicleVersion,
  VOICE_TYPES,
} from "./store.ts";
import type { Database, Tables } from "./tables.ts";

export function keepIn(db: Database, ways: Ways): Store {
  const guard = <T>(work: () => Promise<T>) => guardBy(ways, work);
  const queue = makeQueue((group) => guard(() => writeGroup(db, group, ways)));

  const readVersion = async (vehicle: string, version?: number): Promise<VehicleVersion | undefined> => {
    let query = db.selectFrom("vehicle_version").selectAll().where("vehicle", "=", vehicle);
    if (version !== undefined) query = query.where("version", "=", version);
    const row = await query.orderBy("version", "desc").limit(1).executeTakeFirst();
    return row && versionOf(row);
  };

  // Photos and spoken notes are one table's: each is a type and bytes under their digest.
  const attach = async <T extends string>({
    digest,
    type,
    bytes,
  }: Attached<T>): Promise<Omit<Attached<T>, "bytes">> => {
    await db
      .insertInto("photo")
      .values({ digest, type, bytes })
      .onConflict((clash) => clash.doNothing())
      .execute();
    return { digest, type };
  };
  const attached = async <T extends string>(digest: string, types: readonly T[]): Promise<Attached<T> | undefined> => {
    const row = await db.selectFrom("photo").selectAll().where("digest", "=", digest).executeTakeFirst();
    const type = types.find((one) => one === row?.type);
    return row === undefined || type === undefined ? undefined : { digest, type, bytes: new Uint8Array(row.bytes) };
  };

  return {
    place: ways.place,
    accounts: keepAccounts(db, guard, ways.hold),
    questions: keepQuestions(db, ways),

    saveVehicle: (vehicle, files, at, by) =>
      guard(async () => {
        const digest = digestOf(files);
        const latest = await readVersion(vehicle);
        if (latest?.digest === digest) return latest;
        const version = (latest?.version ?? 0) + 1;
        const row = { vehicle, version, digest, files: JSON.stringify(files), at, made_by: by };
        const { numInsertedOrUpdatedRows } = await db
          .insertInto("vehicle_version")
          .values(row)
          .onConflict((clash) => clash.doNothing())
          .executeTakeFirstOrThrow();
        if (numInsertedOrUpdatedRows === 1n) return versionOf(row);
        throw stale(`vehicle "${vehicle}"`);
      }),
    vehicle: (vehicle, version) => guard(() => readVersion(vehicle, version)),
    vehicles: () =>
      guard(async () => {
        const rows = await db
          .selectFrom("vehicle_version")
          .select(["vehicle", "version", "digest", "at", "made_by as by"])
          .where(({ eb, selectFrom }) =>
            eb(
              "version",
              "=",
              selectFrom("vehicle_version as other")
                .select(({ fn }) => fn.max("other.version").as("latest"))
                .whereRef("other.vehicle", "=", "vehicle_version.vehicle"),
            ),
          )
          .orderBy("vehicle")
          .execute();
        return rows;
      }),

    saveSite: (site, revision) =>
      guard(async () => {
        await revise(db, "site", site.id, { label: site.label, body: JSON.stringify(site.body) }, revision);
        return { revision: revision + 1, value: site };
      }),
    site: (id) =>
      guard(async () => {
        const row = await db.selectFrom("site").selectAll().where("id", "=", id).executeTakeFirst();
        return row && { revision: row.revision, value: siteOf(row) };
      }),
    sites: () =>
      guard(async () => {
        const rows = await db.selectFrom("site").selectAll().orderBy("id").execute();
        return rows.map((row) => ({ revision: row.revision, value: siteOf(row) }));
      }),

    saveMachine: (machine, revision) =>
      guard(async () => {
        const { id, vehicle } = machine;
        const values = { vehicle, body: JSON.stringify(machine.body) };
        await revise(db, "machine", id, values, revision);
        return { revision: revision + 1, value: machine };
      }),
    machine: (id) =>
      guard(async () => {
        const row = await db.selectFrom("machine").selectAll().where("id", "=", id).executeTakeFirst();
        return row && { revision: row.revision, value: machineOf(row) };
      }),

    savePerson: (person, revision) =>
      guard(async () => {
        const { id, name } = person;
        const values = {
          name,
          roles: JSON.stringify(person.roles),
          skills: JSON.stringify(person.skills),
          body: JSON.stringify(person.body),
        };
        await revise(db, "person", id, values, revision);
        return { revision: revision + 1, value: person };
      }),
    person: (id) =>
      guard(async () => {
        const row = await db.selectFrom("person").selectAll().where("id", "=", id).executeTakeFirst();
        return row && { revision: row.revision, value: personOf(row) };
      }),
    people: () =>
      guard(async () => {
        const rows = await db.selectFrom("person").selectAll().orderBy("id").execute();
        return rows.map((row) => ({ revision: row.revision, value: personOf(row) }));
      }),

    saveOrder: (order, revision) =>
      guard(async () => {
        const { id, vehicle, version, at } = order;
        const at_ = `order "${id}"`;
        if ((await readVersion(vehicle, version)) === undefined)
          throw unknown(at_, `vehicle "${vehicle}" version ${version}`);
        if (order.machine !== undefined) await expectRow(db, "machine", order.machine, at_);
        const values = {
          site: order.site,
          vehicle,
          version,
          machine: order.machine ?? null,
          jobs: JSON.stringify(order.jobs),
          body: JSON.stringify(order.body),
          at,
          made_by: order.by,
        };
        await revise(db, "job_order", id, values, revision);
        return { revision: revision + 1, value: order };
      }),
    order: (id) =>
      guard(async () => {
        const row = await db.selectFrom("job_order").selectAll().where("id", "=", id).executeTakeFirst();
        return row && { revision: row.revision, value: orderOf(row) };
      }),
    orders: (limit, after, sites) =>
      guard(async () => {
        if (sites?.length === 0) return { items: [], next: undefined };
        let query = db.selectFrom("job_order").selectAll();
        if (sites !== undefined) query = query.where("site", "in", sites);
        if (after !== undefined) query = query.where("id", ">", after);
        const rows = await query
          .orderBy("id")
          .limit(limit + 1)
          .execute();
        return pageOf(rows, limit, (row) => ({ revision: row.revision, value: orderOf(row) }));
      }),

    savePlan: (plan) =>
      guard(async () => {
        const { id, at } = plan;
        await expectRow(db, "job_order", plan.order, `plan "${id}"`);
        await once(db, "plan", { id, job_order: plan.order, body: JSON.stringify(plan.body), at });
      }),
    plan: (id) =>
      guard(async () => {
        const row = await db.selectFrom("plan").selectAll().where("id", "=", id).executeTakeFirst();
        return row && planOf(row);
      }),

    saveDevice: (device) => guard(() => once(db, "device", { ...device })),
    device: (id) => guard(() => db.selectFrom("device").selectAll().where("id", "=", id).executeTakeFirst()),

    savePhoto: (bytes) => guard(() => attach(readPhoto(bytes))),
    photo: (digest) => guard(() => attached(digest, PHOTO_TYPES)),
    saveVoice: (bytes) => guard(() => attach(readVoice(bytes))),
    voice: (digest) => guard(() => attached(digest, VOICE_TYPES)),

    saveLearnt: (learnt) =>
      guard(() =>
        db.transaction().execute(async (tx) => {
          for (const { vehicle, key, body, at } of learnt) {
            const values = { body: JSON.stringify(body), at };
            await tx
              .insertInto("learnt")
              .values({ vehicle, key, ...values })
              .onConflict((clash) => clash.columns(["vehicle", "key"]).doUpdateSet(values))
              .execute();
          }
        }),
      ),
    learnt: (vehicle) =>
      guard(async () => {
        const rows = await db.selectFrom("learnt").selectAll().where("vehicle", "=", vehicle).orderBy("key").execute();
        return rows.map((row) => ({ ...row, body: JSON.parse(row.body) as unknown }));
      }),

    openRun: ({ id, order, plan, at, by }) =>
      guard(async () => {
        const there = await db.selectFrom("run").selectAll().where("id", "=", id).executeTakeFirst();
        if (there !== undefined) {
          if (there.job_order === order && there.plan === plan) return runOf(there);
          throw clash(`run "${id}"`);
        }
        const made = await db
          .selectFrom("plan")
          .innerJoin("job_order", "job_order.id", "plan.job_order")
          .select(["job_order.site", "job_order.vehicle", "job_order.version"])
          .where("plan.id", "=", plan)
          .where("job_order.id", "=", order)
          .executeTakeFirst();
        if (made === undefined) throw unknown(`run "${id}"`, `plan "${plan}" of order "${order}"`);
        const row = { id, job_order: order, plan, ...made, opened: at, opened_by: by, closed: null, length: 0 };
        await db.transaction().execute(async (tx) => {
          await tx.insertInto("run").values(row).execute();
          // Whoever looks at all runs hears of it before anything is entered there.
          await ways.announce(tx, [id]);
        });
        return runOf(row);
      }),
    closeRun: (id, at) =>
      guard(async () => {
        const row = await db
          .updateTable("run")
          .set({ closed: at })
          .where("id", "=", id)
          .returningAll()
          .executeTakeFirst();
        if (row === undefined) throw unknown(`run "${id}"`, "such a run");
        return runOf(row);
      }),
    run: (id) =>
      guard(async () => {
        const row = await db.selectFrom("run").selectAll().where("id", "=", id).executeTakeFirst();
        return row && runOf(row);
      }),
    runs: (limit, after, sites) =>
      guard(async () => {
        if (sites?.length === 0) return { items: [], next: undefined };
        let query = db.selectFrom("run").selectAll();
        if (sites !== undefined) query = query.where("site", "in", sites);
        if (after !== undefined) query = query.where("id", ">", after);
        const rows = await query
          .orderBy("id")
          .limit(limit + 1)
          .execute();
        return pageOf(rows, limit, runOf);
      }),

    append: async (run, entries, behind) => {
      for (const entry of entries) checkText(run, entry);
      return await queue.append(run, entries, behind);
    },
    entries: (run, behind, limit) => guard(() => readEntries(db, run, behind, limit)),

    watch: (listener) => guard(() => ways.watch(listener)),

    lines: () => ways.snapshot(readRows),
    takeIn: async (lines) => {
      try {
        // Not tried again: the lines are read once.
        await takeRows(db, ways.place, lines);
      } catch (error) {
        throw ways.read(error);
      }
    },
    examine: () => guard(() => ways.examine()),
    async close() {
      await queue.drained();
      await ways.close();
    },
  };
}

/** The name of a model: SHA-256 of its paths and texts, hexadecimal. */
export function digestOf(files: readonly ModelFile[]): string {
  return createHash("sha256")
    .update(JSON.stringify(files.map(({ path, text }) => [path, text])))
    .digest("hex");
}

function versionOf(row: Tables["vehicle_version"]): VehicleVersion {
  const { vehicle, version, digest, at, made_by } = row;
  return { vehicle, version, digest, files: JSON.parse(row.files) as ModelFile[], at, by: made_by };
}

function siteOf({ id, label, body }: Tables["site"]): Site {
  return { id, label, body: JSON.parse(body) };
}

function machineOf({ id, vehicle, body }: Tables["machine"]): Machine {
  return { id, vehicle, body: JSON.parse(body) };
}

function personOf(row: Tables["person"]): Person {
  return {
    id: row.id,
    name: row.name,
    roles: JSON.parse(row.roles) as string[],
    skills: JSON.parse(row.skills) as string[],
    body: JSON.parse(row.body),
  };
}

function orderOf(row: Tables["job_order"]): Order {
  return {
    id: row.id,
    site: row.site,
    vehicle: row.vehicle,
    version: row.version,
    machine: row.machine ?? undefined,
    jobs: JSON.parse(row.jobs) as string[],
    body: JSON.parse(row.body),
    at: row.at,
    by: row.made_by,
  };
}

function planOf({ id, job_order, body, at }: Tables["plan"]): KeptPlan {
  return { id, order: job_order, body: JSON.parse(body), at };
}

function runOf(row: Tables["run"]): Run {
  const { id, site, job_order, plan, vehicle, version, opened, opened_by, closed, length } = row;
  return {
    id,
    site,
    order: job_order,
    plan,
    vehicle,
    version,
    opened,
    by: opened_by,
    closed: closed ?? undefined,
    length,
  };
}

function pageOf<R extends { readonly id: string }, T>(rows: readonly R[], limit: number, read: (row: R) => T): Page<T> {
  const items = rows.slice(0, limit);
  return { items: items.map(read), next: rows.length > limit ? items.at(-1)?.id : undefined };
}
