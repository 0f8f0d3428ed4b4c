// Owns the run as a store carries it: what comes in is judged, written, chained and kept; gates are ruled on; a finding makes a new plan.

import {
  askGate,
  type Body,
  type BodyOf,
  type Brief,
  type Contradiction,
  type Entry,
  isEntryId,
  type Ledger,
  type MachineRecord,
  planName,
  type Refusal,
  type Replan,
  type Rest,
  readBody,
  recordAfter,
  refusalOf,
  Sayings,
  sayPhrase,
  sentence,
  type Told,
  type Verifier,
  verifyEntries,
  warningsOf,
  writeCanonical,
  wrongPasses,
} from "../ledger/index.ts";
import type { Earlier } from "../plan/index.ts";
import { type Run, type Store, StoreFault } from "../store/index.ts";
import { type Placed, RunRecord, type World } from "./run-record.ts";

export type Taking =
  | { readonly refused: Refusal }
  | {
      readonly told: readonly Told[];
      /** What whoever entered it should know at once. */
      readonly warnings: readonly string[];
      readonly replan?: Replan;
    };

/** How an entry is taken. */
export interface TakeHow {
  /** The person has been asked about a torque that does not fit, and stays by it. */
  readonly sure?: boolean;
  /** Of the entry, made by whoever asks, a UUID of version 7: asked again, it is the same entry. */
  readonly id?: string;
}

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

/** An entry that waits to be taken. */
interface Waiting {
  readonly author: string;
  readonly said: unknown;
  readonly how: TakeHow;
  readonly done: (judged: Judged) => void;
  readonly failed: (fault: unknown) => void;
}

/** What became of it, and what it says where that leads to more. */
interface Judged {
  readonly taking: Taking;
  readonly entered?: { readonly body: Body; readonly id: string };
}

/** Who speaks for the store. */
const STORE = "store";
/** Most entries judged for one commit: more would make the first of them wait for no gain. */
const MOST = 200;
/** How often what was judged on what is no more the last is judged again. Somebody got his in each time, so this is reached by no number of writers seen. */
const TRIES = 50;
/** How often a plan is made again because the work went on meanwhile. */
const PLANNINGS = 3;

/** A run as whoever works on it sees it, near its store or far from it. */
export interface Desk extends Pick<Sayings, "sayContradiction" | "label" | "person"> {
  readonly run: Run;
  /** What the store holds of this run that is not as it was written, each with its entry. No gate opens over it. */
  readonly damages: readonly string[];
  readonly ledger: Ledger;
  readonly brief: Brief;
  /** Everything durable that this desk knows, in the order of its positions. */
  readonly told: readonly Placed[];
  /** Public key of every device that has written. */
  keys(): Promise<ReadonlyMap<string, string>>;
  take(author: string, said: unknown, how?: TakeHow): Promise<Taking>;
  receive(told: readonly Told[], keys: ReadonlyMap<string, string>): Promise<Reception>;
  /** Who does what next, as a question for the crew's search; undefined where nothing leads on from here. */
  whoNext(told?: Earlier): Promise<Rest | undefined>;
}

/** Opens the run of an order, or gives it where it is open already. */
export const openRun = async (store: Store, id: string, by: string, now: number): Promise<Run> => {
  const known = await store.run(id);
  if (known !== undefined) return known;
  if ((await store.order(id)) === undefined)
    throw new StoreFault("unknown", id, "there is no order of this name", "See the list: unmoor run SHOP.");
  return store.openRun({ id, order: id, plan: planName(id, 1), at: now, by });
};

/**
 * A run with everything the store has of it. Any number of callers may enter at once: what waits while one commit is under way is judged together for
 * the next, each on all before it. Any number of processes may have a desk for one run: what was judged on what is no more the last is judged again.
 */
export class RunDesk implements Desk {
  private readonly record: RunRecord;
  private readonly isSigned: Verifier | undefined;
  private waiting: Waiting[] = [];
  private taking: Promise<void> | undefined;
  /** One thing at a time changes the record. */
  private tail: Promise<unknown> = Promise.resolve();

