// Owns what waits for what through others: which of two steps comes before the other, and which waits the others imply.

import type { JobStep } from "./whole-job.ts";

export class Waiting {
  private readonly ids: readonly string[];
  private readonly place: ReadonlyMap<string, number>;
  /** By step: everything that comes before it, through others too. */
  private readonly all: readonly ReadonlySet<number>[];

  /** @param steps in an order that keeps their waits. */
  constructor(steps: readonly JobStep[]) {
    this.ids = steps.map((step) => step.id);
    this.place = new Map(this.ids.map((id, index) => [id, index]));
    const all: Set<number>[] = [];
    for (const step of steps) {
      const before = new Set<number>();
      for (const id of step.after) {
        const at = this.place.get(id);
        if (at === undefined) continue;
        before.add(at);
        for (const one of all[at] ?? []) before.add(one);
      }
      all.push(before);
    }
    this.all = all;
  }

  isBefore(sooner: string, later: string): boolean {
    const at = this.place.get(sooner);
    return at !== undefined && this.all[this.place.get(later) ?? -1]?.has(at) === true;
  }

  /** Of these steps those that none of the others waits for anyhow. */
  last(ids: Iterable<string>): readonly string[] {
    const known = [...new Set(ids)].filter((id) => this.place.has(id));
    return known.filter((id) => !known.some((other) => other !== id && this.isBefore(id, other)));
  }

  first(ids: Iterable<string>): readonly string[] {
    const known = [...new Set(ids)].filter((id) => this.place.has(id));
    return known.filter((id) => !known.some((other) => other !== id && this.isBefore(other, id)));
  }
}
