// Owns how a run's things are called in words: connections, people, and what contradicts itself.

import type { Ledger } from "./ledger.ts";
import { Names } from "./names.ts";
import { type Contradiction, RULES } from "./rules.ts";

export class Sayings {
  private readonly ledger: Ledger;
  private readonly names: Names;

  constructor(ledger: Ledger) {
    this.ledger = ledger;
    this.names = new Names(ledger.brief);
  }

  /** A contradiction in words. */
  sayContradiction({ rule, about, key, entries }: Contradiction): string {
    const who = entries.flatMap((id) => {
      const entry = this.ledger.entry(id);
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
}
