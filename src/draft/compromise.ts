// Owns the forms of English words, out of the library compromise: plurals, tenses, and what a word that no list has may be.

import nlp from "compromise/two";
import { type Forms, lastWord } from "./forms.ts";

interface Methods {
  readonly two: {
    readonly transform: {
      readonly noun: { toPlural(word: string, model: object): string };
      readonly verb: { conjugate(word: string, model: object): Readonly<Record<string, string>> };
    };
  };
}

/** A text as the library keeps it: by sentence, its terms. */
interface Said {
  compute(what: readonly string[]): void;
  readonly docs: readonly (readonly { readonly tags?: ReadonlySet<string> }[])[];
}

/** What is no part of a name. */
const UNNAMED: readonly string[] = [
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
];
/** Figures belong to names ("the 24.5 hose") and are no nouns; the library need not be asked. */
const FIGURE = /^\d[\d./-]*$/;
const MORE_THAN_NOUN: readonly string[] = ["Adjective", "Pronoun", "Verb", "Possessive"];

export function compromiseForms(): Forms {
  const model = nlp.model() as object;
  const { noun, verb } = (nlp.methods() as unknown as Methods).two.transform;
  // The library takes a tenth of a millisecond for a word, and is asked for the same ones over and over.
  const tagged = new Map<string, readonly string[]>();
  const tagsOf = (word: string): readonly string[] => {
    const before = tagged.get(word);
    if (before !== undefined) return before;
    // By its lexicon and endings alone: the rules that look at neighbours have none here, and are three quarters of the time.
    // Off the terms themselves: written out they take as long again.
    const said = nlp.tokenize(word) as unknown as Said;
    said.compute(["lexicon", "preTagger"]);
    const all = [...(said.docs[0]?.[0]?.tags ?? [])];
    tagged.set(word, all);
    return all;
  };
  return {
    plurals: (name) => lastWord(name, (word) => [noun.toPlural(word, model)]),
    cases: () => [],
    verb: (lemma) =>
      [
        lemma,
        ...Object.values(verb.conjugate(lemma, model)).filter((form) => !form.includes(" ") || lemma.includes(" ")),
      ].map((form) => ({ form, last: false })),
    withParticle: () => [],
    adjective: (entry) => [entry],
    isNoun: (word) =>
      !FIGURE.test(word) && tagsOf(word).includes("Noun") && !tagsOf(word).some((tag) => MORE_THAN_NOUN.includes(tag)),
    names: (word) => {
      if (FIGURE.test(word)) return true;
      const all = tagsOf(word);
      return !UNNAMED.some((tag) => all.includes(tag)) || (!/(ed|ing)$/.test(word) && all.includes("Noun"));
    },
    isParticiple: (word) => word.endsWith("ed"),
    singular: (plural) => (plural.endsWith("s") ? plural.slice(0, -1) : undefined),
  };
}