  private constructor(record: RunRecord, isSigned: Verifier | undefined) {
    this.record = record;
    this.isSigned = isSigned;
  }

  /** Told whenever more is durable and known here. */
  onMore: () => void = () => undefined;

  /** @param isSigned the platform's own check of a signature, where it has one */
  static async open(store: Store, id: string, world: World, isSigned?: Verifier): Promise<RunDesk> {
    return new RunDesk(await RunRecord.open(store, id, world, isSigned), isSigned);
  }

  get run(): Run {
    return this.record.run;
  }

  /** What the store holds of this run that is not as it was written, each with its entry. No gate opens over it. */
  get damages(): readonly string[] {
    return this.record.damages;
  }

  get ledger(): Ledger {
    return this.record.ledger;
  }

  get brief(): Brief {
    return this.ledger.brief;
  }

  /** Everything durable that this desk knows, in the order of its positions. */
  get told(): readonly Placed[] {
    return this.record.told;
  }

  /** The first so many durable entries behind a position. */
  behind(position: number, most: number): readonly Placed[] {
    return this.record.behind(position, most);
  }

  /** The position up to which it knows the run. */
  get position(): number {
    return this.record.position;
  }

  keys(): Promise<ReadonlyMap<string, string>> {
    return this.record.keys();
  }

  /** Takes in what others have written since. */
  catchUp(): Promise<void> {
    return this.exclusive(async () => {
      await this.record.catchUp();
    });
  }

  /**
   * Takes an entry from a person at this desk, or says why not. What it leads to is entered after it: the store's word on an approval, the plan
   * that a finding makes.
   *
   * @throws StoreFault where the store cannot keep it; then it is not entered
   */
  async take(author: string, said: unknown, how: TakeHow = {}): Promise<Taking> {
    const { taking, entered } = await new Promise<Judged>((done, failed) => {
      this.waiting.push({ author, said, how, done, failed });
      this.taking ??= this.exclusive(() => this.takeWaiting());
    });
    if ("refused" in taking || entered === undefined) return taking;
    const { body, id } = entered;
    if (body.kind === "passed" && body.gate === "hand-over" && this.run.closed === undefined)
      await this.exclusive(() => this.close());
    const replanned = await this.replanFor(author, body, id);
    return replanned === undefined
      ? taking
      : { ...taking, told: [...taking.told, ...replanned.told], replan: replanned.replan };
  }

  /**
   * Takes in what another device wrote while it was alone: all of it or nothing. What it says is not judged, only whether it is the device's own, whole, and by
   * people of this order; contradictions are shown, approvals get the store's word, gates that were passed over what the device could not see come back, and
   * findings make a new plan.
   *
   * @param keys by device its public key.
   * @param vouch whether its author is who he says; else why not.
   */
  async receive(
    told: readonly Told[],
    keys: ReadonlyMap<string, string>,
    vouch: (entry: Told["entry"]) => Promise<string | undefined> = async () => undefined,
  ): Promise<Reception> {
    const reception = await this.exclusive(async () => {
      for (let tries = 1; ; tries++) {
        try {
          return await this.receiveOnce(told, keys, vouch);
        } catch (error) {
          this.record.discard();
          if (!isStale(error) || tries === TRIES) throw error;
          await this.record.catchUp();
        }
      }
    });
    if (reception.faults.length === 0) await this.followUp(told.map(({ entry }) => entry));
    return reception;
  }

  /** Who does what next, as a question for the crew's search; undefined where nothing leads on from here. */
  async whoNext(told?: Earlier): Promise<Rest | undefined> {
    const { whoNext } = await import("./plan-anew.ts");
    const { store, run, order, ledger, world } = this.record;
    return whoNext(store, run, order, ledger, world.now(), told);
  }

  sayContradiction(one: Contradiction): string {
    return new Sayings(this.ledger).sayContradiction(one);
  }

  label(id: string): string {
    return new Sayings(this.ledger).label(id);
  }

  person(id: string): string {
    return new Sayings(this.ledger).person(id);
  }

