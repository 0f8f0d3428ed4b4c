// Owns a language: its words by what they do in a sentence, in every form they are said in, made of its file (`words/*.json`).

import { Compounds } from "./compounds.ts";
import { compromiseForms } from "./compromise.ts";
import { type Forms, formsOf } from "./forms.ts";
import { type Begins, Lists, type Phrases } from "./phrases.ts";
import { SAYS, type Says } from "./says.ts";
import { COLUMNS, type Column, type Endings, LABELS, type Labels, SETS, type Sets, type Words } from "./words.ts";

export type NounRole = "tie" | "cover" | "fixing" | "part" | "assembly" | "fixed";

/** What a noun is: its role, the kind of connection it stands for, its one name. */
export interface Noun {
  readonly role: NounRole;
  readonly kind: string;
  readonly plural: boolean;
  /** One and many are the same word. */
  readonly alike: boolean;
  /** In the singular. */
  readonly name: string;
}

export interface Verb {
  readonly lemma: string;
  /** What it does, by the particle with it; "" for none. */
  readonly does: Readonly<Record<string, string>>;
  /** It ends its clause, so its object stands before it. */
  readonly last: boolean;
}

/** Where people work, as it may be said. */
export interface PositionName {
  readonly id: string;
  readonly label: string;
}

export interface Language {
  readonly code: string;
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
  /** Kinds of what holds a part, where they are not bolts, and of what feeds it. */
  readonly partKinds: ReadonlyMap<string, string>;
  readonly fed: ReadonlyMap<string, string>;
  /** Words that tell things apart, and by what: "big" and "small" by size. */
  readonly contrasts: ReadonlyMap<string, string>;
  readonly synonyms: Phrases<string>;
  /** "dont" → "don't": a recogniser leaves the apostrophes out; and what is another word before a number. */
  readonly contractions: ReadonlyMap<string, string>;
  readonly beforeNumber: ReadonlyMap<string, string>;
  readonly clitics: ReadonlyMap<string, string>;
  /** What a word is on the other side: "left" and "right". */
  readonly mirror: ReadonlyMap<string, string>;
  readonly labels: Readonly<Record<Labels, string>>;
  /** The sentences that a draft says by itself. */
  readonly says: Readonly<Record<Says, string>>;
  readonly columns: Readonly<Record<Column, readonly string[]>>;
  readonly compounds: Compounds;
  /** The finite verb is the second thing of a clause, so what was named before it is its object. */
  readonly verbSecond: boolean;
  /** Of words that no list has: whether one may belong to the name of a thing, is a noun and nothing else, a participle. */
  readonly forms: Pick<Forms, "isNoun" | "names" | "isParticiple">;
  /** Which of its lists have a phrase that begins with a word. */
  begins(word: string): Begins;
  /** A word in the singular; and that of a plural that no list has. */
  singular(word: string): string;
  unknownSingular(word: string): string | undefined;
}

/** A language made of its file. */
export function languageOf(words: Words): Language {
  const rules: Endings = words.forms === "compromise" ? {} : words.forms;
  const forms = words.forms === "compromise" ? compromiseForms() : formsOf(rules);
  const base = new Map<string, string>();
  const lists = new Lists();
  const listed = <T>(entries: Readonly<Record<string, T>> | undefined): Phrases<T> => {
    const phrases = lists.make<T>();
    for (const [entry, value] of Object.entries(entries ?? {}))
      for (const form of forms.adjective(entry)) {
        phrases.add(form, value);
        if (form !== entry) base.set(form, entry.slice(0, -1));
      }
    return phrases;
  };
  const mapped = <T>(entries: Readonly<Record<string, T>> | undefined): ReadonlyMap<string, T> =>
    new Map(Object.entries(entries ?? {}).flatMap(([entry, value]) => forms.adjective(entry).map((f) => [f, value])));
  const nouns = nounsOf(words, forms, base, lists.make());
  const set = Object.fromEntries(
    SETS.map((name) => {
      const verbal = name === "moves" || name === "falls";
      const entries = (words[name] ?? []).flatMap((entry) =>
        verbal && !entry.includes("'") ? forms.verb(entry).map(({ form }) => form) : [entry],
      );
      return [name, listed(Object.fromEntries(entries.map((entry) => [entry, entry])))];
    }),
  ) as Record<Sets, Phrases<string>>;
  const numbers = listed({ ...words.numbers, ...tensInOne(words, rules) });
  const verbs = verbsOf(
    words,
    forms,
    lists.make(),
    (form) => !set.dual.has(form) && (numbers.has(form) || nouns.has(form)),
  );
  const links = listed(words.links);
  const tasks = listed(words.phrases);
  return {
    code: words.code,
    set,
    numbers,
    tens: mapped(words.tens),
    homophones: mapped(words.homophones),
    torques: listed(words.torques),
    volumes: listed(words.volumes),
    masses: listed(words.masses),
    links,
    tasks,
    fluids: listed(words.fluids),
    carries: listed(words.carries),
    nouns,
    verbs,
    ...positionsOf(words, listed),
    verbKinds: mapped(words.verbKinds),
    partKinds: mapped(words.partKinds),
    fed: mapped(words.fed),
    contrasts: mapped(words.contrasts),
    synonyms: listed(words.synonyms),
    contractions: mapped(words.contractions),
    beforeNumber: mapped(words.beforeNumber),
    clitics: mapped(words.clitics),
    mirror: mapped(words.mirror),
    labels: Object.fromEntries(LABELS.map((name) => [name, words.labels?.[name] ?? name])) as Record<Labels, string>,
    says: { ...SAYS, ...words.says },
    columns: Object.fromEntries(COLUMNS.map((name) => [name, words.columns?.[name] ?? [name]])) as Record<
      Column,
      readonly string[]
    >,
    compounds: new Compounds(rules, nouns, (word) =>
      [set.stop, set.particles, set.tools, numbers, verbs, links, tasks].some((one) => one.has(word)),
    ),
    verbSecond: rules.verbSecond ?? false,
    forms,
    begins: (word) => lists.begins(word),
    singular: (word) => base.get(word) ?? word,
    unknownSingular: (word) => forms.singular(word),
  };
}

