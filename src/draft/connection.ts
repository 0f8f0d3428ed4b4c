// Owns the making of a connection from a phrase: its kind, its count, and whether it is one that was told before.

import { KINDS, type Kind } from "../vehicle/index.ts";
import type { Clause } from "./clause.ts";
import type { Source, Tie } from "./item.ts";
import type { Language, Noun } from "./language.ts";
import type { Memory } from "./memory.ts";
import { keyOf, labelOf, naming } from "./names.ts";
import type { Phrase } from "./phrase.ts";

export function connectionOf(
  m: Memory,
  label: string,
  kind: Kind,
  phrase: Phrase,
  words: readonly string[],
  source: Source,
  attached: readonly { link: string; phrase: Phrase }[],
): Tie {
  const key = keyOf(words, m.language);
  const existing = m.find(key, phrase, phrase.definite);
  if (existing !== undefined) {
    existing.sources.push(source);
    if (!existing.undone && m.here !== undefined) existing.at = m.here.id;
    const before = existing.label.toLowerCase();
    const now = label.toLowerCase();
    if (
      before !== now &&
      m.language.singular(before) !== m.language.singular(now) &&
      !sameName(before, now, m.language)
    )
      m.told.twoNames.push({ tie: existing, other: label, source });
    if (phrase.count !== undefined) existing.count = phrase.count;
    m.look(existing);
    return existing;
  }
  const tie = m.addTie(label, kind, words, source);
  setCount(tie, phrase, 1);
  if (phrase.count !== undefined && phrase.noun?.role !== "fixing") m.things.set(tie, phrase.count);
  for (const { link, phrase: to } of attached)
    if (link !== "near" && (to.noun !== undefined || m.language.fluids.has(to.words.at(-1))))
      tie.joins.push(labelOf(to, m.language).toLowerCase());
  const place = attached.find(({ link }) => link === "near")?.phrase;
  if (place !== undefined) tie.place = place.words.join(" ");
  return tie;
}

export function setCount(tie: Tie, phrase: Phrase, hosts: number): void {
  if (phrase.count !== undefined) tie.count = phrase.count * hosts;
  else if (!phrase.plural) tie.count ??= 1;
}

/** The kind by the nouns of a phrase, from its head backward: "propshaft bolts" are a shaft joint. */
export function kindIn(m: Memory, phrase: Phrase): string {
  const head = phrase.noun;
  if (head === undefined) return "bolted joint";
  if (head.role === "cover") return "cover fixing";
  if (head.role === "tie") return head.kind;
  if (head.kind !== "bolted joint" && head.kind !== "linkage") return head.kind;
  const inner = nounsIn(m, phrase.before).findLast(({ role }) => role === "tie" || role === "cover");
  return inner?.kind === undefined || ["hose", "line", "cable", "wire"].includes(inner.kind)
    ? inner === undefined
      ? head.kind
      : inner.kind
    : inner.kind;
}

export function nounsIn(m: Memory, words: readonly string[]): Noun[] {
  const all = words.map((text) => ({ text }));
  const nouns: Noun[] = [];
  for (let i = 0; i < all.length; ) {
    const found = m.language.nouns.at(all, i);
    if (found !== undefined) nouns.push(found.value);
    i += found?.length ?? 1;
  }
  return nouns;
}

export function isAssembly(m: Memory, words: readonly string[]): boolean {
  const assembly = (m.told.assembly ?? "").split(" ");
  const key = keyOf(words, m.language);
  return key === keyOf(assembly, m.language) || key === keyOf(assembly.slice(-1), m.language);
}

export function uncover(m: Memory, tie: Tie, clause: Clause, source: Source): void {
  let part = m.told.parts.find(({ by }) => by.includes(tie.id));
  if (part === undefined) {
    part = { id: "", label: tie.label, by: [tie.id], removed: false, cover: true, sources: [source] };
    m.addPart(part);
  }
  if (clause.verb !== undefined && clause.verb.act !== "loosen") part.removed = true;
}

export const kindOf = (kind: string): Kind => KINDS.find((one) => one === kind) ?? "bolted joint";

/** Whether two labels differ by number or describing words alone. */
function sameName(a: string, b: string, language: Language): boolean {
  const plain = (text: string) =>
    naming(text.split(" "), language)
      .map((word) => language.singular(word))
      .join(" ");
  return plain(a) === plain(b);
}

/** The phrases that belong to another one, with their links: "on the bell housing". */
export type Attached = readonly { readonly link: string; readonly phrase: Phrase }[];
