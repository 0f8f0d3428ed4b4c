// Owns the nouns that are written in one: what a word is made of, and how its pieces are written again.

import type { Noun } from "./language.ts";
import type { Phrases } from "./phrases.ts";
import type { Endings } from "./words.ts";

/** The shortest piece before a known noun. */
const LEAST = 3;

export class Compounds {
  readonly #joints: readonly string[] | undefined;
  readonly #capitals: boolean;
  readonly #nouns: Phrases<Noun>;
  readonly #known: (word: string) => boolean;
  /** Words that were taken apart, by their pieces. */
  readonly #whole = new Map<string, string>();

  constructor({ compounds, capitals = false }: Endings, nouns: Phrases<Noun>, known: (word: string) => boolean) {
    this.#joints = compounds;
    this.#capitals = capitals;
    this.#nouns = nouns;
    this.#known = known;
  }

  /** The pieces of a word, the last of them a noun of the lists; the word itself where it is none. */
  split(word: string): readonly string[] {
    if (this.#joints === undefined || this.#nouns.has(word) || this.#known(word)) return [word];
    const pieces = word.includes("-") ? word.split("-").filter((one) => one !== "") : this.#apart(word);
    if (pieces.length > 1) this.#whole.set(pieces.join(" "), word);
    return pieces;
  }

  #apart(word: string): readonly string[] {
    for (let at = LEAST; at <= word.length - LEAST; at += 1) {
      if (!this.#nouns.has(word.slice(at))) continue;
      const first = this.#plain(word.slice(0, at));
      return [...(this.#nouns.has(first) ? [first] : this.#apart(first)), word.slice(at)];
    }
    return [word];
  }

  /** The first piece without the letters that join it: "kupplungs" is "kupplung". */
  #plain(piece: string): string {
    const noun = this.#nouns.get(piece);
    if (noun !== undefined) return noun.name;
    const joint = this.#joints?.find((one) => piece.endsWith(one) && this.#nouns.has(piece.slice(0, -one.length)));
    return joint === undefined ? piece : piece.slice(0, -joint.length);
  }

  /** A label within a sentence. */
  inside(label: string): string {
    return this.#capitals ? label : label.toLowerCase();
  }

  /** A noun by itself, as it is written. */
  noun(word: string): string {
    return this.#capitals ? capital(word) : word;
  }

  /** A label as it is written: what was taken apart in one again, two nouns by a hyphen, with capitals. */
  written(label: string): string {
    if (this.#joints === undefined) return label;
    const words = label.toLowerCase().split(" ");
    const written: string[] = [];
    let wasNoun = false;
    for (let i = 0; i < words.length; ) {
      const n = [4, 3, 2].find((many) => this.#whole.has(words.slice(i, i + many).join(" "))) ?? 1;
      const said = words.slice(i, i + n).join(" ");
      const word = this.#whole.get(said) ?? said;
      const isNoun = n > 1 || this.#nouns.has(said);
      const shown = isNoun && this.#capitals ? capital(word) : word;
      const last = written.length - 1;
      if (isNoun && wasNoun && last >= 0) written[last] = `${written[last]}-${shown}`;
      else written.push(shown);
      wasNoun = isNoun;
      i += n;
    }
    return capital(written.join(" "));
  }
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
