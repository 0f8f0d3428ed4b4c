// Owns how a component comes by the words of the language that is spoken.

import { createContext } from "preact";
import { useContext } from "preact/hooks";
import type { Words } from "./said.ts";

export const WordsContext = createContext<Words | undefined>(undefined);

/** @throws where nothing around gives words: a fault of the program. */
export const useWords = (): Words => {
  const words = useContext(WordsContext);
  if (words === undefined) throw new Error("no words are given here");
  return words;
};