/** The nouns in all their forms. `base` learns the singular of each. */
function nounsOf(words: Words, forms: Forms, base: Map<string, string>, nouns: Phrases<Noun>): Phrases<Noun> {
  const add = (name: string, role: NounRole, kind: string): void => {
    const plurals = forms.plurals(name);
    const alike = plurals[0] === name;
    const end = name.split(" ").at(-1) ?? name;
    nouns.add(name, { role, kind, plural: false, alike, name });
    for (const form of forms.cases(name)) {
      nouns.add(form, { role, kind, plural: false, alike, name });
      base.set(form.split(" ").at(-1) ?? form, end);
    }
    for (const form of plurals) {
      base.set(form.split(" ").at(-1) ?? form, end);
      nouns.add(form, { role, kind, plural: true, alike, name });
    }
  };
  for (const [name, kind] of Object.entries(words.ties ?? {})) add(name, "tie", kind);
  for (const name of words.covers ?? []) add(name, "cover", "cover fixing");
  for (const [name, kind] of Object.entries(words.fixings ?? {})) add(name, "fixing", kind);
  for (const name of words.parts ?? []) add(name, "part", "bolted joint");
  for (const name of words.assemblies ?? []) add(name, "assembly", "bolted joint");
  for (const name of words.fixed ?? []) add(name, "fixed", "bolted joint");
  return nouns;
}

/** The verbs in all their forms that are no other words, and with their particles where these are written in one. */
function verbsOf(words: Words, forms: Forms, verbs: Phrases<Verb>, isOther: (form: string) => boolean): Phrases<Verb> {
  const irregular = Object.entries(words.irregular ?? {});
  for (const [lemma, does] of Object.entries(words.verbs ?? {})) {
    const known = irregular.filter(([, of]) => of === lemma).map(([form]) => form);
    for (const [particle, act] of Object.entries(does))
      for (const form of particle === "" ? [] : forms.withParticle(lemma, particle, known))
        verbs.add(form, { lemma, does: { "": act }, last: true });
    for (const { form, last } of forms.verb(lemma))
      if (words.forms === "compromise" || !isOther(form)) verbs.add(form, { lemma, does, last });
  }
  const { verbs: acts = {} } = words;
  for (const [form, lemma] of irregular)
    verbs.add(form, { lemma, does: acts[lemma] ?? {}, last: words.forms !== "compromise" && forms.isParticiple(form) });
  return verbs;
}

function positionsOf(
  { positions: known = {}, vehicles = [] }: Words,
  listed: (entries: Readonly<Record<string, PositionName>>) => Phrases<PositionName>,
): Pick<Language, "positions" | "opposites"> {
  const said: Record<string, PositionName> = {};
  const opposites = new Map<string, PositionName>();
  for (const [id, { label, opposite, said: phrases }] of Object.entries(known)) {
    for (const phrase of phrases) {
      said[phrase] ??= { id, label };
      // "under the vehicle" is said of every vehicle.
      const [vehicle = ""] = vehicles;
      if (vehicle !== "" && phrase.endsWith(` ${vehicle}`))
        for (const other of vehicles) said[phrase.slice(0, -vehicle.length) + other] ??= { id, label };
    }
    const other = opposite === undefined ? undefined : known[opposite];
    if (opposite !== undefined && other !== undefined) opposites.set(id, { id: opposite, label: other.label });
  }
  return { positions: listed(said), opposites };
}

/** Numbers whose unit and tens are one word: "zweiundzwanzig". */
function tensInOne({ numbers = {}, tens = {} }: Words, { tens: between }: Endings): Readonly<Record<string, number>> {
  if (between === undefined) return {};
  const units = Object.entries(numbers).filter(([word, value]) => value > 0 && value < 10 && !word.includes(" "));
  return Object.fromEntries(
    Object.entries(tens).flatMap(([ten, value]) =>
      units.map(([unit, one]) => [unit + between + ten, value + one] as const),
    ),
  );
}
