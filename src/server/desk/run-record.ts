// Owns a run as this process knows it: what the store holds of it, how everything stands by that, and what is drafted and not yet durable.

import {
  type Body,
  type Brief,
  type Entry,
  type Identity,
  Ledger,
  type Pen,
  type Signer,
  see,
  type Told,
  takePen,
  type Verifier,
  verifyEntries,
  write,
} from "../../ledger/index.ts";
import { type KeptEntry, type Run, type Store, StoreFault } from "../../store/index.ts";
import type { OrderBody, PlanBody } from "../order.ts";
import type { Replanner } from "../plan-anew.ts";

/** What a desk needs of the world. */
export interface World {
  readonly identity: Identity;
  /** The platform's own signing, where it has one. */
  readonly sign?: Signer;
  /** Milliseconds since 1970. */
  now(): number;
  /** Bytes that nobody can guess. */
  random(count: number): Uint8Array;
  /** Makes new plans elsewhere, where others are to be served meanwhile. */
  readonly replanner?: Replanner;
}

/** An entry with its place in the run. */
export interface Placed extends Told {
  readonly position: number;
}

const PAGE = 5000;
/** How often what was judged on what is no more the last is judged again. Somebody got his in each time, so this is reached by no number of writers seen. */
const TRIES = 50;

export class RunRecord {
  readonly store: Store;
  readonly world: World;
  readonly order: OrderBody;
  readonly machine: string | undefined;
  /** What the store holds of this run that is not as it was written, each with its entry. */
  damages: readonly string[] = [];
  private kept: Run;
  private readonly list: Placed[] = [];
  private readonly lastOf = new Map<string, Told>();
  private pen: Pen;
  private standing: Ledger;
  /** In the ledger already, so that what is judged next counts on them, and on the way to the store. */
  private drafts: Told[] = [];
  private penBefore: Pen;
  /** The store's last position that is in here. */
  private last = 0;

  private constructor(store: Store, world: World, run: Run, order: OrderBody, machine: string | undefined, at: Brief) {
    this.store = store;
    this.world = world;
    this.kept = run;
    this.order = order;
    this.machine = machine;
    this.standing = new Ledger(at);
    this.pen = takePen(world.identity, run.id, []);
    this.penBefore = this.pen;
  }

  /**
   * @param isSigned the platform's own check of a signature, where it has one
   * @throws StoreFault
   */
  static async open(store: Store, id: string, world: World, isSigned?: Verifier): Promise<RunRecord> {
    const run = await store.run(id);
    if (run === undefined) {
      const known = (await store.runs(20)).items.map((one) => one.id);
      const mend = known.length === 0 ? "Open it: unmoor run SHOP ORDER --by WHO." : `There are: ${known.join(", ")}.`;
      throw new StoreFault("unknown", id, "there is no run of this name", mend);
    }
    const order = await store.order(run.order);
    if (order === undefined) throw new StoreFault("damaged", run.order, "the run's order is gone", "Restore a backup.");
    const { brief } = await planOf(store, run.plan);
    const { body, machine } = order.value;
    const record = new RunRecord(store, world, run, body as OrderBody, machine, brief);
    const torn = await record.catchUp();
    const how = { signatures: "last", ...(isSigned === undefined ? {} : { isSigned }) } as const;
    record.damages = [
      ...torn.map((entry) => `Entry ${entry} cannot be read`),
      ...verifyEntries(id, record.list, await record.keys(), how).map(({ entry, what }) => `Entry ${entry}: ${what}`),
    ];
    return record;
  }

  get run(): Run {
    return this.kept;
  }

  get ledger(): Ledger {
    return this.standing;
  }

  /** Everything durable that this process knows, in the order of its positions. */
  get told(): readonly Placed[] {
    return this.list;
  }

  /** The first so many durable entries behind a position. */
  behind(position: number, most: number): readonly Placed[] {
    // Where no entry is torn, its place in the list is its position.
    let from = Math.min(position, this.list.length);
    while (from > 0 && (this.list[from - 1]?.position ?? 0) > position) from--;
    return this.list.slice(from, from + most);
  }

  /** The position up to which it knows the run. */
  get position(): number {
    return this.last;
  }

  /** The run takes no more: it was handed over. */
  get isClosed(): boolean {
    return (
      this.kept.closed !== undefined ||
      this.standing.list("gates", "passed").some(({ body }) => body.gate === "hand-over")
    );
  }

  /** By device the last entry of it that is known. */
  lasts(): ReadonlyMap<string, Told> {
    return this.lastOf;
  }

  /** Public key of every device that has written. */
  async keys(): Promise<ReadonlyMap<string, string>> {
    const keys = new Map<string, string>();
    for (const device of this.lastOf.keys()) {
      const known = await this.store.device(device);
      if (known !== undefined) keys.set(device, known.key);
    }
    return keys;
  }

