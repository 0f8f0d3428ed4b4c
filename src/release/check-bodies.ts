// Owns which parts hang together while ties between them are undone and made, one at a time, for the checker.
//
// Each part carries the number of its body. A tie undone starts a search from two of its ends in lockstep, one tie at a
// time: either they meet (still one body), or the smaller side runs dry first and alone gets a new number. So a step
// costs what is small in it: the piece that comes off, or the way round to the other end.

/** Told of every part that goes from one body to another, after `of` has changed. */
export type Moved = (part: number, from: number, to: number) => void;

export class Bodies {
  /** The body of each part. */
  readonly of: number[];
  /** The parts of each body; empty for a body that has been merged into another. */
  readonly members: Set<number>[];
  private readonly ends: (readonly number[])[] = [];
  private readonly made: Set<number>[];
  private readonly moved: Moved;

  constructor(parts: number, moved: Moved = () => {}) {
    this.of = Array.from({ length: parts }, (_, part) => part);
    this.members = this.of.map((part) => new Set([part]));
    this.made = this.of.map(() => new Set<number>());
    this.moved = moved;
  }

  /** Ties these parts together; the tie's number is what `undo` takes. */
  make(ends: readonly number[]): number {
    const tie = this.ends.push(ends) - 1;
    for (const end of ends) this.made[end]?.add(tie);
    const [first, ...others] = ends;
    if (first !== undefined) for (const other of others) this.merge(first, other);
    return tie;
  }

  /** Undoes a tie; every piece that comes off by it gets a new number. */
  undo(tie: number): void {
    const ends = this.ends[tie] ?? [];
    for (const end of ends) this.made[end]?.delete(tie);
    // Ends seen so far that still have the old number are known to hang together with `anchor`.
    let anchor = ends[0];
    for (const end of ends) {
      if (anchor === undefined || this.of[end] !== this.of[anchor]) continue;
      const piece = this.smallerSide(anchor, end);
      if (piece === undefined) continue;
      this.split(piece);
      if (piece.has(anchor)) anchor = end;
    }
  }

  /** Whether a part of the one set hangs together with a part of the other: the pair, or undefined. */
  joined(some: readonly number[], others: readonly number[]): readonly [number, number] | undefined {
    const there = new Map(others.map((part) => [this.of[part], part]));
    for (const part of some) {
      const other = there.get(this.of[part]);
      if (other !== undefined) return [part, other];
    }
    return undefined;
  }

  private merge(a: number, b: number): void {
    const [one, two] = [this.of[a] ?? a, this.of[b] ?? b];
    if (one === two) return;
    const sizes = [one, two].map((body) => this.members[body]?.size ?? 0);
    const [from, to] = (sizes[0] ?? 0) < (sizes[1] ?? 0) ? [one, two] : [two, one];
    for (const part of [...(this.members[from] ?? [])]) this.move(part, from, to);
  }

  private split(piece: ReadonlySet<number>): void {
    const to = this.members.push(new Set()) - 1;
    for (const part of piece) this.move(part, this.of[part] ?? to, to);
  }

  private move(part: number, from: number, to: number): void {
    this.members[from]?.delete(part);
    this.members[to]?.add(part);
    this.of[part] = to;
    this.moved(part, from, to);
  }

  /** The whole of the side that runs dry first; undefined when the two still hang together. */
  private smallerSide(a: number, b: number): ReadonlySet<number> | undefined {
    if (a === b) return undefined;
    const [fromA, fromB] = [new Set([a]), new Set([b])];
    const [searchA, searchB] = [this.reach(fromA, fromB), this.reach(fromB, fromA)];
    for (;;) {
      const stepA = searchA.next();
      if (stepA.done) return fromA;
      if (stepA.value) return undefined;
      const stepB = searchB.next();
      if (stepB.done) return fromB;
      if (stepB.value) return undefined;
    }
  }

  /** Walks out from `seen`, adding to it, one tie at a time; yields true on meeting the other search. */
  private *reach(seen: Set<number>, other: ReadonlySet<number>): Generator<boolean> {
    // A Set hands out what is added while it is walked: it is its own queue.
    for (const part of seen)
      for (const tie of this.made[part] ?? []) {
        let met = false;
        for (const end of this.ends[tie] ?? []) {
          if (other.has(end)) met = true;
          seen.add(end);
        }
        yield met;
      }
  }
}
