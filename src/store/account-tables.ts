// Owns the shape of the tables of people who sign in, and the step that made them.
import type { Kysely, Migration } from "kysely";

interface AccountTable {
  person: string;
  steward: number;
  password: string | null;
  password_start: number | null;
  pin: string | null;
  pin_start: number | null;
}

interface MembershipTable {
  person: string;
  site: string;
  roles: string;
}

interface SessionTable {
  digest: string;
  id: string;
  person: string;
  by: string;
  device: string | null;
  address: string;
  opened: number;
  seen: number;
  idle: number;
  until: number;
  ended: number | null;
}

interface PairingTable {
  id: string;
  site: string;
  name: string;
  digest: string;
  at: number;
  made_by: string;
  owner: string | null;
  withdrawn: number | null;
}

interface PasskeyTable {
  id: string;
  person: string;
  label: string;
  key: string;
  counter: number;
  transports: string;
  at: number;
  used: number | null;
}

interface ChallengeTable {
  challenge: string;
  kind: string;
  person: string | null;
  until: number;
}

interface AttemptTable {
  key: string;
  tries: number;
  last: number;
  until: number;
}

interface SignInTable {
  id: string;
  at: number;
  person: string;
  how: string;
  outcome: string;
  made_by: string | null;
  address: string;
  device: string | null;
  site: string | null;
}

interface SettingTable {
  name: string;
  value: string;
}

export interface AccountTables {
  account: AccountTable;
  membership: MembershipTable;
  session: SessionTable;
  pairing: PairingTable;
  passkey: PasskeyTable;
  challenge: ChallengeTable;
  attempt: AttemptTable;
  sign_in: SignInTable;
  setting: SettingTable;
}

/** What a backup holds of them: not sessions, challenges and tries, which end by themselves. */
export const ACCOUNT_ORDER: readonly { readonly table: keyof AccountTables; readonly key: readonly string[] }[] = [
  { table: "account", key: ["person"] },
  { table: "membership", key: ["person", "site"] },
  { table: "pairing", key: ["id"] },
  { table: "passkey", key: ["id"] },
  { table: "sign_in", key: ["id"] },
  { table: "setting", key: ["name"] },
];

export const accountsMigration: Migration = {
  async up(db: Kysely<unknown>) {
    const { schema } = db;
    await schema
      .createTable("account")
      .addColumn("person", "text", (c) => c.primaryKey().references("person.id"))
      .addColumn("steward", "integer", (c) => c.notNull())
      .addColumn("password", "text")
      .addColumn("password_start", "bigint")
      .addColumn("pin", "text")
      .addColumn("pin_start", "bigint")
      .execute();
    await schema
      .createTable("membership")
      .addColumn("person", "text", (c) => c.notNull().references("account.person"))
      .addColumn("site", "text", (c) => c.notNull())
      .addColumn("roles", "text", (c) => c.notNull())
      .addPrimaryKeyConstraint("membership_key", ["person", "site"])
      .execute();
    await schema.createIndex("membership_of_site").on("membership").columns(["site", "person"]).execute();
    await schema
      .createTable("session")
      .addColumn("digest", "text", (c) => c.primaryKey())
      .addColumn("id", "text", (c) => c.notNull().unique())
      .addColumn("person", "text", (c) => c.notNull().references("account.person"))
      .addColumn("by", "text", (c) => c.notNull())
      .addColumn("device", "text")
      .addColumn("address", "text", (c) => c.notNull())
      .addColumn("opened", "bigint", (c) => c.notNull())
      .addColumn("seen", "bigint", (c) => c.notNull())
      .addColumn("idle", "bigint", (c) => c.notNull())
      .addColumn("until", "bigint", (c) => c.notNull())
      .addColumn("ended", "bigint")
      .execute();
    await schema.createIndex("session_of_person").on("session").column("person").execute();
    await schema.createIndex("session_on_device").on("session").column("device").execute();
    await schema
      .createTable("pairing")
      .addColumn("id", "text", (c) => c.primaryKey())
      .addColumn("site", "text", (c) => c.notNull())
      .addColumn("name", "text", (c) => c.notNull())
      .addColumn("digest", "text", (c) => c.notNull().unique())
      .addColumn("at", "bigint", (c) => c.notNull())
      .addColumn("made_by", "text", (c) => c.notNull())
      .addColumn("owner", "text")
      .addColumn("withdrawn", "bigint")
      .execute();
    await schema
      .createTable("passkey")
      .addColumn("id", "text", (c) => c.primaryKey())
      .addColumn("person", "text", (c) => c.notNull().references("account.person"))
      .addColumn("label", "text", (c) => c.notNull())
      .addColumn("key", "text", (c) => c.notNull())
      .addColumn("counter", "bigint", (c) => c.notNull())
      .addColumn("transports", "text", (c) => c.notNull())
      .addColumn("at", "bigint", (c) => c.notNull())
      .addColumn("used", "bigint")
      .execute();
    await schema.createIndex("passkey_of_person").on("passkey").column("person").execute();
    await schema
      .createTable("challenge")
      .addColumn("challenge", "text", (c) => c.primaryKey())
      .addColumn("kind", "text", (c) => c.notNull())
      .addColumn("person", "text")
      .addColumn("until", "bigint", (c) => c.notNull())
      .execute();
    await schema
      .createTable("attempt")
      .addColumn("key", "text", (c) => c.primaryKey())
      .addColumn("tries", "integer", (c) => c.notNull())
      .addColumn("last", "bigint", (c) => c.notNull())
      .addColumn("until", "bigint", (c) => c.notNull())
      .execute();
    await schema
      .createTable("sign_in")
      .addColumn("id", "text", (c) => c.primaryKey())
      .addColumn("at", "bigint", (c) => c.notNull())
      .addColumn("person", "text", (c) => c.notNull())
      .addColumn("how", "text", (c) => c.notNull())
      .addColumn("outcome", "text", (c) => c.notNull())
      .addColumn("made_by", "text")
      .addColumn("address", "text", (c) => c.notNull())
      .addColumn("device", "text")
      .addColumn("site", "text")
      .execute();
    await schema.createIndex("sign_in_of_person").on("sign_in").columns(["person", "id"]).execute();
    await schema
      .createTable("setting")
      .addColumn("name", "text", (c) => c.primaryKey())
      .addColumn("value", "text", (c) => c.notNull())
      .execute();
  },
};
