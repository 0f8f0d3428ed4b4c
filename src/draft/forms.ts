// Owns the forms of words by the rules of a language's file: plurals and cases, forms of verbs, what a compound is made of.

import type { Endings } from "./words.ts";

export interface VerbForm {
  readonly form: string;
  /** It ends its clause, so its object stands before it. */
  readonly last: boolean;
}

/** What is asked of a word's forms; of a noun of several words, the last one changes. */
export interface Forms {
  plurals(noun: string): readonly string[];
  /** Its other forms in the singular. */
  cases(noun: string): readonly string[];
  verb(lemma: string): readonly VerbForm[];
  /** A verb's forms that are written in one with its particle. */
  withParticle(lemma: string, particle: string, known: readonly string[]): readonly string[];
  /** An entry of a list in all its forms: one that ends in a hyphen has those of an adjective. */
  adjective(entry: string): readonly string[];
  /** Whether a word that no list has is a noun and nothing else, may belong to a name, is a participle. */
  isNoun(word: string): boolean;
  names(word: string): boolean;
  isParticiple(word: string): boolean;
  /** The singular of a plural that no list has. */
  singular(plural: string): string | undefined;
}

/** The forms that the rules of a file make. */
export function formsOf(rules: Endings): Forms {
  const prefix = rules.participlePrefix ?? "";
  const participle = (lemma: string): string | undefined => {
    const made = replaceEnd(lemma, rules.participle ?? []);
    if (made === undefined) return undefined;
    return (rules.unprefixed ?? []).some((start) => lemma.startsWith(start)) ? made : prefix + made;
  };
  const isParticiple = (word: string): boolean => prefix !== "" && word.startsWith(prefix);
  return {
    plurals: (noun) =>
      lastWord(noun, (word) => {
        const many = rules.plurals?.[word] ?? replaceEnd(word, rules.plural ?? []) ?? word;
        return [many, ...(rules.pluralCases ?? []).filter((end) => !many.endsWith(end)).map((end) => many + end)];
      }),
    cases: (noun) => lastWord(noun, (word) => (rules.singularCases ?? []).map((end) => word + end)),
    verb: (lemma) => {
      const past = participle(lemma);
      const finite = (rules.verb ?? []).find(([end]) => lemma.endsWith(end));
      const [end = "", ends = []] = finite ?? [];
      return [
        { form: lemma, last: true },
        ...ends.map((other) => ({ form: lemma.slice(0, lemma.length - end.length) + other, last: false })),
        ...(past === undefined ? [] : [{ form: past, last: true }]),
      ];
    },
    withParticle: (lemma, particle, known) => {
      if (rules.separable === undefined) return [];
      const past = [participle(lemma) ?? "", ...known.filter(isParticiple)].filter((form) => form !== "");
      return [particle + lemma, particle + rules.separable + lemma, ...past.map((form) => particle + form)];
    },
    adjective: (entry) =>
      entry.split(" ").reduce<readonly string[]>(
        (all, word) => {
          const forms = word.endsWith("-") ? (rules.adjective ?? [""]).map((end) => word.slice(0, -1) + end) : [word];
          return all.flatMap((before) => forms.map((form) => (before === "" ? form : `${before} ${form}`)));
        },
        [""],
      ),
    isNoun: (word) => (rules.nouns ?? []).some((end) => word.endsWith(end)),
    names: (word) => !(rules.unnamed ?? []).some((end) => word.endsWith(end)),
    isParticiple,
    singular: () => undefined,
  };
}

/** The first ending that fits, replaced. */
function replaceEnd(word: string, rules: readonly (readonly [string, string])[]): string | undefined {
  const rule = rules.find(([end]) => word.endsWith(end));
  return rule === undefined ? undefined : word.slice(0, word.length - rule[0].length) + rule[1];
}

/** A phrase with its last word changed. */
export function lastWord(phrase: string, change: (word: string) => readonly string[]): readonly string[] {
  const at = phrase.lastIndexOf(" ") + 1;
  return change(phrase.slice(at)).map((word) => phrase.slice(0, at) + word);
}
