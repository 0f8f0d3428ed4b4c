// Owns what a connection of a draft joins, and what it needs before it: from the names that were said, from order, covers, fluids and weight, each with its reason.

import type { Tie, Told } from "./item.ts";
import type { Language } from "./language.ts";
import { keyOf } from "./names.ts";

/** The vehicle itself, in every draft. */
export const VEHICLE = "vehicle";

export interface Suggested {
  readonly id: string;
  readonly reason: string;
}

/** The fluid in a hose or line, by its name. */
export function fluidOf(tie: Tie, language: Language): string | undefined {
  if (!["hose", "line"].includes(tie.kind)) return undefined;
  const words = [tie.label, ...tie.joins]
    .join(" ")
    .toLowerCase()
    .split(/[^\p{L}]+/u)
    .map((text) => ({ text }));
  for (let i = 0; i < words.length; i += 1) {
    const found = language.carries.at(words, i) ?? language.fluids.at(words, i);
    if (found !== undefined) return found.value;
  }
  return undefined;
}

/** The two parts that a connection joins: ids of the draft. */
export function joinsOf(tie: Tie, told: Told, assembly: string, language: Language): readonly [string, string] {
  const own = told.parts.find(({ by }) => by.includes(tie.id));
  if (own !== undefined) return [own.id, own.cover ? VEHICLE : assembly];
  const named = tie.joins.flatMap((name) => {
    const key = keyOf(name.split(" "), language);
    const part = told.parts.find((one) => keyOf(one.label.toLowerCase().split(" "), language) === key);
    if (part !== undefined) return [part.id];
    const noun = name
      .split(" ")
      .flatMap(
        (_, i, words) =>
          language.nouns.at(
            words.map((text) => ({ text })),
            i,
          )?.value ?? [],
      )
      .at(-1);
    if (noun?.role === "assembly") return [assembly];
    return noun?.role === "fixed" ? [VEHICLE] : [];
  });
  const [first = assembly, second] = [...new Set(named)];
  return [first, second ?? (first === assembly ? VEHICLE : assembly)];
}

/** What must come before it, with the reason of each. */
export function needsOf(tie: Tie, told: Told, language: Language): readonly Suggested[] {
  const at = told.ties.indexOf(tie);
  const needs: Suggested[] = [];
  const fluid = fluidOf(tie, language);
  for (const task of told.tasks) {
    if (task.after > at) continue;
    if (
      fluid !== undefined &&
      (task.does === "drain" || task.does === "vent") &&
      (task.fluid === undefined || task.fluid === fluid || task.fluid.endsWith(fluid))
    )
      needs.push({ id: task.id, reason: `it holds ${fluid}` });
    if (tie.kind === "mount" && (task.does === "support" || task.does === "sling"))
      needs.push({ id: task.id, reason: "a mount bears the weight" });
  }
  const cover = told.ties.findLast(
    (one, i) => i < at && one.kind === "cover fixing" && one.undone && one.at === tie.at && one.at !== undefined,
  );
  if (cover !== undefined && tie.kind !== "cover fixing")
    needs.push({
      id: cover.id,
      reason: `told after ${cover.label.toLowerCase()} at the same place, so it may lie under it`,
    });
  return needs;
}
