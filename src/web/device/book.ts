// Owns the book of a run on this device: everything known of it, what was written here, and how it all stands by that. The drawer keeps it; several tabs may write in it.

import {
  type Body,
  type Brief,
  type Entry,
  type Identity,
  Ledger,
  makeEntryId,
  type Pen,
  readEntry,
  see,
  type Told,
  takePen,
  write,
} from "../../ledger/index.ts";
import { DURABLE, type EntryKept, type OpenDrawer, openDrawer, type RunKept } from "./drawer.ts";
import { deviceIdentity } from "./identity.ts";

/** An entry as the server has it. */
export interface Placed {
  readonly position: number;
  readonly text: string;
}

/** What one tab tells the others of this device: there is more in the drawer. */
const CHANNEL = "unmoor-book";

const toldOf = ({ text }: { readonly text: string }): Told => {
  const reading = readEntry(text);
  if ("told" in reading) return reading.told;
  throw new Error(`an entry that is none: ${reading.faults.map(({ what }) => what).join("; ")}`);
};

/** How the entries of an order's second person are made: an id of its own first, for his PIN is sealed to it. */
export interface WriteHow {
  readonly id?: string;
  readonly seal?: string;
}

export const newEntryId = (): string => makeEntryId(Date.now(), crypto.getRandomValues(new Uint8Array(16)));

export class Book {
  readonly identity: Identity;
  private readonly drawer: OpenDrawer;
  private readonly channel: BroadcastChannel;
  private readonly listeners = new Set<() => void>();
  private readonly byId = new Map<string, EntryKept>();
  private pen: Pen;
  private running: RunKept;
  private standing: Ledger;
  /** One thing at a time changes the book in this tab. */
  private tail: Promise<unknown> = Promise.resolve();

  private constructor(drawer: OpenDrawer, identity: Identity, kept: RunKept, entries: readonly EntryKept[]) {
    this.drawer = drawer;
    this.identity = identity;
    this.running = kept;
    const told = entries.map(toldOf);
    for (const one of entries) this.byId.set(one.id, one);
    this.pen = takePen(identity, kept.run, told);
    this.standing = new Ledger(
      kept.brief,
      told.map(({ entry }) => entry),
    );
    this.channel = new BroadcastChannel(CHANNEL);
    this.channel.onmessage = ({ data }) => {
      if (data === kept.run) void this.look();
    };
  }

  /** Undefined where the device has no such run with it. @throws DOMException where the browser keeps nothing */
  static async open(run: string): Promise<Book | undefined> {
    const drawer = await openDrawer();
    const kept = await drawer.get("runs", run);
    if (kept === undefined) return undefined;
    return new Book(drawer, await deviceIdentity(), kept, await drawer.getAllFromIndex("entries", "run", run));
  }

  close(): void {
    this.channel.close();
    this.listeners.clear();
  }

  get run(): string {
    return this.running.run;
  }

  get kept(): RunKept {
    return this.running;
  }

  get ledger(): Ledger {
    return this.standing;
  }

  get brief(): Brief {
    return this.standing.brief;
  }

  /** The plan in force is another than the brief's: the server has to be asked for its brief. */
  get isBehind(): boolean {
    return this.standing.planInForce() !== this.brief.plan;
  }

  /** Entries that the server has not said it has, in the order in which they were written. */
  get waiting(): readonly EntryKept[] {
    const waiting = [...this.byId.values()].filter(({ waits }) => waits === 1);
    return waiting
      .map((one) => ({ one, number: this.standing.entry(one.id)?.number ?? 0 }))
      .sort((a, b) => a.number - b.number)
      .map(({ one }) => one);
  }

  /** The last so many entries that came to be known here, in that order. */
  recent(most: number): readonly Entry[] {
    return [...this.byId.keys()].slice(-most).flatMap((id) => this.standing.entry(id) ?? []);
  }

  /** Whether an entry names a photo or a spoken note. */
  names(digest: string): boolean {
    return [...this.byId.values()].some(({ text }) => text.includes(digest));
  }

  isWaiting(id: string): boolean {
    return this.byId.get(id)?.waits === 1;
  }

