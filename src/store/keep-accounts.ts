// Owns how the records of people who sign in go into their tables and out.
import { type SelectQueryBuilder, sql } from "kysely";
import type {
  Accounts,
  Challenge,
  Member,
  MemberChange,
  Pairing,
  Passkey,
  Secret,
  Session,
  SignIn,
} from "./accounts.ts";
import { revise } from "./row.ts";
import type { Page } from "./store.ts";
import { StoreFault } from "./store.ts";
import type { Database, Tables } from "./tables.ts";

/**
 * @param guard runs work that may be done twice
 * @param hold whether rows must be held by name
 */
export function keepAccounts(db: Database, guard: <T>(work: () => Promise<T>) => Promise<T>, hold: boolean): Accounts {
  const membersWhere = async (
    from: Database,
    narrow: (query: SelectQueryBuilder<Tables, "account" | "person", object>) => typeof query,
  ): Promise<Member[]> => {
    const rows = await narrow(from.selectFrom("account").innerJoin("person", "person.id", "account.person"))
      .selectAll("account")
      .select(["person.name", "person.skills", "person.revision"])
      .orderBy("account.person")
      .execute();
    if (rows.length === 0) return [];
    const people = rows.map(({ person }) => person);
    const roles = await from
      .selectFrom("membership")
      .selectAll()
      .where("person", "in", people)
      .orderBy("site")
      .execute();
    return rows.map((row) => ({
      person: row.person,
      name: row.name,
      skills: JSON.parse(row.skills) as string[],
      steward: row.steward === 1,
      sites: Object.fromEntries(
        roles.filter(({ person }) => person === row.person).map((one) => [one.site, JSON.parse(one.roles) as string[]]),
      ),
      revision: row.revision,
      password: secretOf(row.password, row.password_start),
      pin: secretOf(row.pin, row.pin_start),
    }));
  };
  const memberIn = async (from: Database, person: string) =>
    (await membersWhere(from, (query) => query.where("account.person", "=", person)))[0];

  /** His record, his account and his roles; the roles that others gave him in orders stay. */
  const writeMember = async (tx: Database, change: MemberChange, revision: number) => {
    const { person, name, steward, sites } = change;
    const there = await tx.selectFrom("person").selectAll().where("id", "=", person).executeTakeFirst();
    const { roles = "[]", body = "{}" } = there ?? {};
    await revise(tx, "person", person, { name, roles, skills: JSON.stringify(change.skills), body }, revision);
    await tx
      .insertInto("account")
      .values({
        person,
        steward: steward ? 1 : 0,
        password: null,
        password_start: null,
        pin: null,
        pin_start: null,
      })
      .onConflict((clash) => clash.column("person").doUpdateSet({ steward: steward ? 1 : 0 }))
      .execute();
    await tx.deleteFrom("membership").where("person", "=", person).execute();
    const rows = Object.entries(sites)
      .filter(([, own]) => own.length > 0)
      .map(([site, own]) => ({ person, site, roles: JSON.stringify(own) }));
    if (rows.length > 0) await tx.insertInto("membership").values(rows).execute();
  };

  return {
    anybody: () =>
      guard(async () => (await db.selectFrom("account").select("person").limit(1).executeTakeFirst()) !== undefined),
    setUp: ({ site, password, at: _, ...first }) =>
      guard(() =>
        db.transaction().execute(async (tx) => {
          // The key of this row lets one through, whichever process he comes to.
          const { numInsertedOrUpdatedRows } = await tx
            .insertInto("setting")
            .values({ name: "set up by", value: first.person })
            .onConflict((clash) => clash.doNothing())
            .executeTakeFirstOrThrow();
          if (numInsertedOrUpdatedRows !== 1n) return false;
          const kept = { id: site.id, label: site.label, body: JSON.stringify(site.body), revision: 1 };
          await tx
            .insertInto("site")
            .values(kept)
            .onConflict((clash) => clash.column("id").doUpdateSet({ label: kept.label, body: kept.body }))
            .execute();
          const there = await tx
            .selectFrom("person")
            .select("revision")
            .where("id", "=", first.person)
            .executeTakeFirst();
          await writeMember(tx, first, there?.revision ?? 0);
          await tx.updateTable("account").set({ password }).where("person", "=", first.person).execute();
          return true;
        }),
      ),
    member: (person) => guard(() => memberIn(db, person)),
    members: (limit, after, sites) =>
      guard(async () => {
        const found = await membersWhere(db, (query) => {
          let narrowed = query.limit(limit + 1);
          if (after !== undefined) narrowed = narrowed.where("account.person", ">", after);
          if (sites !== undefined)
            narrowed = narrowed.where("account.person", "in", (eb) =>
              eb.selectFrom("membership").select("membership.person").where("membership.site", "in", sites),
            );
          return narrowed;
        });
        return pageOf(found, limit, ({ person }) => person);
      }),
    saveMember: (change, revision) =>
      guard(() =>
        db.transaction().execute(async (tx) => {
          const stewards = () => tx.selectFrom("account").select("person").where("steward", "=", 1).execute();
          const wasSteward = !change.steward && (await stewards()).some(({ person }) => person === change.person);
          // One at a time unmakes a steward: of two who unmake each other at the same moment the second sees that he is the last.
          if (wasSteward)
            await tx
              .updateTable("setting")
              .set(({ ref }) => ({ value: ref("value") }))
              .where("name", "=", "set up by")
              .execute();
          await writeMember(tx, change, revision);
          if (wasSteward && (await stewards()).length === 0)
            throw new StoreFault(
              "last-steward",
              change.person,
              "nobody would keep the server any more",
              "Make somebody else a steward first.",
            );
          return (await memberIn(tx, change.person))!;
        }),
      ),
    setSecret: (person, kind, { hash, start = null as number | null }, was) =>
      guard(async () => {
        const values = kind === "pin" ? { pin: hash, pin_start: start } : { password: hash, password_start: start };
        const { numUpdatedRows } = await db
          .updateTable("account")
          .set(values)
          .where("person", "=", person)
          // What is there already was written by a try whose answer was lost.
          .where((eb) => eb.or([was === undefined ? eb(kind, "is", null) : eb(kind, "=", was), eb(kind, "=", hash)]))
          .executeTakeFirst();
        return numUpdatedRows === 1n;
      }),

    openSession: (session) =>
      guard(async () => {
        await db
          .insertInto("session")
          .values({ ...session, device: session.device ?? null, ended: session.ended ?? null })
          .onConflict((clash) => clash.doNothing())
          .execute();
      }),
    session: (digest) =>
      guard(async () => {
        const row = await db.selectFrom("session").selectAll().where("digest", "=", digest).executeTakeFirst();
        if (row === undefined) return undefined;
        const session = sessionOf(row);
        const member = await memberIn(db, session.person);
        if (member === undefined) return undefined;
        const device =
          row.device === null
            ? undefined
            : await db.selectFrom("pairing").selectAll().where("id", "=", row.device).executeTakeFirst();
        return { session, member, pairing: device && pairingOf(device) };
      }),
    seeSession: (digest, seen) =>
      guard(async () => {
        await db.updateTable("session").set({ seen }).where("digest", "=", digest).where("seen", "<", seen).execute();
      }),
    sessionsOf: (person) =>
      guard(async () => {
        const query = db.selectFrom("session").selectAll().where("person", "=", person).where("ended", "is", null);
        return (await query.orderBy("opened").execute()).map(sessionOf);
      }),
    sessionsOn: (device, at) =>
      guard(async () => {
        const rows = await db
          .selectFrom("session")
          .selectAll()
          .where("device", "=", device)
          .where("opened", "<=", at)
          .where("until", ">=", at)
          .where((eb) => eb.or([eb("ended", "is", null), eb("ended", ">=", at)]))
          .execute();
        return rows.map(sessionOf);
      }),
    endSessions: (which, at) =>
      guard(async () => {
        let query = db.updateTable("session").set({ ended: at }).where("ended", "is", null);
        if (which.person !== undefined) query = query.where("person", "=", which.person);
        if (which.id !== undefined) query = query.where("id", "=", which.id);
        if (which.device !== undefined) query = query.where("device", "=", which.device);
        if (which.except !== undefined) query = query.where("digest", "<>", which.except);
        if (which.before !== undefined) query = query.where("opened", "<", which.before);
        return Number((await query.executeTakeFirst()).numUpdatedRows);
      }),

    pair: ({ by, ...pairing }) =>
      guard(async () => {
        const rest = { made_by: by, owner: pairing.owner ?? null, withdrawn: pairing.withdrawn ?? null };
        await db
          .insertInto("pairing")
          .values({ ...pairing, ...rest })
          .onConflict((clash) => clash.column("id").doUpdateSet({ ...pairing, ...rest }))
          .execute();
      }),
    pairing: (which) =>
      guard(async () => {
        const [column, value] = "id" in which ? (["id", which.id] as const) : (["digest", which.digest] as const);
        const row = await db.selectFrom("pairing").selectAll().where(column, "=", value).executeTakeFirst();
        return row && pairingOf(row);
      }),
    pairings: (sites) =>
      guard(async () => {
        let query = db.selectFrom("pairing").selectAll();
        if (sites !== undefined) query = query.where("site", "in", sites);
        return (await query.orderBy("at").orderBy("id").execute()).map(pairingOf);
      }),
    renamePairing: (id, name) =>
      guard(async () => {
        await db.updateTable("pairing").set({ name }).where("id", "=", id).execute();
      }),
    withdrawPairing: (id, at) =>
      guard(() =>
        db.transaction().execute(async (tx) => {
          const live = tx.updateTable("pairing").set({ withdrawn: at }).where("id", "=", id);
          await live.where("withdrawn", "is", null).execute();
          const open = tx.updateTable("session").set({ ended: at }).where("device", "=", id);
          await open.where("ended", "is", null).execute();
        }),
      ),

    savePasskey: (passkey) =>
      guard(async () => {
        const { transports, used = null as number | null } = passkey;
        await db
          .insertInto("passkey")
          .values({ ...passkey, transports: JSON.stringify(transports), used })
          .onConflict((clash) => clash.doNothing())
          .execute();
      }),
    passkey: (id) =>
      guard(async () => {
        const row = await db.selectFrom("passkey").selectAll().where("id", "=", id).executeTakeFirst();
        return row && passkeyOf(row);
      }),
    passkeysOf: (person) =>
      guard(async () => {
        const rows = await db.selectFrom("passkey").selectAll().where("person", "=", person).orderBy("at").execute();
        return rows.map(passkeyOf);
      }),
    usePasskey: (id, counter, was, at) =>
      guard(async () => {
        const { numUpdatedRows } = await db
          .updateTable("passkey")
          .set({ counter, used: at })
          .where("id", "=", id)
          .where("counter", "=", was)
          .executeTakeFirst();
        return numUpdatedRows === 1n;
      }),
    removePasskey: (person, id) =>
      guard(async () => {
        await db.deleteFrom("passkey").where("id", "=", id).where("person", "=", person).execute();
      }),
    keepChallenge: (challenge) =>
      guard(async () => {
        await db
          .insertInto("challenge")
          .values({ ...challenge, person: challenge.person ?? null })
          .onConflict((clash) => clash.doNothing())
          .execute();
      }),
    takeChallenge: (challenge) =>
      guard(async () => {
        const row = await db
          .deleteFrom("challenge")
          .where("challenge", "=", challenge)
          .returningAll()
          .executeTakeFirst();
        return row && { ...row, kind: row.kind as Challenge["kind"], person: row.person ?? undefined };
      }),

    countTry: (keys, now, wait, forget) =>
      guard(() =>
        db.transaction().execute(async (tx) => {
          // In one order everywhere, so that two that hold rows cannot wait for each other.
          const sorted = [...new Set(keys)].sort();
          const fresh = sorted.map((key) => ({ key, tries: 0, last: now, until: 0 }));
          await tx
            .insertInto("attempt")
            .values(fresh)
            .onConflict((clash) => clash.doNothing())
            .execute();
          let query = tx.selectFrom("attempt").selectAll().where("key", "in", sorted).orderBy("key");
          if (hold) query = query.forUpdate();
          const rows = await query.execute();
          const shut = Math.max(...rows.map(({ until }) => until));
          if (shut > now) return { shut, counted: 0 };
          let counted = 0;
          for (const { key, tries, last } of rows) {
            const next = now - last > forget(key) ? 1 : tries + 1;
            const values = { tries: next, last: now, until: now + wait(key, next) };
            await tx.updateTable("attempt").set(values).where("key", "=", key).execute();
            if (values.until > now) counted = Math.max(counted, values.until);
          }
          return { shut: undefined, counted };
        }),
      ),
    forgive: (anew, less = []) =>
      guard(() =>
        db.transaction().execute(async (tx) => {
          for (const key of [...new Set([...anew, ...less])].sort()) {
            if (anew.includes(key)) await tx.deleteFrom("attempt").where("key", "=", key).execute();
            else
              await tx
                .updateTable("attempt")
                .set({ tries: sql`tries - 1`, until: 0 })
                .where("key", "=", key)
                .where("tries", ">", 0)
                .execute();
          }
        }),
      ),
    shutUntil: (keys) =>
      guard(async () => {
        const rows = await db.selectFrom("attempt").select(["key", "until"]).where("key", "in", keys).execute();
        return Object.fromEntries(rows.map(({ key, until }) => [key, until]));
      }),

    record: ({ by, ...line }) =>
      guard(async () => {
        await db
          .insertInto("sign_in")
          .values({ ...line, made_by: by ?? null, device: line.device ?? null, site: line.site ?? null })
          .onConflict((clash) => clash.doNothing())
          .execute();
      }),
    signIns: (limit, before, about) =>
      guard(async () => {
        let query = db.selectFrom("sign_in").selectAll();
        if (before !== undefined) query = query.where("id", "<", before);
        if (about !== undefined && "person" in about) query = query.where("person", "=", about.person);
        if (about !== undefined && "sites" in about)
          query = query.where((eb) =>
            eb.or([
              eb("site", "in", about.sites),
              eb("person", "in", eb.selectFrom("membership").select("person").where("site", "in", about.sites)),
            ]),
          );
        const rows = await query
          .orderBy("id", "desc")
          .limit(limit + 1)
          .execute();
        return pageOf(rows.map(signInOf), limit, ({ id }) => id);
      }),

    settle: (name, value) =>
      guard(async () => {
        await db
          .insertInto("setting")
          .values({ name, value })
          .onConflict((clash) => clash.doNothing())
          .execute();
        return (await db.selectFrom("setting").select("value").where("name", "=", name).executeTakeFirstOrThrow())
          .value;
      }),
    setting: (name) =>
      guard(
        async () => (await db.selectFrom("setting").select("value").where("name", "=", name).executeTakeFirst())?.value,
      ),

    sweep: (now, earlier) =>
      guard(async () => {
        await db
          .deleteFrom("session")
          .where((eb) => eb.or([eb("until", "<", earlier), eb("ended", "<", earlier)]))
          .execute();
        await db.deleteFrom("challenge").where("until", "<", now).execute();
        await db.deleteFrom("attempt").where("until", "<", now).where("last", "<", earlier).execute();
      }),
  };
}

function secretOf(hash: string | null, start: number | null): Secret | undefined {
  return hash === null ? undefined : { hash, start: start ?? undefined };
}

function sessionOf({ device, by, ended, ...row }: Tables["session"]): Session {
  return { ...row, by: by as Session["by"], device: device ?? undefined, ended: ended ?? undefined };
}

function pairingOf({ made_by, owner, withdrawn, ...row }: Tables["pairing"]): Pairing {
  return { ...row, by: made_by, owner: owner ?? undefined, withdrawn: withdrawn ?? undefined };
}

function passkeyOf({ transports, used, ...row }: Tables["passkey"]): Passkey {
  return { ...row, transports: JSON.parse(transports) as string[], used: used ?? undefined };
}

function signInOf({ made_by, device, site, ...row }: Tables["sign_in"]): SignIn {
  return { ...row, by: made_by ?? undefined, device: device ?? undefined, site: site ?? undefined };
}

function pageOf<T>(found: readonly T[], limit: number, name: (one: T) => string): Page<T> {
  const items = found.slice(0, limit);
  const last = items.at(-1);
  return { items, next: found.length > limit && last !== undefined ? name(last) : undefined };
}
