// Owns how processes that share a PostgreSQL database hear of each other's entries and questions: NOTIFY within the transaction, LISTEN on a connection of its own.
import { sql } from "kysely";
import type pg from "pg";
import type { Database } from "./tables.ts";

/** What is told of, by its name. */
export type Channel = "unmoor_run" | "unmoor_question";

/** Milliseconds between two tries to hear again. */
const PAUSE = 500;
/** Milliseconds after which a connection that says nothing is asked whether it is still there: a broken network tells nobody. */
const ASKED_EVERY = 10_000;

/** The database sends it when the transaction is durable, and not at all when it is not. */
export async function announce(tx: Database, channel: Channel, names: readonly string[]): Promise<void> {
  for (const name of names) await sql`select pg_notify(${channel}, ${name})`.execute(tx);
}

/** What goes to all listeners of one process, over one connection. */
export class Ear {
  private readonly listeners = new Map<Channel, Set<(name: string | undefined) => void>>();
  private readonly connect: () => Promise<pg.Client>;
  private client: pg.Client | undefined;
  private hearing: Promise<void> | undefined;
  private asking: NodeJS.Timeout | undefined;
  private closed = false;

  /** @param connect a new connection, connected */
  constructor(connect: () => Promise<pg.Client>) {
    this.connect = connect;
  }

  async watch(channel: Channel, listener: (name: string | undefined) => void): Promise<() => void> {
    const listeners = this.listeners.get(channel) ?? new Set();
    this.listeners.set(channel, listeners);
    listeners.add(listener);
    this.hearing ??= this.hear();
    try {
      await this.hearing;
    } catch (error) {
      this.hearing = undefined;
      listeners.delete(listener);
      throw error;
    }
    return () => {
      listeners.delete(listener);
    };
  }

  async close(): Promise<void> {
    this.closed = true;
    clearInterval(this.asking);
    await this.client?.end().catch(() => undefined);
  }

  private async hear(): Promise<void> {
    const client = await this.connect();
    if (this.closed) return client.end();
    this.client = client;
    let lost = false;
    const lose = () => {
      if (lost) return;
      lost = true;
      clearInterval(this.asking);
      client.end().catch(() => undefined);
      if (!this.closed) void this.hearAgain();
    };
    client.on("error", lose);
    client.on("end", lose);
    client.on("notification", ({ channel, payload }) => this.tell(payload, channel as Channel));
    await client.query("listen unmoor_run");
    await client.query("listen unmoor_question");
    this.asking = setInterval(() => void client.query("select 1").catch(lose), ASKED_EVERY);
    this.asking.unref();
  }

  /** What came meanwhile was not heard, so any may hold more. */
  private async hearAgain(): Promise<void> {
    while (!this.closed) {
      await new Promise((resolve) => setTimeout(resolve, PAUSE).unref());
      try {
        await this.hear();
        this.tell(undefined);
        return;
      } catch {
        // Not yet back.
      }
    }
  }

  private tell(name: string | undefined, channel?: Channel): void {
    const told = channel === undefined ? [...this.listeners.values()] : [this.listeners.get(channel) ?? []];
    for (const listeners of told) for (const listener of listeners) listener(name);
  }
}
