// Owns what a connection of a draft joins, and what it needs before it: from the names that were said, from order, covers, fluids and weight, each with its reason.

import type { Off, Tie, Told } from "./item.ts";
import type { Language } from "./language.ts";
import { keyOf, wordsOf } from "./names.ts";
import { filled } from "./says.ts";

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

/** The two parts that a connection joins: ids of the draft. */
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

/** What must come before each connection of what was told, with the reason of each. */
export function needsIn(told: Told, language: Language): (tie: Tie) => readonly Suggested[] {
  const at = new Map(told.ties.map((tie, i) => [tie, i]));
  const tasks = told.tasks.filter(({ does }) => ["drain", "vent", "support", "sling"].includes(does));
  const covers = coversBefore(told);
  const { says, compounds } = language;
  return (tie) => {
    const fluid = fluidOf(tie, language);
    const needs: Suggested[] = [];
    for (const { id, does, after, fluid: of } of tasks) {
      if (after > (at.get(tie) ?? 0)) continue;
      const isOfWeight = does === "support" || does === "sling";
      if (isOfWeight && tie.kind === "mount") needs.push({ id, reason: says.bears });
      if (!isOfWeight && fluid !== undefined && (of === undefined || of.endsWith(fluid)))
        needs.push({ id, reason: filled(says.holds, { fluid: compounds.noun(fluid) }) });
    }
    const cover = covers.get(tie);
    return cover === undefined
      ? needs
      : [
          ...needs,
          {
            id: cover.id,
            reason: filled(says.covered, { name: compounds.inside(cover.label) }),
          },
        ];
  };
}

/** The cover that was undone last before each connection at the same place. */
function coversBefore({ ties }: Told): ReadonlyMap<Tie, Tie> {
  const last = new Map<string, Tie>();
  const before = new Map<Tie, Tie>();
  for (const tie of ties) {
    if (tie.at === undefined) continue;
    const cover = last.get(tie.at);
    if (tie.kind !== "cover fixing" && cover !== undefined) before.set(tie, cover);
    if (tie.kind === "cover fixing" && tie.undone) last.set(tie.at, tie);
  }
  return before;
}
