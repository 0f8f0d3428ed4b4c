// Owns who is where: at a position, or at work in a system.

import type { Entry } from "./entry.ts";

export interface Claim {
  readonly place: string;
  readonly kind: "position" | "system";
  /** Who is there now, since when. */
  readonly people: ReadonlyMap<string, { readonly entry: string; readonly at: number }>;
}

/** Each person comes and goes for himself; to come twice is to be there. */
export const foldClaim = (place: string, kind: Claim["kind"], entries: readonly Entry[]): Claim => {
  const people = new Map<string, { readonly entry: string; readonly at: number }>();
  for (const { id, author, at, body } of entries)
    if (body.kind === "claimed") people.set(author, { entry: id, at });
    else if (body.kind === "left") people.delete(author);
  return { place, kind, people };
};
