// Owns the language of the screens: which there are, which is spoken, and how a component comes by its words. The words themselves are in en/ and de/.

import { createContext } from "preact";
import { useContext } from "preact/hooks";
import type { Words } from "./said.ts";

export const LANGUAGES = { en: "English", de: "Deutsch" } as const;
export type Language = keyof typeof LANGUAGES;

export const isLanguage = (text: string | null | undefined): text is Language => text != null && text in LANGUAGES;

/** Each is its own chunk: nobody loads what he does not read. */
export const loadWords = async (language: Language): Promise<Words> =>
  language === "de" ? (await import("./de/index.ts")).de : (await import("./en/index.ts")).en;

export const WordsContext = createContext<Words | undefined>(undefined);

/** @throws where nothing around gives words: a fault of the program. */
export const useWords = (): Words => {
  const words = useContext(WordsContext);
  if (words === undefined) throw new Error("no words are given here");
  return words;
};