  /** Takes in what others have written since, and the plan that is in force by it. Gives the ids of entries that cannot be read. */
  async catchUp(): Promise<readonly string[]> {
    const torn: string[] = [];
    for (;;) {
      const page = await this.store.entries(this.kept.id, this.last, PAGE);
      const fresh: Placed[] = [];
      for (const one of page) {
        const entry = parse(one);
        if (entry === undefined) torn.push(one.id);
        else fresh.push({ entry, text: one.text, position: one.position });
      }
      this.takeIn(fresh);
      this.last = page.at(-1)?.position ?? this.last;
      if (page.length < PAGE) break;
    }
    await this.followPlan();
    return torn;
  }

  /**
   * Drafts an entry: written, signed, and counted in the ledger for what is judged after it, until `keep` or `discard`.
   *
   * @param id of the entry, where whoever asks for it has made one.
   */
  draft(author: string, body: Body, id?: string): Told {
    const { now, random, sign } = this.world;
    const said = { author, body, now: now(), random: random(16), id };
    const written = write(this.pen, said, sign);
    this.pen = written.pen;
    this.drafts.push(written.told);
    this.standing.add(written.told.entry);
    return written.told;
  }

  get isDrafted(): boolean {
    return this.drafts.length > 0;
  }

  /**
   * Makes the drafts durable, on the condition that nobody else has written since: then they were judged on everything there is. After a fault they
   * still are drafts.
   *
   * @throws StoreFault "stale" where somebody has
   */
  async keep(): Promise<void> {
    const { identity, now } = this.world;
    if (!this.lastOf.has(identity.device))
      await this.store.saveDevice({ id: identity.device, key: identity.key, at: now() });
    await this.append(this.drafts);
    this.drafts = [];
    this.penBefore = this.pen;
  }

  /** Takes the drafts back. */
  discard(): void {
    for (const { entry } of this.drafts.toReversed()) this.standing.remove(entry);
    this.drafts = [];
    this.pen = this.penBefore;
  }

  /** Does what drafts and keeps; again on what is new, where somebody else has written meanwhile. @throws StoreFault */
  async persist<T>(work: () => Promise<T>): Promise<T> {
    for (let tries = 1; ; tries++) {
      try {
        return await work();
      } catch (error) {
        this.discard();
        if (!(error instanceof StoreFault) || error.code !== "stale" || tries === TRIES) throw error;
        await this.catchUp();
      }
    }
  }

  /** The text of a durable entry; of one that is not known, what is given. */
  textOf(id: string, otherwise: string): string {
    return this.standing.entry(id) === undefined
      ? otherwise
      : (this.list.find(({ entry }) => entry.id === id)?.text ?? otherwise);
  }

  /** Makes durable what other devices have written, and takes it in. @throws StoreFault "stale" as `keep` */
  async keepForeign(told: readonly Told[]): Promise<void> {
    await this.append(told);
    this.pen = see(this.pen, told);
    this.penBefore = this.pen;
    for (const { entry } of told) this.standing.add(entry);
  }

  /** The ledger under another plan. */
  under(brief: Brief): void {
    this.standing = this.standing.under(brief);
  }

  async close(): Promise<void> {
    this.kept = await this.store.closeRun(this.kept.id, this.world.now());
  }

  private async append(told: readonly Told[]): Promise<void> {
    const positions = await this.store.append(
      this.kept.id,
      told.map(({ entry, text }) => ({ id: entry.id, device: entry.device, text })),
      this.last,
    );
    told.forEach((one, index) => {
      const position = positions[index] ?? this.last;
      this.place({ ...one, position });
      this.last = Math.max(this.last, position);
    });
  }

  private takeIn(fresh: readonly Placed[]): void {
    for (const one of fresh) {
      this.place(one);
      this.standing.add(one.entry);
    }
    this.pen = see(this.pen, fresh);
    this.penBefore = this.pen;
  }

  private place(one: Placed): void {
    this.list.push(one);
    const { device, number } = one.entry;
    if (number > (this.lastOf.get(device)?.entry.number ?? 0)) this.lastOf.set(device, one);
  }

  private async followPlan(): Promise<void> {
    // Of the run, not of the ledger's brief: where the entry that replaced a plan was taken back, the first holds again.
    const inForce = this.standing.list("plan", "plan replaced").at(-1)?.body.plan ?? this.kept.plan;
    if (inForce !== this.standing.brief.plan) this.under((await planOf(this.store, inForce)).brief);
  }
}

/** What the store has was read when it came in: here only whether it is still there. */
const parse = ({ text }: KeptEntry): Entry | undefined => {
  try {
    const entry: unknown = JSON.parse(text);
    return typeof entry === "object" && entry !== null && "body" in entry ? (entry as Entry) : undefined;
  } catch {
    return undefined;
  }
};

/** A plan as it was kept, with its brief. */
export const planOf = async (store: Store, id: string): Promise<PlanBody> => {
  const kept = await store.plan(id);
  if (kept === undefined) throw new StoreFault("damaged", id, "the run's plan is gone", "Restore a backup.");
  return kept.body as PlanBody;
};
