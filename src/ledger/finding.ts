// Owns the findings: what was found, and whether it is open, dealt with, or goes over to the user in writing.

import type { Entry } from "./entry.ts";
import type { BodyOf } from "./kinds.ts";

export interface Finding {
  readonly entry: string;
  readonly author: string;
  readonly at: number;
  readonly found: BodyOf<"finding">;
  readonly state: "open" | "closed" | "left open";
  /** How it was closed, or to whom it was written. */
  readonly end?: string;
}

/** A finding with the entries that end it; the last of them holds. */
export const foldFinding = (entries: readonly Entry[]): Finding | undefined => {
  let finding: Finding | undefined;
  for (const { id, author, at, body } of entries)
    if (body.kind === "finding") finding = { entry: id, author, at, found: body, state: "open" };
  if (finding === undefined) return undefined;
  for (const { body } of entries)
    if (body.kind === "closed") finding = { ...finding, state: "closed", end: body.how };
    else if (body.kind === "left open") finding = { ...finding, state: "left open", end: body.to };
  return finding;
};