  private exclusive<T>(work: () => Promise<T>): Promise<T> {
    const before = this.position;
    const done = this.tail.then(work).finally(() => {
      if (this.position > before) this.onMore();
    });
    this.tail = done.catch(() => undefined);
    return done;
  }

  private async takeWaiting(): Promise<void> {
    // One turn of the event loop, so that those who came in the same one are taken along.
    await new Promise((resolve) => setImmediate(resolve));
    const group = this.waiting.splice(0, MOST);
    // Those who come from here on go into the next, behind whatever else waits for the record.
    this.taking = undefined;
    try {
      const judged = await this.takeGroup(group);
      group.forEach((one, index) => {
        const outcome = judged[index];
        if (outcome !== undefined) one.done(outcome);
      });
    } catch (fault) {
      for (const one of group) one.failed(fault);
    }
    if (this.waiting.length > 0) this.taking ??= this.exclusive(() => this.takeWaiting());
  }

  /** Judges entries one after the other and makes those that are taken durable together. */
  private async takeGroup(group: readonly Waiting[]): Promise<readonly Judged[]> {
    for (let tries = 1; ; tries++) {
      try {
        const judged = group.map((one) => this.judge(one));
        if (this.record.isDrafted) await this.record.keep();
        return judged;
      } catch (error) {
        this.record.discard();
        if (!isStale(error) || tries === TRIES) throw error;
        await this.record.catchUp();
      }
    }
  }

  private judge({ author, said, how }: Waiting): Judged {
    if (how.id !== undefined) {
      if (!isEntryId(how.id))
        return refuse("the id of an entry is a UUID of version 7, in small letters", "Make one, or leave it out.");
      const there = this.ledger.entry(how.id);
      // Whoever got no answer sends again, and is told that it stands.
      if (there !== undefined) {
        if (there.author !== author || !isSame(there.body, this.inFull(said)))
          return refuse(`there is another entry with the id ${how.id}`, "Give this one an id of its own.");
        const told = this.record.told.filter(({ entry }) => entry.id === how.id);
        // What follows from it is done again, where it was not done to its end.
        return { taking: { told, warnings: [] }, entered: { body: there.body, id: there.id } };
      }
    }
    const reading = readBody(this.inFull(said));
    if ("faults" in reading) return refuse(reading.faults.map(sentence).join(" "), "Enter it again.");
    const { body } = reading;
    const refused = this.barred(body) ?? refusalOf(this.ledger, author, body, how.sure === true);
    if (refused !== undefined) return { taking: { refused } };
    const before = new Set(this.ledger.contradictions().map(({ key }) => key));
    const warnings = warningsOf(this.ledger, author, body).map((one) => sayPhrase(one));
    const own = this.record.draft(author, body, how.id);
    const told = [own];
    if (body.kind === "approval") told.push(this.record.draft(STORE, { kind: "confirmed", approval: own.entry.id }));
    const fresh = this.ledger.contradictions().filter(({ key }) => !before.has(key));
    return {
      taking: { told, warnings: [...warnings, ...fresh.map((one) => this.sayContradiction(one))] },
      entered: { body, id: own.entry.id },
    };
  }

