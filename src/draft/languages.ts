// Owns which languages are known, and which of them a text is in.

import { type Language, languageOf } from "./language.ts";
import de from "./words/de.json" with { type: "json" };
import en from "./words/en.json" with { type: "json" };
import type { Words } from "./words.ts";

/** The files; another language is another one. */
const FILES: readonly Words[] = [en as Words, de as unknown as Words];
const made = new Map<string, Language>();

export const LANGUAGES: readonly string[] = FILES.map(({ code }) => code);

/** A language by its code, made once. */
export function languageNamed(code: string): Language | undefined {
  const before = made.get(code);
  if (before !== undefined) return before;
  const words = FILES.find((one) => one.code === code);
  if (words === undefined) return undefined;
  const language = languageOf(words);
  made.set(code, language);
  return language;
}

/** How much of a text is looked at. */
const LOOKED = 20_000;

/** The language whose little words, numbers and verbs a text has most of; the first where it has none. */
export function languageFor(text: string): Language {
  const words =
    text
      .slice(0, LOOKED)
      .toLowerCase()
      .match(/\p{L}+/gu) ?? [];
  const shares = FILES.map((file) => {
    // In notes there is hardly a little word, but numbers and what is done.
    const little = new Set([
      ...(file.stop ?? []),
      ...(file.articles ?? []),
      ...(file.pronouns ?? []),
      ...Object.keys(file.numbers ?? {}),
      ...Object.keys(file.verbs ?? {}),
    ]);
    return words.filter((word) => little.has(word)).length;
  });
  const best = FILES[shares.indexOf(Math.max(...shares))] ?? FILES[0];
  const language = best === undefined ? undefined : languageNamed(best.code);
  if (language === undefined) throw new Error("there is no language");
  return language;
}
