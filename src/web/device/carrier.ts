// Owns the way between a book and the server: what waits is brought, what others wrote comes, and how it stands with the line. Nothing asks again and again: news come by themselves.

import type { NotTaken } from "../../server/index.ts";
import { kindOf } from "../sheet/refused.tsx";
import { call, Refusal } from "../shop/calls.ts";
import { bringAttached } from "./attached.ts";
import type { Book, Placed } from "./book.ts";
import { isFull, type Refused } from "./drawer.ts";
import { bringBrief, catchUp } from "./taking.ts";
import { broughtTakenUp, takenUpAlone, takenUpFor } from "./taking-up.ts";

/** How it stands with the server. */
export type Line =
  | { readonly is: "near" }
  /** Not reached, or it answers nothing just now. */
  | { readonly is: "away" }
  /** Nobody is signed in there any more. */
  | { readonly is: "signed out" }
  /** The device's disk takes no more: what others enter does not come here. */
  | { readonly is: "full" }
  /** It will not take what waits: for these entries, for this reason. */
  | ({ readonly is: "refused" } & Refused);

/** Most entries brought at once. */
const LOT = 500;
/** Milliseconds before what waits is tried again where nothing tells that the line is back: doubled each time, to this most. */
const AGAIN = 2_000;
const AT_MOST = 60_000;
/** Milliseconds that a page which nobody sees goes on listening. */
const UNSEEN = 60_000;

/** Whether it is a PIN that was not its person's: he is in the reason. */
export const isWrongPin = ({ why: [id] }: NotTaken): boolean => id === "otherPin" || id === "otherSeal";

const saidOf = ({ what, mend, phrases }: Refusal): Refused["refusal"] => ({ what, mend, phrases });

export class Carrier {
  private readonly book: Book;
  private readonly onLine: (line: Line) => void;
  private live: EventSource | undefined;
  private lot: Placed[] = [];
  private line: Line = { is: "away" };
  private bringing: Promise<void> | undefined;
  private isMore = false;
  private wait = AGAIN;
  private again: ReturnType<typeof setTimeout> | undefined;
  private unseen: ReturnType<typeof setTimeout> | undefined;
  private readonly ended = new AbortController();

  /** @param onLine hears whenever it stands otherwise */
  constructor(book: Book, onLine: (line: Line) => void) {
    this.book = book;
    this.onLine = onLine;
    const { signal } = this.ended;
    globalThis.addEventListener("online", () => this.wake(), { signal });
    globalThis.addEventListener("offline", () => this.tell({ is: "away" }), { signal });
    document.addEventListener("visibilitychange", () => this.seen(), { signal });
    const stop = book.listen(() => {
      if (this.book.waiting.length > 0) this.bring();
    });
    signal.addEventListener("abort", stop);
    this.wake();
  }

  end(): void {
    this.ended.abort();
    this.live?.close();
    clearTimeout(this.again);
    clearTimeout(this.unseen);
  }

  /** Tries at once: the line may be back, or somebody has signed in. */
  wake(): void {
    this.wait = AGAIN;
    clearTimeout(this.again);
    this.again = undefined;
    this.follow();
    this.bring();
  }

  /** Brings what waits; where that is under way already, once more after it. */
  private bring(): void {
    this.isMore = true;
    this.bringing ??= this.bringAll().finally(() => {
      this.bringing = undefined;
    });
  }

  private async bringAll(): Promise<void> {
    while (this.isMore && !this.ended.signal.aborted) {
      this.isMore = false;
      try {
        await this.bringEntries();
        await bringAttached(this.book);
        this.wait = AGAIN;
      } catch (error) {
        await this.failed(error);
        // Unless something has changed since what failed was sent: what was left out, a PIN entered again.
        if (!this.isMore) return;
      }
    }
  }

  private async bringEntries(): Promise<void> {
    const held = await this.held();
    if (held !== undefined) {
      this.tell({ is: "refused", ...held });
      return;
    }
    for (let waiting = this.book.waiting; waiting.length > 0; waiting = this.book.waiting) {
      const lot = waiting.slice(0, LOT);
      const taken = await takenUpAlone();
      const hands = lot.flatMap(({ id }) => {
        const entry = this.book.ledger.entry(id);
        return entry === undefined ? [] : (takenUpFor(taken, entry) ?? []);
      });
      const seals = Object.fromEntries(lot.flatMap(({ id, seal }) => (seal === undefined ? [] : [[id, seal]])));
      await call("POST", `/runs/${encodeURIComponent(this.book.run)}/told`, {
        key: this.book.identity.key,
        told: lot.map(({ text }) => text),
        seals,
        hands: taken.filter((one) => hands.includes(one)),
      });
      await broughtTakenUp(hands);
      await this.book.arrived(lot.map(({ id }) => id));
      this.tell({ is: "near" });
    }
  }