  private async receiveOnce(
    told: readonly Told[],
    keys: ReadonlyMap<string, string>,
    vouch: (entry: Told["entry"]) => Promise<string | undefined>,
  ): Promise<Reception> {
    const { ledger, record } = this;
    const { identity, now } = record.world;
    const fresh = told.filter(({ entry }) => ledger.entry(entry.id) === undefined);
    const clashing = told.filter(({ entry, text }) => this.textOf(entry.id, text) !== text);
    const own = new Map([...(await record.keys()), ...keys]);
    const isSigned = this.isSigned === undefined ? {} : { isSigned: this.isSigned };
    const faults = verifyEntries(this.run.id, fresh, own, { ...isSigned, after: record.lasts() });
    const strangers = fresh.filter(({ entry }) => !this.brief.people.some(({ id }) => id === entry.author));
    const vouched = await Promise.all(fresh.map(async ({ entry }) => ({ entry, why: await vouch(entry) })));
    const wrong = [
      ...faults.map(({ entry, what }) => `${entry}: ${what}`),
      ...clashing.map(({ entry }) => `${entry.id}: another entry has the same id`),
      ...strangers
        // The store's own word comes back with its own signature.
        .filter(({ entry }) => !(entry.author === STORE && entry.device === identity.device))
        .map(({ entry }) => `${entry.id}: nobody of this order is called ${entry.author}`),
      ...vouched.flatMap(({ entry, why }) => (why === undefined ? [] : [`${entry.id}: ${why}`])),
      // Its plan is in no store but the one that made it, and another may have the same name here.
      ...fresh
        .filter(({ entry }) => entry.body.kind === "plan replaced" && entry.device !== identity.device)
        .map(({ entry }) => `${entry.id}: a plan that another store made; enter the finding here`),
    ];
    if (record.isClosed && fresh.length > 0) wrong.push("the run is closed");
    if (wrong.length > 0 || fresh.length === 0)
      return { taken: 0, faults: [...new Set(wrong)], contradictions: [], wrongPasses: [] };
    for (const device of new Set(fresh.map(({ entry }) => entry.device))) {
      const key = own.get(device);
      if (key !== undefined) await record.store.saveDevice({ id: device, key, at: now() });
    }
    const before = new Set(ledger.contradictions().map(({ key }) => key));
    await record.keepForeign(fresh);
    await this.confirmWaiting(new Set(fresh.map(({ entry }) => entry.id)));
    return {
      taken: fresh.length,
      faults: [],
      contradictions: this.ledger.contradictions().filter(({ key }) => !before.has(key)),
      wrongPasses: wrongPasses(this.ledger).filter(({ key }) => !this.ledger.isSettled(key)),
    };
  }

  /** The store's word on approvals that came in: durable already, so that a fault here is made good by whoever sends them again. */
  private async confirmWaiting(came: ReadonlySet<string>): Promise<void> {
    for (let tries = 1; ; tries++) {
      const approvals = this.ledger.list("gates", "approval").filter(({ id }) => came.has(id));
      for (const { id } of approvals) this.record.draft(STORE, { kind: "confirmed", approval: id });
      if (!this.record.isDrafted) return;
      try {
        await this.record.keep();
        return;
      } catch (error) {
        this.record.discard();
        if (!isStale(error) || tries === TRIES) throw error;
        await this.record.catchUp();
      }
    }
  }

  private textOf(id: string, otherwise: string): string {
    return this.ledger.entry(id) === undefined
      ? otherwise
      : (this.record.told.find(({ entry }) => entry.id === id)?.text ?? otherwise);
  }

  /** An entry that is named by the end of its id is named in full. */
  private inFull(said: unknown): unknown {
    if (typeof said !== "object" || said === null) return said;
    const full = (value: unknown) => {
      if (typeof value !== "string" || !/^[0-9a-f]{4,12}$/.test(value)) return value;
      const meant = this.told.filter(({ entry }) => entry.id.endsWith(value));
      return meant.length === 1 ? meant[0]?.entry.id : value;
    };
    return Object.fromEntries(
      Object.entries(said).map(([name, value]) => [
        name,
        ["finding", "approval", "of"].includes(name) ? full(value) : value,
      ]),
    );
  }

  /** What no entry can be taken over. */
  private barred({ kind }: Body): Refusal | undefined {
    if (this.damages.length > 0 && kind === "passed") {
      const what = `the ledger is damaged: ${this.damages.join("; ")}`;
      return { what, mend: "Restore a backup; no gate opens over this." };
    }
    return this.record.isClosed
      ? { what: "the run is closed", mend: "What comes after belongs to another order." }
      : undefined;
  }

