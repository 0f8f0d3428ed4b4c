// Owns a shop behind a server: the same desk as near the store, over HTTP, as whoever signed in.

import { randomBytes } from "node:crypto";
import { v7 } from "uuid";
import {
  type Brief,
  type Contradiction,
  type Entry,
  Ledger,
  type Replan,
  Sayings,
  type Told,
} from "../ledger/index.ts";
import type { Earlier } from "../plan/index.ts";
import {
  type Desk,
  type OrderBody,
  type Placed,
  type Reception,
  type RunListDocument,
  type TakeHow,
  type TakenInDocument,
  type Taking,
  whoNext,
} from "../server/index.ts";
import type { Run, VehicleVersion } from "../store/index.ts";
import { ask, faultOf, type Pass, passFor, type Reply } from "./server-call.ts";
import type { Shop } from "./shop.ts";
import type { Terminal } from "./terminal.ts";

const PAGE = 5000;

/**
 * Opens the shop behind a server for who has signed in there.
 *
 * @param typing where whoever is written for types his PIN
 * @throws StoreFault
 */
export const farShop = (address: string, typing: Pick<Terminal, "secret">): FarShop => {
  const pass = passFor(address);
  if (pass === undefined) throw faultOf(address, { status: 401, body: undefined });
  return new FarShop(address, pass, typing);
};

export class FarShop implements Shop {
  readonly address: string;
  readonly typing: Pick<Terminal, "secret">;
  private readonly pass: Pass;

  constructor(address: string, pass: Pass, typing: Pick<Terminal, "secret">) {
    this.address = address;
    this.typing = typing;
    this.pass = pass;
  }

  async orders(): Promise<RunListDocument> {
    const orders: RunListDocument["orders"][number][] = [];
    for (let after = ""; ; ) {
      const page = await this.get<RunListDocument & { readonly next?: string }>(`/orders?limit=200${after}`);
      orders.push(...page.orders);
      if (page.next === undefined) return { format: "unmoor/runs/1", orders };
      after = `&after=${encodeURIComponent(page.next)}`;
    }
  }

  /** Begun by who has signed in. */
  async begin(run: string): Promise<void> {
    await this.send("PUT", `/runs/${encodeURIComponent(run)}`, undefined);
  }

  async keepPhoto(bytes: Uint8Array): Promise<string> {
    const type = bytes[0] === 0x89 ? "image/png" : bytes[0] === 0x52 ? "image/webp" : "image/jpeg";
    const { digest } = (await this.send("POST", "/photos", bytes, { "content-type": type })) as { digest: string };
    return digest;
  }

  async desk(id: string): Promise<Desk> {
    const path = `/runs/${encodeURIComponent(id)}`;
    const run = await this.get<FarRun>(`${path}/record`);
    const entries: Placed[] = [];
    for (let behind = 0; ; ) {
      const page = await this.get<{
        readonly entries: readonly { readonly position: number; readonly text: string }[];
        readonly next?: number;
      }>(`${path}/entries?limit=${PAGE}&behind=${behind}`);
      for (const { position, text } of page.entries) entries.push({ position, text, entry: JSON.parse(text) as Entry });
      if (page.next === undefined) break;
      behind = page.next;
    }
    return new FarDesk(this, path, run, entries);
  }

  close(): void {
    // Each call stands by itself.
  }

  get<T>(path: string): Promise<T> {
    return this.send("GET", path, undefined) as Promise<T>;
  }

  /** @throws StoreFault where it refuses */
  async send(
    method: string,
    path: string,
    body: unknown,
    headers?: Readonly<Record<string, string>>,
  ): Promise<unknown> {
    const reply = await this.ask(method, path, body, headers);
    if (reply.status >= 400) throw faultOf(this.address, reply);
    return reply.body;
  }

  ask(method: string, path: string, body: unknown, headers?: Readonly<Record<string, string>>): Promise<Reply> {
    return ask(this.address, method, path, body, this.pass, headers);
  }

  get person(): string {
    return this.pass.person;
  }
}

interface FarRun {
  readonly run: Run & { readonly closed: number | null };
  readonly brief: Brief;
  readonly keys: Readonly<Record<string, string>>;
  readonly damages: readonly string[];
}

