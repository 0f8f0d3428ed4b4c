// Owns the phrases of a list: which of them begins at a word, the longest first.

/** A phrase that was found: how many words, and what stands for it. */
export interface Found<T> {
  readonly length: number;
  readonly value: T;
}

interface Entry<T> {
  readonly rest: readonly string[];
  readonly found: Found<T>;
}

/** Which lists have a phrase that begins with a word, by their numbers; nearly every list has none. */
export type Begins = Uint8Array;

/** A word that phrases are looked for at; without `begins` the list itself is asked. */
interface Asked {
  readonly text: string;
  readonly begins?: Begins;
}

/** The lists of a language, numbered. */
export class Lists {
  #many = 0;
  /** By word the numbers of the lists that have it first. */
  readonly #byFirst = new Map<string, number[]>();

  make<T>(): Phrases<T> {
    const n = this.#many;
    this.#many += 1;
    return new Phrases<T>(n, (first) => {
      const lists = this.#byFirst.get(first);
      if (lists === undefined) this.#byFirst.set(first, [n]);
      else lists.push(n);
    });
  }

  begins(word: string): Begins {
    const begins = new Uint8Array(this.#many);
    for (const n of this.#byFirst.get(word) ?? []) begins[n] = 1;
    return begins;
  }
}

/** Phrases by their first word, the longest first. */
export class Phrases<T> {
  readonly #n: number;
  readonly #byFirst = new Map<string, Entry<T>[]>();
  readonly #whole = new Map<string, T>();

  readonly #tellFirst: (first: string) => void;

  /** `tellFirst` is told each word that a phrase begins with. */
  constructor(n: number, tellFirst: (first: string) => void) {
    this.#n = n;
    this.#tellFirst = tellFirst;
  }

  add(phrase: string, value: T): void {
    if (this.#whole.has(phrase)) return;
    this.#whole.set(phrase, value);
    const [first = "", ...rest] = phrase.split(" ");
    const all = this.#byFirst.get(first) ?? [];
    if (all.length === 0) this.#tellFirst(first);
    all.push({ rest, found: { length: rest.length + 1, value } });
    all.sort((a, b) => b.rest.length - a.rest.length);
    this.#byFirst.set(first, all);
  }

  /** The words that phrases begin with. */
  get firsts(): Iterable<string> {
    return this.#byFirst.keys();
  }

  /** What stands for these words and no others. */
  get(phrase: string): T | undefined {
    return this.#whole.get(phrase);
  }

  /** Whether these words, and no others, are one of the phrases. */
  has(phrase: string | undefined): boolean {
    return phrase !== undefined && this.#whole.has(phrase);
  }

  /** Whether this word alone is one of the phrases. */
  is(word: Asked | undefined): boolean {
    return word !== undefined && word.begins?.[this.#n] !== 0 && this.#whole.has(word.text);
  }

  /** Whether a text has one of them, be it as the beginning of a word. */
  within(text: string): boolean {
    const said = text.toLowerCase();
    return [...this.#whole.keys()].some((phrase) => said.includes(phrase));
  }

  /** The longest phrase that begins at `i`. It is asked for some thirty times a word, so nothing is made here. */
  at(words: readonly Asked[], i: number): Found<T> | undefined {
    const first = words[i];
    if (first === undefined || first.begins?.[this.#n] === 0) return undefined;
    const all = this.#byFirst.get(first.text);
    if (all === undefined) return undefined;
    for (const { rest, found } of all) {
      let k = 0;
      while (k < rest.length && words[i + 1 + k]?.text === rest[k]) k += 1;
      if (k === rest.length) return found;
    }
    return undefined;
  }
}
