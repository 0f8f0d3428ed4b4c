// Owns what things and people of a run are called.

import type { Brief, Role } from "./brief.ts";

/** Names by id, of everything that a brief knows; an id that it does not know is its own name. */
export class Names {
  private readonly brief: Brief;
  private readonly labels: ReadonlyMap<string, string>;

  constructor(brief: Brief) {
    this.brief = brief;
    const { parts, positions, tasks, works, joints } = brief;
    this.labels = new Map([...parts, ...positions, ...tasks, ...works, ...joints].map(({ id, label }) => [id, label]));
  }

  label(id: string): string {
    return this.labels.get(id) ?? id;
  }

  person(id: string): string {
    return this.brief.people.find((one) => one.id === id)?.label ?? id;
  }

  people(ids: Iterable<string>): readonly string[] {
    return [...ids].map((id) => this.person(id));
  }

  /** Those of the order who have a role. */
  with(role: Role): readonly string[] {
    return this.brief.people.filter(({ roles }) => roles.includes(role)).map(({ label }) => label);
  }
}
