// Owns what is taken of one stock, or of the room at one position, while a schedule is built: how much from when on, and where another still fits.

const ALWAYS = Number.NEGATIVE_INFINITY;
const NEVER = Number.POSITIVE_INFINITY;

export class Lane {
  /** Rising; from `edges[i]` to before the next edge `taken[i]` are taken. */
  private readonly edges: number[] = [ALWAYS];
  private readonly taken: number[] = [0];
  /** Of each span taken: its start and count. */
  private readonly starts: number[] = [];
  private readonly counts: number[] = [];
  readonly capacity: number;

  constructor(capacity: number) {
    this.capacity = capacity;
  }

  clear(): void {
    this.edges.length = 1;
    this.taken.length = 1;
    this.starts.length = 0;
    this.counts.length = 0;
  }

  /** Takes `count` from `start` to before `end`; gives the place of the span, to close it later. */
  take(start: number, end: number, count: number): number {
    this.add(start, end, count);
    this.starts.push(start);
    this.counts.push(count);
    return this.starts.length - 1;
  }

  /** Ends a span that was taken without an end. */
  close(place: number, end: number): void {
    this.add(Math.max(end, this.starts[place] ?? end), NEVER, -(this.counts[place] ?? 0));
  }

  /** The earliest time from `from` on at which `count` more fit for `length`; Infinity when they never do. */
  earliest(from: number, length: number, count: number): number {
    const free = this.capacity - count;
    if (free < 0) return NEVER;
    if (length <= 0 || from === NEVER) return from;
    const { edges, taken } = this;
    let at = this.segmentAt(from);
    let time = from;
    for (;;) {
      while ((taken[at] ?? 0) > free) {
        at += 1;
        time = edges[at] ?? NEVER;
        if (time === NEVER) return NEVER;
      }
      const end = time + length;
      let next = at + 1;
      while (next < edges.length && (edges[next] ?? NEVER) < end && (taken[next] ?? 0) <= free) next += 1;
      if (next >= edges.length || (edges[next] ?? NEVER) >= end) return time;
      at = next;
    }
  }

  private segmentAt(time: number): number {
    let at = this.edges.length - 1;
    while ((this.edges[at] ?? ALWAYS) > time) at -= 1;
    return at;
  }

  private add(start: number, end: number, count: number): void {
    if (start >= end) return;
    const last = end === NEVER ? this.edges.length : this.edgeAt(end);
    const before = this.edges.length;
    const first = this.edgeAt(start);
    const until = end === NEVER ? this.edges.length : last + this.edges.length - before;
    for (let at = first; at < until; at += 1) this.taken[at] = (this.taken[at] ?? 0) + count;
  }

  /** The place of the edge at this time, a new one where there is none. */
  private edgeAt(time: number): number {
    const at = this.segmentAt(time);
    if (this.edges[at] === time) return at;
    this.edges.splice(at + 1, 0, time);
    this.taken.splice(at + 1, 0, this.taken[at] ?? 0);
    return at + 1;
  }
}
