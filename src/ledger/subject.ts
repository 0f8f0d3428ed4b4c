// Owns what an entry is about: the one subject whose standing it changes. Entries on different subjects never touch each other, so their order does not matter.

import type { Body, Kind } from "./kinds.ts";

export type Subject =
  | { readonly kind: "joint" | "task" | "energy" | "part" | "position" | "system" | "tool"; readonly id: string }
  | { readonly kind: "thing"; readonly id: string; readonly at?: string }
  /** A finding by the id of its entry; "" where the entry is the finding itself. */
  | { readonly kind: "finding"; readonly id: string }
  /** Gates, the shift, the plan, remarks, the hours of work: one list each. */
  | { readonly kind: "gates" | "shift" | "plan" | "remarks" | "hours"; readonly id: "" }
  /** Entries about entries. */
  | { readonly kind: "entry" | "contradiction"; readonly id: string };

export const subjectOf = (body: Body): readonly Subject[] => {
  switch (body.kind) {
    case "isolated":
    case "restored":
      return [{ kind: "energy", id: body.energy }];
    case "match marked":
    case "loosened":
    case "released":
    case "verified":
    case "plugged":
    case "unplugged":
    case "in place":
    case "snug":
    case "torqued":
    case "torque value":
    case "locked":
    case "marked":
    case "refitted":
    case "counted":
      return [{ kind: "joint", id: body.at }];
    case "done":
    case "undone":
    case "failed":
    case "drained":
    case "filled":
      return [{ kind: "task", id: body.task }];
    case "hung aside":
    case "set aside":
    case "brought back":
      return [{ kind: "part", id: body.part }];
    case "put in":
    case "taken out":
      return [{ kind: "thing", id: body.item, ...(body.at === undefined ? {} : { at: body.at }) }];
    case "tool out":
    case "tool in":
      return [{ kind: "tool", id: body.tool }];
    case "claimed":
    case "left":
      return [
        ...(body.place === undefined ? [] : [{ kind: "position" as const, id: body.place }]),
        ...(body.system === undefined ? [] : [{ kind: "system" as const, id: body.system }]),
      ];
    case "finding":
      return [{ kind: "finding", id: "" }];
    case "closed":
    case "left open":
      return [{ kind: "finding", id: body.finding }];
    case "trial":
    case "approval":
    case "confirmed":
    case "override":
    case "passed":
      return [{ kind: "gates", id: "" }];
    case "handing over":
    case "taken over":
      return [{ kind: "shift", id: "" }];
    case "plan replaced":
      return [{ kind: "plan", id: "" }];
    case "as found":
    case "note":
      return [{ kind: "remarks", id: "" }];
    case "assigned":
    case "begun":
    case "paused":
    case "resumed":
      return [{ kind: "hours", id: "" }];
    case "correction":
      return [{ kind: "entry", id: body.of }];
    case "settled":
      return [{ kind: "contradiction", id: body.contradiction }];
  }
};

/** Ids of the vehicle file that a body names, each with the field that names it and what it should be. */
export const namedBy = (
  body: Body,
): readonly {
  readonly field: string;
  readonly id: string;
  readonly as: "joint" | "task" | "part" | "position" | "any";
}[] => {
  const named = (field: string, id: string | undefined, as: "joint" | "task" | "part" | "position" | "any") =>
    id === undefined ? [] : [{ field, id, as }];
  const [subject] = subjectOf(body);
  if (subject?.kind === "joint" && "at" in body) return named("at", body.at, "joint");
  if (subject?.kind === "task" && "task" in body) return named("task", body.task, "task");
  if (subject?.kind === "part" && "part" in body)
    return [...named("part", body.part, "part"), ...(body.kind === "hung aside" ? named("to", body.to, "part") : [])];
  const any: Partial<Record<Kind, string>> = {
    begun: "at",
    paused: "about",
    resumed: "about",
    finding: "about",
    note: "about",
  };
  const field = any[body.kind];
  if (field !== undefined) return named(field, (body as unknown as Record<string, string | undefined>)[field], "any");
  if (body.kind === "claimed" || body.kind === "left") return named("place", body.place, "position");
  if (body.kind === "as found") return named("about", body.about, "any");
  if (body.kind === "put in" || body.kind === "taken out") return named("at", body.at, "any");
  if (body.kind === "trial" || body.kind === "override") return named("lift", body.lift, "task");
  return body.kind === "approval" || body.kind === "passed" ? named("lift", body.lift, "task") : [];
};
