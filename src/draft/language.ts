// Owns a language: its words by what they do in a sentence, in every form they are said in. The words are data (`words/en.json`);
// the forms of English nouns and verbs, and what an unknown word is, come from the library compromise.

import nlp from "compromise/two";
import english from "./words/en.json" with { type: "json" };

/** A phrase that was found: how many words, and what stands for it. */
export interface Found<T> {
  readonly length: number;
  readonly value: T;
}

interface Entry<T> {
  readonly rest: readonly string[];
  readonly found: Found<T>;
}

/** Phrases by their first word, the longest first. */
export class Phrases<T> {
  readonly #byFirst = new Map<string, Entry<T>[]>();

  add(phrase: string, value: T): void {
    const [first = "", ...rest] = phrase.split(" ");
    const all = this.#byFirst.get(first) ?? [];
    if (all.some((one) => one.rest.join(" ") === rest.join(" "))) return;
    all.push({ rest, found: { length: rest.length + 1, value } });
    all.sort((a, b) => b.rest.length - a.rest.length);
    this.#byFirst.set(first, all);
  }

  /** The words that phrases begin with. */
  get firsts(): Iterable<string> {
    return this.#byFirst.keys();
  }

  /** The longest phrase that begins at `i`. It is asked for some thirty times a word, so nothing is made here. */
  at(words: readonly { readonly text: string }[], i: number): Found<T> | undefined {
    const first = words[i];
    const all = first === undefined ? undefined : this.#byFirst.get(first.text);
    if (all === undefined) return undefined;
    for (const { rest, found } of all) {
      let k = 0;
      while (k < rest.length && words[i + 1 + k]?.text === rest[k]) k += 1;
      if (k === rest.length) return found;
    }
    return undefined;
  }
}

export type NounRole = "tie" | "cover" | "fixing" | "part" | "assembly" | "fixed";

/** What a noun is: its role, the kind of connection it stands for, its one name. */
export interface Noun {
  readonly role: NounRole;
  readonly kind: string;
  readonly plural: boolean;
  /** In the singular. */
  readonly name: string;
}

export interface Verb {
  readonly lemma: string;
  /** What it does, by the particle with it; "" for none. */
  readonly does: Readonly<Record<string, string>>;
  readonly ing: boolean;
}

/** Where people work, as it may be said. */
export interface PositionName {
  readonly id: string;
  readonly label: string;
}

export type Sets =
  | "stop"
  | "articles"
  | "pronouns"
  | "nobody"
  | "more"
  | "another"
  | "moves"
  | "particles"
  | "eachSide"
  | "same"
  | "closing"
  | "final"
  | "correct"
  | "erase"
  | "there"
  | "beware"
  | "not"
  | "leave"
  | "remind"
  | "nobodys"
  | "shares"
  | "dual"
  | "dry"
  | "alias"
  | "vehicles"
  | "details"
  | "spots"
  | "describing"
  | "generic"
  | "kindly"
  | "tools"
  | "back"
  | "held"
  | "nothings"
  | "otherSide"
  | "sideEnds"
  | "sizes"
  | "fillers"
  | "strong"
  | "is"
  | "intro";

export interface Language {
  readonly set: Readonly<Record<Sets, Phrases<string>>>;
  readonly numbers: Phrases<number>;
  readonly tens: ReadonlyMap<string, number>;
  readonly homophones: ReadonlyMap<string, number>;
  readonly torques: Phrases<string>;
  readonly volumes: Phrases<string>;
  readonly masses: Phrases<string>;
  readonly links: Phrases<string>;
  readonly tasks: Phrases<string>;
  readonly fluids: Phrases<string>;
  readonly carries: Phrases<string>;
  readonly nouns: Phrases<Noun>;
  readonly verbs: Phrases<Verb>;
  readonly positions: Phrases<PositionName>;
  readonly opposites: ReadonlyMap<string, PositionName>;
  readonly verbKinds: ReadonlyMap<string, string>;
  /** Kinds of what holds a part, where they are not bolts. */
  readonly partKinds: ReadonlyMap<string, string>;
  /** Words that tell things apart, and by what: "big" and "small" by size. */
  readonly contrasts: ReadonlyMap<string, string>;
  readonly synonyms: Phrases<string>;
  /** "dont" → "don't": a recogniser leaves the apostrophes out. */
  readonly contractions: ReadonlyMap<string, string>;
  /** Whether a word that no list has may belong to the name of a thing. */
  names(word: string): boolean;
  /** Whether a word that no list has is a noun and nothing else. */
  isNoun(word: string): boolean;
  /** A word in the singular. */
  singular(word: string): string;
}

const SETS: readonly Sets[] = [
  "stop",
  "articles",
  "pronouns",
  "nobody",
  "more",
  "another",
  "moves",
  "particles",
  "eachSide",
  "same",
  "closing",
  "final",
  "correct",
  "erase",
  "there",
  "beware",
  "not",
  "leave",
  "remind",
  "nobodys",
  "shares",
  "dual",
  "dry",
  "alias",
  "vehicles",
  "details",
  "spots",
  "describing",
  "generic",
  "kindly",
  "tools",
  "back",
  "held",
  "nothings",
  "otherSide",
  "sideEnds",
  "sizes",
  "fillers",
  "is",
  "strong",
  "intro",
];

let made: Language | undefined;

/** English, made once. */
export function englishLanguage(): Language {
  made ??= make();
  return made;
}

