// Owns which languages the screens have, and the loading of one. It knows no screen: the words are asked for before there is one. The words themselves are in en/ and de/.

import type { Words } from "./said.ts";

export const LANGUAGES = { en: "English", de: "Deutsch" } as const;
export type Language = keyof typeof LANGUAGES;

export const isLanguage = (text: string | null | undefined): text is Language => text != null && text in LANGUAGES;

/** Each is its own chunk: nobody loads what he does not read. */
export const loadWords = async (language: Language): Promise<Words> =>
  language === "de" ? (await import("./de/index.ts")).de : (await import("./en/index.ts")).en;