  /** Hears of every change, its own and others'. */
  listen(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /**
   * Enters something. When this is fulfilled it is on the device's disk.
   * @throws DOMException where the device's disk takes no more; then it is not entered
   */
  write(author: string, body: Body, { id = newEntryId(), seal }: WriteHow = {}): Promise<Entry> {
    return this.alone(async () => {
      // The transaction keeps other tabs out: what they wrote is before it, what they will write is behind it.
      const writing = this.drawer.transaction("entries", "readwrite", DURABLE);
      const fresh = await this.unknown(writing.store.index("run"));
      const { told, pen } = write(see(this.pen, fresh.map(toldOf)), {
        author,
        body,
        now: Date.now(),
        random: crypto.getRandomValues(new Uint8Array(16)),
        id,
      });
      const kept: EntryKept = {
        run: this.run,
        id: told.entry.id,
        text: told.text,
        waits: 1,
        ...(seal === undefined ? {} : { seal }),
      };
      await Promise.all([writing.store.put(kept), writing.done]);
      this.hold(fresh);
      this.pen = pen;
      this.byId.set(kept.id, kept);
      this.standing.add(told.entry);
      this.changed();
      return told.entry;
    });
  }

  /** Takes in what the server sent, each behind the one before; false where one is missing between. */
  takeIn(placed: readonly Placed[]): Promise<boolean> {
    return this.alone(async () => {
      const behind = placed.filter(({ position }) => position > this.running.position);
      const [first] = behind;
      if (first === undefined) return true;
      if (first.position !== this.running.position + 1) return false;
      const entries = behind.map(({ text }): EntryKept => ({ run: this.run, id: toldOf({ text }).entry.id, text }));
      const running = { ...this.running, position: behind.at(-1)?.position ?? first.position, at: Date.now() };
      const taking = this.drawer.transaction(["entries", "runs"], "readwrite");
      await Promise.all([
        ...entries.map((one) => taking.objectStore("entries").put(one)),
        taking.objectStore("runs").put(running),
        taking.done,
      ]);
      this.running = running;
      this.hold(entries);
      this.changed();
      return true;
    });
  }

  /** The server has these: it said so. */
  arrived(ids: readonly string[]): Promise<void> {
    return this.replace(ids, ({ run, id, text }) => ({ run, id, text }));
  }

  /** Another seal, where the PIN under the first was not his. */
  reseal(id: string, seal: string): Promise<void> {
    return this.replace([id], (one) => ({ ...one, seal }));
  }

  /**
   * Leaves out entries that the server will never take, such as a second person's whose PIN was wrong: what this device wrote behind them is written again, for
   * it is chained to them. Nobody has seen any of it.
   */
  leaveOut(ids: ReadonlySet<string>): Promise<void> {
    return this.alone(async () => {
      const waiting = this.waiting;
      const from = waiting.findIndex(({ id }) => ids.has(id));
      if (from < 0) return;
      const gone = waiting.slice(from);
      const writing = this.drawer.transaction("entries", "readwrite", DURABLE);
      const stay = (await writing.store.index("run").getAll(this.run)).filter(
        ({ id }) => !gone.some((one) => one.id === id),
      );
      let pen = takePen(this.identity, this.run, stay.map(toldOf));
      const again: EntryKept[] = [];
      for (const one of gone) {
        void writing.store.delete([this.run, one.id]);
        if (ids.has(one.id)) continue;
        const { entry } = toldOf(one);
        const { author, body, at, id } = entry;
        const written = write(pen, { author, body, now: at, random: crypto.getRandomValues(new Uint8Array(16)), id });
        pen = written.pen;
        again.push({ ...one, text: written.told.text });
      }
      await Promise.all([...again.map((one) => writing.store.put(one)), writing.done]);
      this.reread([...stay, ...again]);
      this.changed();
    });
  }

  /** Takes the brief of the plan in force; what was before is kept until it was seen (`keep({ before: undefined })`). */
  replan(brief: Brief): Promise<void> {
    return this.keep({ brief, before: this.running.before ?? this.running.brief });
  }

  /** Keeps something else of the run: that it is closed, the server's key. */
  keep(change: Partial<RunKept>): Promise<void> {
    return this.alone(async () => {
      const running = { ...this.running, ...change };
      await this.drawer.put("runs", running);
      this.running = running;
      if (change.brief !== undefined) this.standing = this.standing.under(change.brief);
      this.changed();
    });
  }

  /** What other tabs of this device have put into the drawer. */
  private look(): Promise<void> {
    return this.alone(async () => {
      const kept = await this.drawer.get("runs", this.run);
      const entries = await this.drawer.getAllFromIndex("entries", "run", this.run);
      if (kept === undefined) return;
      const isOther = kept.brief.plan !== this.brief.plan;
      const isLess = entries.length < this.byId.size;
      this.running = kept;
      if (isOther || isLess) this.reread(entries);
      else this.hold(entries);
      for (const listener of this.listeners) listener();
    });
  }

  private reread(entries: readonly EntryKept[]): void {
    const told = entries.map(toldOf);
    this.byId.clear();
    for (const one of entries) this.byId.set(one.id, one);
    this.pen = takePen(this.identity, this.run, told);
    this.standing = new Ledger(
      this.running.brief,
      told.map(({ entry }) => entry),
    );
  }

  private replace(ids: readonly string[], change: (one: EntryKept) => EntryKept): Promise<void> {
    return this.alone(async () => {
      const known = ids.flatMap((id) => this.byId.get(id) ?? []).filter(({ waits }) => waits === 1);
      if (known.length === 0) return;
      const writing = this.drawer.transaction("entries", "readwrite");
      await Promise.all([...known.map((one) => writing.store.put(change(one))), writing.done]);
      for (const one of known) this.byId.set(one.id, change(one));
      this.changed();
    });
  }

  /** Entries in the drawer that this tab has not got. */
  private async unknown(index: {
    count(run: string): Promise<number>;
    getAll(run: string): Promise<EntryKept[]>;
  }): Promise<readonly EntryKept[]> {
    if ((await index.count(this.run)) === this.byId.size) return [];
    return (await index.getAll(this.run)).filter(({ id }) => !this.byId.has(id));
  }

  private hold(entries: readonly EntryKept[]): void {
    const fresh = entries.filter(({ id }) => !this.byId.has(id)).map(toldOf);
    for (const one of entries) this.byId.set(one.id, one);
    this.pen = see(this.pen, fresh);
    for (const { entry } of fresh) this.standing.add(entry);
  }

  private changed(): void {
    this.channel.postMessage(this.run);
    for (const listener of this.listeners) listener();
  }

  private alone<T>(work: () => Promise<T>): Promise<T> {
    const done = this.tail.then(work);
    this.tail = done.catch(() => undefined);
    return done;
  }
}
