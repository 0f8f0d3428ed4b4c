// Owns what a connection of a draft joins, and what it needs before it: from the names that were said, from order, covers, fluids and weight, each with its reason.

import type { Off, Tie, Told } from "./item.ts";
import type { Language } from "./language.ts";
import { keyOf, wordsOf } from "./names.ts";

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
    .flatMap((word) => language.compounds.split(word))
    .map((text) => ({ text }));
  for (let i = 0; i < words.length; i += 1) {
    const found = language.carries.at(words, i) ?? language.fluids.at(words, i);
    if (found !== undefined) return found.value;
  }
  return undefined;
}

/** The two parts that a connection joins: ids of the draft. */
/** Parts by what they hold on by and by their one name, made once for what was told. */
function partsOf(
  told: Told,
  language: Language,
): { readonly by: ReadonlyMap<string, Off>; readonly named: ReadonlyMap<string, Off> } {
  const known = partsKnown.get(told);
  if (known !== undefined && known.size === told.parts.length) return known;
  const by = new Map(told.parts.flatMap((part) => part.by.map((id) => [id, part] as const)).reverse());
  const named = new Map(
    told.parts.map((part) => [keyOf(wordsOf(part.label, language), language), part] as const).reverse(),
  );
  const made = { by, named, size: told.parts.length };
  partsKnown.set(told, made);
  return made;
}
const partsKnown = new WeakMap<
  Told,
  { readonly by: ReadonlyMap<string, Off>; readonly named: ReadonlyMap<string, Off>; readonly size: number }
>();

export function joinsOf(tie: Tie, told: Told, assembly: string, language: Language): readonly [string, string] {
  const parts = partsOf(told, language);
  const own = parts.by.get(tie.id);
  if (own !== undefined) return [own.id, own.cover ? VEHICLE : assembly];
  const named = tie.joins.flatMap((name) => {
    const words = wordsOf(name, language);
    const part = parts.named.get(keyOf(words, language));
    if (part !== undefined) return [part.id];
    const said = words.map((text) => ({ text }));
    const noun = said.flatMap((_, i) => language.nouns.at(said, i)?.value ?? []).at(-1);
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
