// Owns what is taken of one stock, or of the room at one position, while a schedule is built: spans with counts, and where another still fits.

export class Lane {
  private readonly starts: number[] = [];
  private readonly ends: number[] = [];
  private readonly counts: number[] = [];
  readonly capacity: number;

  constructor(capacity: number) {
    this.capacity = capacity;
  }

  clear(): void {
    this.starts.length = 0;
    this.ends.length = 0;
    this.counts.length = 0;
  }

  /** Takes `count` from `start` to before `end`; gives the place of the span, to close it later. */
  take(start: number, end: number, count: number): number {
    this.starts.push(start);
    this.ends.push(end);
    this.counts.push(count);
    return this.starts.length - 1;
  }

  close(place: number, end: number): void {
    this.ends[place] = end;
  }

  /** The earliest time from `from` on at which `count` more fit for `length`; Infinity when they never do. */
  earliest(from: number, length: number, count: number): number {
    if (count > this.capacity) return Number.POSITIVE_INFINITY;
    const { starts, ends, counts } = this;
    const spans = starts.length;
    let time = from;
    // The peak of a span is at its own beginning or at the beginning of another within it.
    search: while (length > 0 && time < Number.POSITIVE_INFINITY) {
      for (let at = -1; at < spans; at += 1) {
        const moment = at < 0 ? time : (starts[at] ?? 0);
        if (at >= 0 && (moment <= time || moment >= time + length)) continue;
        let taken = count;
        let next = Number.POSITIVE_INFINITY;
        for (let other = 0; other < spans; other += 1) {
          const end = ends[other] ?? 0;
          if ((starts[other] ?? 0) > moment || end <= moment) continue;
          taken += counts[other] ?? 0;
          if (end < next) next = end;
        }
        if (taken > this.capacity) {
          time = next;
          continue search;
        }
      }
      return time;
    }
    return time;
  }
}