function make(): Language {
  const model = nlp.model() as object;
  const { noun, verb } = (nlp.methods() as unknown as Methods).two.transform;
  const plural = (phrase: string): string => lastWord(phrase, (word) => noun.toPlural(word, model));
  const singularOf = new Map<string, string>();
  const nouns = new Phrases<Noun>();
  const addNoun = (name: string, role: NounRole, kind: string) => {
    nouns.add(name, { role, kind, plural: false, name });
    const many = plural(name);
    singularOf.set(many.split(" ").at(-1) ?? many, name.split(" ").at(-1) ?? name);
    nouns.add(many, { role, kind, plural: true, name });
  };
  for (const [name, kind] of Object.entries(english.ties)) addNoun(name, "tie", kind);
  for (const name of english.covers) addNoun(name, "cover", "cover fixing");
  for (const [name, kind] of Object.entries(english.fixings)) addNoun(name, "fixing", kind);
  for (const name of english.parts) addNoun(name, "part", "bolted joint");
  for (const name of english.assemblies) addNoun(name, "assembly", "bolted joint");
  for (const name of english.fixed) addNoun(name, "fixed", "bolted joint");

  const verbs = new Phrases<Verb>();
  const does = english.verbs as Readonly<Record<string, Readonly<Record<string, string>>>>;
  for (const [lemma, acts] of Object.entries(does)) {
    const forms = Object.values(verb.conjugate(lemma, model)).filter((form) => !form.includes(" "));
    for (const form of [lemma, ...forms]) verbs.add(form, { lemma, does: acts, ing: form.endsWith("ing") });
  }
  for (const [form, lemma] of Object.entries(english.irregular))
    verbs.add(form, { lemma, does: does[lemma] ?? {}, ing: form.endsWith("ing") });

  const positions = new Phrases<PositionName>();
  const opposites = new Map<string, PositionName>();
  const known = english.positions as Readonly<
    Record<string, { label: string; opposite?: string; said: readonly string[] }>
  >;
  for (const [id, { label, said }] of Object.entries(known))
    for (const phrase of said) {
      positions.add(phrase, { id, label });
      // "under the vehicle" is said of every vehicle.
      if (phrase.endsWith(" the vehicle"))
        for (const vehicle of english.vehicles) positions.add(phrase.replace(/vehicle$/, vehicle), { id, label });
    }
  for (const [id, { opposite }] of Object.entries(known)) {
    const other = opposite === undefined ? undefined : known[opposite];
    if (opposite !== undefined && other !== undefined) opposites.set(id, { id: opposite, label: other.label });
  }
  const moves = english.moves.flatMap((lemma) =>
    lemma.includes("'") ? [lemma] : [lemma, ...Object.values(verb.conjugate(lemma, model))],
  );

  const set = Object.fromEntries(
    SETS.map((name) => {
      const phrases = new Phrases<string>();
      for (const phrase of name === "moves" ? moves : english[name]) phrases.add(phrase, phrase);
      return [name, phrases];
    }),
  ) as Record<Sets, Phrases<string>>;
  const tags = new Map<string, boolean>();
  // The library takes a tenth of a millisecond for a word, and is asked for the same ones over and over.
  const tagged = new Map<string, readonly string[]>();
  const tagsOf = (word: string): readonly string[] => {
    const before = tagged.get(word);
    if (before !== undefined) return before;
    const [said] = nlp(word).json({ terms: { tags: true } }) as { terms: { tags: string[] }[] }[];
    const all = said?.terms[0]?.tags ?? [];
    tagged.set(word, all);
    return all;
  };
  const isNoun = (word: string): boolean => {
    const all = tagsOf(word);
    return all.includes("Noun") && !all.some((tag) => ["Adjective", "Pronoun", "Verb", "Possessive"].includes(tag));
  };
  const names = (word: string): boolean => {
    const before = tags.get(word);
    if (before !== undefined) return before;
    const all = tagsOf(word);
    const is =
      ![
        "Adverb",
        "Preposition",
        "Conjunction",
        "Determiner",
        "Pronoun",
        "QuestionWord",
        "Gerund",
        "PastTense",
        "Copula",
        "Auxiliary",
        "Modal",
        "Expression",
      ].some((tag) => all.includes(tag)) ||
      (/(ed|ing)$/.test(word) === false && all.includes("Noun"));
    tags.set(word, is);
    return is;
  };
  return {
    set,
    numbers: phrasesOf(english.numbers),
    tens: new Map(Object.entries(english.tens)),
    homophones: new Map(Object.entries(english.homophones)),
    torques: phrasesOf(english.torques),
    volumes: phrasesOf(english.volumes),
    masses: phrasesOf(english.masses),
    links: phrasesOf(english.links),
    tasks: phrasesOf(english.phrases),
    fluids: phrasesOf(english.fluids),
    carries: phrasesOf(english.carries),
    nouns,
    verbs,
    positions,
    opposites,
    verbKinds: new Map(Object.entries(english.verbKinds)),
    partKinds: new Map(Object.entries(english.partKinds)),
    contrasts: new Map(Object.entries(english.contrasts)),
    synonyms: phrasesOf(english.synonyms),
    contractions: new Map(Object.entries(english.contractions)),
    names,
    isNoun,
    singular: (word) => singularOf.get(word) ?? word,
  };
}

interface Methods {
  readonly two: {
    readonly transform: {
      readonly noun: { toPlural(word: string, model: object): string };
      readonly verb: { conjugate(word: string, model: object): Readonly<Record<string, string>> };
    };
  };
}

function phrasesOf<T>(entries: Readonly<Record<string, T>>): Phrases<T> {
  const phrases = new Phrases<T>();
  for (const [phrase, value] of Object.entries(entries)) phrases.add(phrase, value);
  return phrases;
}

const lastWord = (phrase: string, change: (word: string) => string): string => {
  const words = phrase.split(" ");
  return [...words.slice(0, -1), change(words.at(-1) ?? "")].join(" ");
};