  /** What the server has found wrong waits still as it was: it is not tried again. */
  private async held(): Promise<Refused | undefined> {
    const { refused } = this.book.kept;
    if (refused === undefined) return undefined;
    const waits = new Set([...this.book.waiting, ...(await takenUpAlone())].map(({ id }) => id));
    return refused.why.some(({ entry }) => entry !== undefined && waits.has(entry)) ? refused : undefined;
  }

  private async failed(error: unknown): Promise<void> {
    if (isFull(error)) {
      this.tell({ is: "full" });
      this.later();
      return;
    }
    if (!(error instanceof Refusal)) throw error;
    const { status, more } = error;
    if (status === 401) this.tell({ is: "signed out" });
    else if (kindOf(error) === "shut") {
      // His PIN is shut for a while after wrong tries: it says so, and is tried again by itself.
      this.tell({ is: "refused", refusal: saidOf(error), why: [] });
      this.wait = Math.max(this.wait, Number(more.after) * 1000);
      this.later();
    } else if (status === 0 || status >= 500 || status === 429 || status === 408) {
      this.tell({ is: "away" });
      this.later();
    } else {
      const why = Array.isArray(more.why) ? (more.why as readonly NotTaken[]) : [];
      const refused: Refused = { refusal: saidOf(error), why };
      // Kept before it is told: whoever reloads on seeing it does not have it tried again. On a full disk the next try tells it again.
      if (why.some(isWrongPin)) await this.book.keep({ refused }).catch(() => undefined);
      this.tell({ is: "refused", ...refused });
    }
  }

  /** Listens from where the book is. */
  private follow(): void {
    if (this.live !== undefined && this.live.readyState !== EventSource.CLOSED) return;
    const path = `/api/runs/${encodeURIComponent(this.book.run)}/live?behind=${this.book.kept.position}`;
    const live = new EventSource(path);
    this.live = live;
    live.addEventListener("open", () => {
      if (this.line.is !== "refused") this.tell({ is: "near" });
      this.wait = AGAIN;
      if (this.book.waiting.length > 0) this.bring();
    });
    live.addEventListener("entry", ({ data, lastEventId }: MessageEvent<string>) => {
      this.lot.push({ position: Number(lastEventId), text: data });
      // Those that come together are taken together.
      if (this.lot.length === 1) setTimeout(() => void this.takeLot());
    });
    live.addEventListener("error", () => {
      // The browser would try again every second, for the hour that the line is away.
      live.close();
      void this.askWhy();
    });
  }

  /** Tries again after a while, each time a longer one; at once when the browser says that there is a line. */
  private later(): void {
    // What is brought and what is listened for fail one after the other, and are tried again together.
    if (this.again !== undefined || !navigator.onLine || this.ended.signal.aborted) return;
    this.again = setTimeout(() => {
      this.again = undefined;
      this.follow();
      this.bring();
    }, this.wait);
    this.wait = Math.min(AT_MOST, this.wait * 2);
  }

  private async takeLot(): Promise<void> {
    const lot = this.lot;
    this.lot = [];
    try {
      if (!(await this.book.takeIn(lot))) await catchUp(this.book);
      if (this.book.isBehind) await bringBrief(this.book);
      else if (lot.some(({ text }) => text.includes('"hand-over"'))) await bringBrief(this.book);
    } catch (error) {
      await this.failed(error);
    }
  }

  private async askWhy(): Promise<void> {
    try {
      await catchUp(this.book);
      this.tell({ is: "near" });
      this.later();
    } catch (error) {
      await this.failed(error);
    }
  }

  /** Nobody listens for a page that nobody sees: it costs the tablet's battery. */
  private seen(): void {
    clearTimeout(this.unseen);
    if (document.visibilityState === "visible") this.wake();
    else
      this.unseen = setTimeout(() => {
        this.live?.close();
        this.live = undefined;
      }, UNSEEN);
  }

  private tell(said: Line): void {
    // An answer that was under way when the line went says nothing of now.
    const line: Line = said.is === "near" && !navigator.onLine ? { is: "away" } : said;
    if (JSON.stringify(line) === JSON.stringify(this.line)) return;
    this.line = line;
    this.onLine(line);
  }
}
