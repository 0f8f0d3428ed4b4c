// Owns what things are called: the label of a phrase, its one key whatever synonyms were used, and ids that no other thing has.

import type { Language } from "./language.ts";
import type { Phrase } from "./phrase.ts";

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** The words of a phrase that name it. */
export const naming = (words: readonly string[], { set }: Language): readonly string[] =>
  words.filter((word) => !set.passing.has(word));

/** The same thing under whatever name: synonyms replaced, singular, in the order of the alphabet. */
export function keyOf(words: readonly string[], language: Language): string {
  const said = words.join(" ");
  let keys = keysOf.get(language);
  if (keys === undefined) {
    keys = new Map();
    keysOf.set(language, keys);
  }
  const known = keys.get(said);
  if (known !== undefined) return known;
  const key = makeKey(words, language);
  if (keys.size >= KEYS_KEPT) keys.clear();
  keys.set(said, key);
  return key;
}

/** Keys that were made, for they are asked for over and over. */
const keysOf = new WeakMap<Language, Map<string, string>>();
const KEYS_KEPT = 5_000;

function makeKey(words: readonly string[], language: Language): string {
  const singular = words.map((word) => ({ text: language.singular(word) }));
  const key: string[] = [];
  for (let i = 0; i < singular.length; ) {
    const found = language.synonyms.at(singular, i);
    key.push(...(found?.value ?? singular[i]?.text ?? "").split(" "));
    i += found?.length ?? 1;
  }
  return [...new Set(naming(key, language))].sort().join(" ");
}

/** The words of a label. */
export const wordsOf = (label: string, language: Language): readonly string[] =>
  label
    .toLowerCase()
    .split(" ")
    .flatMap((word) => language.compounds.split(word));

/** What a phrase is called: its naming words, or all of them where none name. */
export function labelOf(phrase: Phrase, language: Language): string {
  const words = naming(phrase.words, language);
  const describing = words.length > 1 || phrase.noun === undefined ? words : phrase.words;
  return capital((describing.length > 0 ? describing : phrase.words).join(" "));
}

/** Ids that are unique across a file, made of labels. */
export class Ids {
  readonly #taken = new Set<string>();
  /** The least number that may be free, by what stands before it. */
  readonly #next = new Map<string, number>();

  make(label: string): string {
    const base =
      label
        .toLowerCase()
        .replace(/[^\p{L}\p{N}]+/gu, "-")
        .replace(/^-+|-+$/g, "")
        .slice(0, 60) || "thing";
    let id = base;
    let n = this.#next.get(base) ?? 2;
    for (; this.#taken.has(id); n += 1) id = `${base}-${n}`;
    this.#next.set(base, n);
    this.#taken.add(id);
    return id;
  }

  take(id: string): void {
    this.#taken.add(id);
  }

  free(id: string): void {
    this.#taken.delete(id);
    const [, base, n] = /^(.+)-(\d+)$/.exec(id) ?? [];
    if (base !== undefined) this.#next.set(base, Math.max(2, Math.min(Number(n), this.#next.get(base) ?? 2)));
  }
}
