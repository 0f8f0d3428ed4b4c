// Owns the run as a store carries it: what comes in is looked at, written, chained and kept; gates are ruled on; a finding makes a new plan.

import {
  type Body,
  type BodyOf,
  type Brief,
  type Contradiction,
  type Entry,
  type Identity,
  Ledger,
  type MachineRecord,
  Names,
  type Pen,
  type Replan,
  RULES,
  readBody,
  recordAfter,
  see,
  sentence,
  type Told,
  takePen,
  verifyEntries,
  write,
  wrongPasses,
} from "../ledger/index.ts";
import type { Earlier } from "../plan/index.ts";
import { type Run, type Store, StoreFault } from "../store/index.ts";
import type { OrderBody, PlanBody } from "./order.ts";
import type { WhoNext } from "./plan-anew.ts";
import { type Refusal, refusalOf, warningsOf } from "./refusal.ts";

/** What a desk needs of the world. */
export interface World {
  readonly identity: Identity;
  /** Milliseconds since 1970. */
  now(): number;
  /** Bytes that nobody can guess. */
  random(count: number): Uint8Array;
}

export type Taking =
  | { readonly refused: Refusal }
  | {
      readonly told: readonly Told[];
      /** What whoever entered it should know at once. */
      readonly warnings: readonly string[];
      readonly replan?: Replan;
    };

/** What came of entries that were brought. */
export interface Reception {
  readonly taken: number;
  /** Why nothing was taken. */
  readonly faults: readonly string[];
  /** What they contradict. */
  readonly contradictions: readonly Contradiction[];
  /** Gates passed over what the device could not see. */
  readonly wrongPasses: readonly Contradiction[];
}

/** Who speaks for the store. */
const STORE = "store";
const PAGE = 5000;

/** Opens the run of an order, or gives it where it is open already. */
export const openRun = async (store: Store, id: string, by: string, now: number): Promise<Run> => {
  const known = await store.run(id);
  if (known !== undefined) return known;
  if ((await store.order(id)) === undefined)
    throw new StoreFault("unknown", id, "there is no order of this name", "See the list: unmoor run SHOP.");
  return store.openRun({ id, order: id, plan: `${id}.p1`, at: now, by });
};

/** A run with everything the store has of it. */
export class RunDesk {
  readonly run: Run;
  private readonly store: Store;
  private readonly world: World;
  private readonly order: OrderBody;
  private readonly machine: string | undefined;
  private readonly entries: Told[];
  private pen: Pen;
  private standing: Ledger;

  private constructor(
    store: Store,
    world: World,
    run: Run,
    order: OrderBody,
    machine: string | undefined,
    brief: Brief,
    entries: readonly Told[],
  ) {
    this.store = store;
    this.world = world;
    this.run = run;
    this.order = order;
    this.machine = machine;
    this.entries = [...entries];
    this.pen = takePen(world.identity, run.id, entries);
    this.standing = new Ledger(
      brief,
      entries.map(({ entry }) => entry),
    );
  }

  static async open(store: Store, id: string, world: World): Promise<RunDesk> {
    const run = await store.run(id);
    if (run === undefined) {
      const known = (await store.runs(20)).items.map((one) => one.id);
      const mend = known.length === 0 ? "Open it: unmoor run SHOP ORDER --by WHO." : `There are: ${known.join(", ")}.`;
      throw new StoreFault("unknown", id, "there is no run of this name", mend);
    }
    const order = await store.order(run.order);
    if (order === undefined) throw new StoreFault("damaged", run.order, "the run's order is gone", "Restore a backup.");
    const entries: Told[] = [];
    const torn: string[] = [];
    for (let behind = 0; ; ) {
      const page = await store.entries(id, behind, PAGE);
      for (const kept of page) {
        const entry = parse(kept.text);
        if (entry === undefined) torn.push(kept.id);
        else entries.push({ text: kept.text, entry });
      }
      behind = page.at(-1)?.position ?? behind;
      if (page.length < PAGE) break;
    }
    const first = await planOf(store, run.plan);
    const ledger = new Ledger(
      first.brief,
      entries.map(({ entry }) => entry),
    );
    const inForce = ledger.planInForce();
    const brief = inForce === run.plan ? first.brief : (await planOf(store, inForce)).brief;
    const { body, machine } = order.value;
    const desk = new RunDesk(store, world, run, body as OrderBody, machine, brief, entries);
    desk.damages = [
      ...torn.map((entry) => `Entry ${entry} cannot be read`),
      ...verifyEntries(id, entries, await desk.keys(), { signatures: "last" }).map(
        ({ entry, what }) => `Entry ${entry}: ${what}`,
      ),
    ];
    return desk;
  }

  /** What the store holds of this run that is not as it was written, each with its entry. No gate opens over it. */
  damages: readonly string[] = [];

  get ledger(): Ledger {
    return this.standing;
  }

  private get names(): Names {
    return new Names(this.brief);
  }

  get brief(): Brief {
    return this.standing.brief;
  }

  get told(): readonly Told[] {
    return this.entries;
  }

