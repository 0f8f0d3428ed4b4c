// A language is a file: a word and a whole language are added as data alone, and German is heard by its own forms.
import { expect, test } from "vitest";
import { draftVehicle } from "./index.ts";
import { type Language, languageOf } from "./language.ts";
import { readLanguage } from "./language-file.ts";
import { languageFor, languageNamed } from "./languages.ts";
import { SAYS } from "./says.ts";
import de from "./words/de.json" with { type: "json" };
import en from "./words/en.json" with { type: "json" };
import type { Words } from "./words.ts";

function heard(text: string, language?: Language) {
  const draft = draftVehicle([{ file: "f", text }], {}, language);
  if (!("told" in draft)) throw new Error(JSON.stringify(draft));
  return draft.told.ties.map(({ label, kind, count, at }) => [label, kind, count, at]);
}

test("a word is added to its list, and its forms come by themselves", () => {
  const text = "On the left side undo the two wobblers.";
  const more = languageOf({ ...en, ties: { ...en.ties, wobbler: "hose" } } as Words);
  expect(heard(text, more)).toEqual([["Wobblers", "hose", 2, "left"]]);
  expect(heard(text)).not.toEqual(heard(text, more));
});

/** A tongue of nobody: endings make its plurals, its verbs have particles, and that is all there is of it. */
const TOY = {
  language: "Toy",
  code: "xx",
  forms: {
    plural: [
      ["a", "ani"],
      ["", "i"],
    ],
    verb: [["en", ["", "e"]]],
  },
  stop: ["ta", "et", "su"],
  articles: ["ta"],
  the: ["ta"],
  definite: ["ta"],
  and: ["et"],
  numbers: { bi: 2, tri: 3 },
  ties: { lora: "hose" },
  fixings: { kip: "bolted joint" },
  parts: ["pom"],
  particles: ["fu"],
  undoing: ["fu"],
  verbs: { demen: { "": "none", fu: "disconnect" } },
  links: { su: "on" },
  positions: { left: { label: "Sini", said: ["sini"] } },
  labels: { bolts: "kipi", vehicle: "Ta karo" },
};

test("a language is made of a file alone", () => {
  const language = readLanguage(JSON.stringify(TOY), "toy.json");
  if ("what" in language) throw new Error(language.what);
  expect(heard("Sini. Deme ta bi lorani fu. Ta pom, tri kipi.", language)).toEqual([
    ["Lorani", "hose", 2, "left"],
    ["Pom kipi", "bolted joint", 3, "left"],
  ]);
  const draft = draftVehicle([{ file: "f", text: "Sini. Deme ta lora fu." }], {}, language);
  expect("yaml" in draft && draft.yaml).toContain("label: Ta karo, fixed: true");
});

test("a file that is no language is refused by its list", () => {
  const refused = (text: string) => {
    const read = readLanguage(text, "l.json");
    return "what" in read ? read.what : undefined;
  };
  expect(refused("{")).toMatch(/^l\.json is no JSON: /);
  expect(refused("[]")).toBe("l.json is no language");
  expect(refused(JSON.stringify({ ...TOY, wordz: [] }))).toBe("l.json: wordz is no list of ours");
  expect(refused(JSON.stringify({ ...TOY, stop: "ta" }))).toBe("l.json: stop has to be a list of words");
  expect(refused(JSON.stringify({ ...TOY, numbers: { bi: "2" } }))).toBe(
    "l.json: numbers has to say a number for each word",
  );
  expect(refused(JSON.stringify(en))).toBeUndefined();
  expect(refused(JSON.stringify(de))).toBeUndefined();
});

test.each([
  ["a particle behind its object", "Links: Zieh den Kühlmittelschlauch vom Kühler ab."],
  ["in one with the infinitive", "Links: Kühlmittelschlauch abziehen."],
  ["in one with the participle", "Auf der linken Seite wird der Kühlmittelschlauch abgezogen."],
  ["the verb second", "Jetzt nach links. Den Kühlmittelschlauch ziehst du ab."],
])("a separable verb: %s", (_, text) => {
  expect(heard(text)).toEqual([["Kühlmittelschlauch", "hose", 1, "left"]]);
});

test("German: compounds that no list has, numbers in one word, the genitive, what is an article and what a pronoun", () => {
  expect(heard("Hinten lösen wir die zweiundzwanzig Deckelschrauben. Ziehen Sie den Stecker der Pumpe ab.")).toEqual([
    ["Deckelschrauben", "cover fixing", 22, "rear"],
    ["Stecker an Pumpe", "wire", 1, "rear"],
  ]);
});

test("a text is heard in the language whose little words it has", () => {
  expect(languageFor("Den Schlauch lösen und dann die Schelle abnehmen").code).toBe("de");
  expect(languageFor("Undo the hose and then take off the clip").code).toBe("en");
  expect(languageFor("1, 2, 3")).toBe(languageNamed("en"));
});

test("what a draft says by itself is in the language of the talk, every sentence of it with the same things put in", () => {
  const placed = (sentence: string) => [...sentence.matchAll(/\{\w+\}/g)].map(([one]) => one).sort();
  const german = languageNamed("de")?.says;
  for (const [name, sentence] of Object.entries(SAYS))
    expect(placed(german?.[name as keyof typeof SAYS] ?? ""), name).toEqual(placed(sentence));
  const draft = draftVehicle([
    {
      file: "f",
      text: "Auf der linken Seite lös die zwei Kraftstoffschläuche. Dann bau den Anlasser aus. Dann die vier Motorlager lösen.",
    },
  ]);
  if (!("yaml" in draft)) throw new Error(JSON.stringify(draft));
  expect(draft.remarks.map(({ text }) => text)).toEqual([
    "Kraftstoffschläuche: vorher wurde nicht gesagt, dass abgelassen wird: Kraftstoff. Wird es abgelassen oder aufgefangen?",
    "Motorlager wird gelöst, und vorher wurde nicht gesagt, was das Gewicht aufnimmt. Was ist es?",
  ]);
  expect(draft.yaml).toContain("# assumed: was es hält, wurde nicht gesagt");
  expect(draft.yaml).toContain("# assumed: was darin ist, nach dem Namen");
  expect(draft.yaml).not.toMatch(/# [^\n]*\b(the|was not|its|taken)\b/);
});