  /**
   * The plan that a finding makes, kept and in force. It is solved beside the others' entries, which go on; where these have changed what is left to do,
   * it is solved again. Solved only where it is wanted: whoever enters what was done need not load the solver.
   */
  private async replanFor(
    author: string,
    body: Body,
    entry: string,
  ): Promise<{ readonly replan: Replan; readonly told: readonly Told[] } | undefined> {
    const finding = this.bearing(body);
    if (finding === undefined) return undefined;
    const { pinnedFiles, planAnew } = await import("./plan-anew.ts");
    const { store, world, order, run } = this.record;
    const { asked, people } = order;
    const files = await pinnedFiles(store, run);
    const replanner = world.replanner ?? ((anew) => planAnew(anew));
    for (let tries = 1; ; tries++) {
      const known = this.position;
      const { ledger, told: durable } = this;
      const plan = planName(run.id, ledger.list("plan", "plan replaced").length + 2);
      const entries = durable.map((one) => one.entry);
      const { replan, kept } = await replanner({ files, run, asked, people, brief: ledger.brief, entries, plan });
      if (kept === undefined) return { replan, told: [] };
      const told = await this.exclusive(async () => {
        const isOld = this.told.some(
          ({ position, entry: { body: other } }) => position > known && MOVES.has(other.kind),
        );
        if (isOld && tries < PLANNINGS) return undefined;
        await store.savePlan({ id: plan, order: run.order, body: kept, at: world.now() });
        return this.enterPlan(
          author,
          { kind: "plan replaced", plan, because: finding.text, finding: entry },
          kept.brief,
        );
      });
      if (told !== undefined) return { replan, told };
    }
  }

  /** What entries that were brought lead to. Of one that came before, and whose bringer got no answer, it is done where it was not. */
  private async followUp(entries: readonly Entry[]): Promise<void> {
    const replaced = new Set(this.ledger.list("plan", "plan replaced").map(({ body }) => body.finding));
    // One plan answers all of them: it is made from everything that is known.
    const last = entries.findLast(({ id, body }) => this.bearing(body) !== undefined && !replaced.has(id));
    if (last !== undefined) await this.replanFor(last.author, last.body, last.id);
    const isOver = entries.some(({ body }) => body.kind === "passed" && body.gate === "hand-over");
    if (!isOver || this.run.closed !== undefined) return;
    await this.exclusive(async () => {
      if (askGate(this.ledger, "hand-over", { decides: true }).every(({ open }) => open)) await this.close();
    });
  }

  /** The finding that an entry makes or ends, where it may change what is left to do. */
  private bearing(body: Body): BodyOf<"finding"> | undefined {
    const finding = body.kind === "finding" ? body : body.kind === "closed" ? this.foundIn(body.finding) : undefined;
    return finding !== undefined && BEARS_ON_PLAN.has(finding.what) ? finding : undefined;
  }

  private async enterPlan(author: string, body: BodyOf<"plan replaced">, brief: Brief): Promise<readonly Told[]> {
    for (let tries = 1; ; tries++) {
      const told = this.record.draft(author, body);
      try {
        await this.record.keep();
        this.record.under(brief);
        return [told];
      } catch (error) {
        this.record.discard();
        if (!isStale(error) || tries === TRIES) throw error;
        await this.record.catchUp();
      }
    }
  }

  private foundIn(id: string): BodyOf<"finding"> | undefined {
    return this.ledger.findings().find(({ entry }) => entry === id)?.found;
  }

  /** The end of a run: what it found on the machine is kept for its next order. */
  private async close(): Promise<void> {
    const { machine, store, ledger } = this.record;
    if (machine !== undefined) {
      const known = await store.machine(machine);
      if (known !== undefined) {
        const body = recordAfter(known.value.body as MachineRecord, ledger);
        await store.saveMachine({ ...known.value, body }, known.revision);
      }
    }
    await this.record.close();
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

/** Entries that change what is left to do, or by which plan. */
const MOVES: ReadonlySet<string> = new Set([
  "loosened",
  "released",
  "refitted",
  "hung aside",
  "set aside",
  "brought back",
  "done",
  "undone",
  "drained",
  "filled",
  "finding",
  "closed",
  "plan replaced",
  "correction",
]);

const refuse = (what: string, mend: string): Judged => ({ taking: { refused: { what, mend } } });

const isStale = (error: unknown): boolean => error instanceof StoreFault && error.code === "stale";

/** Whether two bodies say the same. */
const isSame = (body: Body, said: unknown): boolean => {
  try {
    return writeCanonical(body) === writeCanonical(said);
  } catch {
    return false;
  }
};