  /** Public key of every device that has written. */
  async keys(): Promise<ReadonlyMap<string, string>> {
    const keys = new Map<string, string>();
    for (const device of new Set(this.entries.map(({ entry }) => entry.device))) {
      const known = await this.store.device(device);
      if (known !== undefined) keys.set(device, known.key);
    }
    return keys;
  }

  /**
   * Takes an entry from a person at this desk, or says why not. What it leads to is entered after it: the store's word on an approval, the plan
   * that a finding makes.
   *
   * @param sure the person has been asked about a torque that does not fit, and stays by it.
   */
  async take(author: string, said: unknown, sure = false): Promise<Taking> {
    const reading = readBody(this.inFull(said));
    if ("faults" in reading)
      return { refused: { what: reading.faults.map(sentence).join(" "), mend: "Enter it again." } };
    const { body } = reading;
    const refused = this.barred(body) ?? refusalOf(this.standing, author, body, sure);
    if (refused !== undefined) return { refused };
    const before = new Set(this.standing.contradictions().map(({ key }) => key));
    const warnings = warningsOf(this.standing, author, body);
    const told = [...(await this.enter([[author, body]]))];
    const [own] = told;
    if (body.kind === "approval" && own !== undefined)
      told.push(...(await this.enter([[STORE, { kind: "confirmed", approval: own.entry.id }]])));
    const replan = own === undefined ? undefined : await this.replanFor(author, body, own.entry.id);
    if (replan !== undefined) told.push(...replan.told);
    if (body.kind === "passed" && body.gate === "hand-over") await this.close();
    const fresh = this.standing.contradictions().filter(({ key }) => !before.has(key));
    return {
      told,
      warnings: [...warnings, ...fresh.map((one) => this.sayContradiction(one))],
      ...(replan === undefined ? {} : { replan: replan.replan }),
    };
  }

  /**
   * Takes in what another device wrote while it was alone: all of it or nothing. What it says is not judged, only whether it is the device's own, whole, and by
   * people of this order; contradictions are shown, approvals get the store's word, and gates that were passed over what the device could not see come back.
   *
   * @param keys by device its public key.
   */
  async receive(told: readonly Told[], keys: ReadonlyMap<string, string>): Promise<Reception> {
    const known = new Set(this.entries.map(({ entry }) => entry.id));
    const fresh = told.filter(({ entry }) => !known.has(entry.id));
    const own = new Map([...(await this.keys()), ...keys]);
    const faults = verifyEntries(this.run.id, [...this.entries, ...fresh], own, { signatures: "last" }).concat(
      verifyEntries(this.run.id, fresh, own).filter(({ rule }) => rule === "V3"),
    );
    const strangers = fresh.filter(({ entry }) => !this.brief.people.some(({ id }) => id === entry.author));
    const wrong = [
      ...faults.map(({ entry, what }) => `${entry}: ${what}`),
      ...strangers
        // The store's own word comes back with its own signature.
        .filter(({ entry }) => !(entry.author === STORE && entry.device === this.world.identity.device))
        .map(({ entry }) => `${entry.id}: nobody of this order is called ${entry.author}`),
      // Its plan is in no store but the one that made it, and another may have the same name here.
      ...fresh
        .filter(({ entry }) => entry.body.kind === "plan replaced" && entry.device !== this.world.identity.device)
        .map(({ entry }) => `${entry.id}: a plan that another store made; enter the finding here`),
    ];
    if (this.run.closed !== undefined && fresh.length > 0) wrong.push("the run is closed");
    if (wrong.length > 0 || fresh.length === 0)
      return { taken: 0, faults: [...new Set(wrong)], contradictions: [], wrongPasses: [] };
    for (const device of new Set(fresh.map(({ entry }) => entry.device))) {
      const key = own.get(device);
      if (key !== undefined) await this.store.saveDevice({ id: device, key, at: this.world.now() });
    }
    const before = new Set(this.standing.contradictions().map(({ key }) => key));
    await this.store.append(
      this.run.id,
      fresh.map(({ entry, text }) => ({ id: entry.id, device: entry.device, text })),
    );
    this.pen = see(
      this.pen,
      fresh.map(({ entry }) => entry),
    );
    for (const one of fresh) {
      this.entries.push(one);
      this.standing.add(one.entry);
    }
    const waiting = this.standing
      .list("gates", "approval")
      .filter(({ id }) => fresh.some(({ entry }) => entry.id === id));
    for (const { id } of waiting) await this.enter([[STORE, { kind: "confirmed", approval: id }]]);
    return {
      taken: fresh.length,
      faults: [],
      contradictions: this.standing.contradictions().filter(({ key }) => !before.has(key)),
      wrongPasses: wrongPasses(this.standing).filter(({ key }) => !this.standing.isSettled(key)),
    };
  }