class FarDesk implements Desk {
  readonly run: Run;
  readonly damages: readonly string[];
  readonly ledger: Ledger;
  readonly told: readonly Placed[];
  private readonly shop: FarShop;
  private readonly path: string;
  private readonly known: ReadonlyMap<string, string>;
  private readonly sayings: Sayings;

  constructor(shop: FarShop, path: string, { run, brief, keys, damages }: FarRun, told: readonly Placed[]) {
    this.shop = shop;
    this.path = path;
    this.run = { ...run, closed: run.closed ?? undefined };
    this.damages = damages;
    this.told = told;
    this.known = new Map(Object.entries(keys));
    this.ledger = new Ledger(
      brief,
      told.map(({ entry }) => entry),
    );
    this.sayings = new Sayings(this.ledger);
  }

  get brief(): Brief {
    return this.ledger.brief;
  }

  keys(): Promise<ReadonlyMap<string, string>> {
    return Promise.resolve(this.known);
  }

  async take(author: string, said: unknown, { sure = false, id }: TakeHow = {}): Promise<Taking> {
    const second =
      author === this.shop.person
        ? {}
        : { second: { person: author, pin: await this.shop.typing.secret(`PIN of ${author}: `) } };
    const entry = { id: id ?? v7({ msecs: Date.now(), random: randomBytes(16) }), say: said, sure, ...second };
    const reply = await this.shop.ask("POST", `${this.path}/entries`, { entries: [entry] });
    const [outcome] = (reply.body as { readonly entries?: readonly Outcome[] } | undefined)?.entries ?? [];
    if (outcome === undefined) throw faultOf(this.shop.address, reply);
    if (outcome.refused !== undefined) return { refused: outcome.refused };
    const told = outcome.told.map((text): Told => ({ text, entry: JSON.parse(text) as Entry }));
    for (const one of told) this.ledger.add(one.entry);
    return { told, warnings: outcome.warnings, ...(outcome.replan === undefined ? {} : { replan: outcome.replan }) };
  }

  /** Each device's entries go by themselves. */
  async receive(told: readonly Told[], keys: ReadonlyMap<string, string>): Promise<Reception> {
    const whole = {
      taken: 0,
      faults: [] as Reception["faults"][number][],
      contradictions: [] as Contradiction[],
      wrongPasses: [] as Contradiction[],
    };
    const known = new Set(this.told.map(({ entry }) => entry.id));
    for (const device of new Set(told.map(({ entry }) => entry.device))) {
      const fresh = told.filter(({ entry }) => entry.device === device && !known.has(entry.id));
      if (fresh.length === 0) continue;
      const body = { key: keys.get(device) ?? "", told: fresh.map(({ text }) => text) };
      const reply = await this.shop.ask("POST", `${this.path}/told`, body);
      const { why } = (reply.body ?? {}) as { readonly why?: Reception["faults"] };
      if (reply.status === 409 && why !== undefined) whole.faults.push(...why);
      else if (reply.status >= 400) throw faultOf(this.shop.address, reply);
      else {
        const { taken, contradictions, wrongPasses } = reply.body as TakenInDocument;
        whole.taken += taken;
        whole.contradictions.push(...(contradictions as readonly Contradiction[]));
        whole.wrongPasses.push(...(wrongPasses as readonly Contradiction[]));
      }
    }
    return whole;
  }

  async whoNext(told?: Earlier): ReturnType<Desk["whoNext"]> {
    const { order } = await this.shop.get<{ readonly order: OrderBody }>(
      `/orders/${encodeURIComponent(this.run.order)}/plan`,
    );
    const vehicle = async (name: string, version?: number): Promise<VehicleVersion> =>
      this.shop.get(`/vehicles/${encodeURIComponent(name)}?version=${version}`);
    return whoNext({ vehicle }, this.run, order, this.ledger, Date.now(), told);
  }

  sayContradiction(one: Contradiction): string {
    return this.sayings.sayContradiction(one);
  }

  label(id: string): string {
    return this.sayings.label(id);
  }

  person(id: string): string {
    return this.sayings.person(id);
  }
}

interface Outcome {
  readonly told: readonly string[];
  readonly warnings: readonly string[];
  readonly refused?: Extract<Taking, { readonly refused: unknown }>["refused"];
  readonly replan?: Replan;
}
