// Owns the desk of a run: many callers enter at once, what waits is judged and made durable together, and what an entry leads to follows it.

import {
  askGate,
  type Brief,
  type Contradiction,
  type Entry,
  type Ledger,
  type MachineRecord,
  type Rest,
  recordAfter,
  Sayings,
  type Told,
  type Verifier,
} from "../../ledger/index.ts";
import type { Earlier } from "../../plan/index.ts";
import type { Run, Store } from "../../store/index.ts";
import { type Reception, receive, type Vouch } from "./reception.ts";
import { bearing, replan } from "./replanning.ts";
import { type Placed, RunRecord, type World } from "./run-record.ts";
import { type Judged, judge, type TakeHow, type Taking } from "./taking.ts";

/** An entry that waits to be taken. */
interface Waiting {
  readonly author: string;
  readonly said: unknown;
  readonly how: TakeHow;
  readonly done: (judged: Judged) => void;
  readonly failed: (fault: unknown) => void;
}

/** Most entries judged for one commit: more would make the first of them wait for no gain. */
const MOST = 200;

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
    const replanned = await replan(this.record, { author, body, entry: id }, (work) => this.exclusive(work));
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
   */
  async receive(
    told: readonly Told[],
    keys: ReadonlyMap<string, string>,
    vouch: Vouch = async () => undefined,
  ): Promise<Reception> {
    const { record, isSigned } = this;
    const reception = await this.exclusive(() => record.persist(() => receive(record, told, keys, vouch, isSigned)));
    if (reception.faults.length === 0) await this.followUp(told.map(({ entry }) => entry));
    return reception;
  }

  /** Who does what next, as a question for the crew's search; undefined where nothing leads on from here. */
  async whoNext(told?: Earlier): Promise<Rest | undefined> {
    const { whoNext } = await import("../plan-anew.ts");
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
  private takeGroup(group: readonly Waiting[]): Promise<readonly Judged[]> {
    const { record } = this;
    return record.persist(async () => {
      const judged = group.map(({ author, said, how }) => judge(record, author, said, how));
      if (record.isDrafted) await record.keep();
      return judged;
    });
  }

  /** What entries that were brought lead to. Of one that came before, and whose bringer got no answer, it is done where it was not. */
  private async followUp(entries: readonly Entry[]): Promise<void> {
    const { ledger } = this;
    const replaced = new Set(ledger.list("plan", "plan replaced").map(({ body }) => body.finding));
    // One plan answers all of them: it is made from everything that is known.
    const last = entries.findLast(({ id, body }) => bearing(ledger, body) !== undefined && !replaced.has(id));
    if (last !== undefined) {
      const { author, body, id } = last;
      await replan(this.record, { author, body, entry: id }, (work) => this.exclusive(work));
    }
    const isOver = entries.some(({ body }) => body.kind === "passed" && body.gate === "hand-over");
    if (!isOver || this.run.closed !== undefined) return;
    await this.exclusive(async () => {
      if (askGate(this.ledger, "hand-over", { decides: true }).every(({ open }) => open)) await this.close();
    });
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