  /** An entry that is named by the end of its id is named in full. */
  private inFull(said: unknown): unknown {
    if (typeof said !== "object" || said === null) return said;
    const full = (value: unknown) => {
      if (typeof value !== "string" || !/^[0-9a-f]{4,12}$/.test(value)) return value;
      const meant = this.entries.filter(({ entry }) => entry.id.endsWith(value));
      return meant.length === 1 ? meant[0]?.entry.id : value;
    };
    return Object.fromEntries(
      Object.entries(said).map(([name, value]) => [
        name,
        ["finding", "approval", "of"].includes(name) ? full(value) : value,
      ]),
    );
  }

  /** Who does what next, as a question for the crew's search; undefined where nothing leads on from here. */
  async whoNext(told?: Earlier): Promise<WhoNext | undefined> {
    const { whoNext } = await import("./plan-anew.ts");
    return whoNext(this.store, this.run, this.order, this.standing, this.world.now(), told);
  }

  /** A contradiction in words. */
  sayContradiction({ rule, about, key, entries }: Contradiction): string {
    const who = entries.flatMap((id) => {
      const entry = this.standing.entry(id);
      return entry === undefined ? [] : [`${this.person(entry.author)}: ${entry.body.kind}`];
    });
    return `${rule} ${this.label(about)}: ${RULES[rule]} (${who.join("; ")}). It stands until somebody settles it: ${key}`;
  }

  label(id: string): string {
    return this.names.label(id);
  }

  person(id: string): string {
    return this.names.person(id);
  }

  /** What no entry can be taken over. */
  private barred({ kind }: Body): Refusal | undefined {
    if (this.damages.length > 0 && kind === "passed") {
      const what = `the ledger is damaged: ${this.damages.join("; ")}`;
      return { what, mend: "Restore a backup; no gate opens over this." };
    }
    return this.run.closed === undefined
      ? undefined
      : { what: "the run is closed", mend: "What comes after belongs to another order." };
  }

  /** Writes entries, keeps them, and only then lets them count. */
  private async enter(said: readonly (readonly [author: string, body: Body])[]): Promise<readonly Told[]> {
    const { identity } = this.world;
    if (this.pen.number === 0)
      await this.store.saveDevice({ id: identity.device, key: identity.key, at: this.world.now() });
    let { pen } = this;
    const told: Told[] = [];
    for (const [author, body] of said) {
      const written = write(pen, { author, body, now: this.world.now(), random: this.world.random(16) });
      told.push(written.told);
      pen = written.pen;
    }
    await this.store.append(
      this.run.id,
      told.map(({ entry, text }) => ({ id: entry.id, device: entry.device, text })),
    );
    this.pen = pen;
    for (const one of told) {
      this.entries.push(one);
      this.standing.add(one.entry);
    }
    return told;
  }

  /** Solved only where it is wanted: whoever enters what was done need not load the solver. */
  private async replanFor(
    author: string,
    body: Body,
    entry: string,
  ): Promise<{ readonly replan: Replan; readonly told: readonly Told[] } | undefined> {
    const finding = body.kind === "finding" ? body : body.kind === "closed" ? this.foundIn(body.finding) : undefined;
    if (finding === undefined || !BEARS_ON_PLAN.has(finding.what)) return undefined;
    const { planAnew } = await import("./plan-anew.ts");
    const plan = `${this.run.id}.p${this.standing.list("plan", "plan replaced").length + 2}`;
    const { replan, kept } = await planAnew(this.store, this.run, this.order, this.standing, plan);
    if (kept === undefined) return { replan, told: [] };
    await this.store.savePlan({ id: plan, order: this.run.order, body: kept, at: this.world.now() });
    const told = await this.enter([[author, { kind: "plan replaced", plan, because: finding.text, finding: entry }]]);
    this.standing = this.standing.under(kept.brief);
    return { replan, told };
  }

  private foundIn(id: string): BodyOf<"finding"> | undefined {
    return this.standing.findings().find(({ entry }) => entry === id)?.found;
  }

  /** The end of a run: what it found on the machine is kept for its next order. */
  private async close(): Promise<void> {
    if (this.machine !== undefined) {
      const known = await this.store.machine(this.machine);
      if (known !== undefined) {
        const record = recordAfter(known.value.body as MachineRecord, this.standing);
        await this.store.saveMachine({ ...known.value, body: record }, known.revision);
      }
    }
    await this.store.closeRun(this.run.id, this.world.now());
  }
}

/** Findings that may change what is left to do. */
const BEARS_ON_PLAN: ReadonlySet<string> = new Set([
  "sheared",
  "seized",
  "out of reach",
  "tool missing",
  "person gone",
]);

/** What the store has was read when it came in: here only whether it is still there. */
const parse = (text: string): Entry | undefined => {
  try {
    const entry: unknown = JSON.parse(text);
    return typeof entry === "object" && entry !== null && "body" in entry ? (entry as Entry) : undefined;
  } catch {
    return undefined;
  }
};

const planOf = async (store: Store, id: string): Promise<PlanBody> => {
  const kept = await store.plan(id);
  if (kept === undefined) throw new StoreFault("damaged", id, "the run's plan is gone", "Restore a backup.");
  return kept.body as PlanBody;
};
