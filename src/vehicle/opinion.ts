// Owns the second opinion on a text that is no YAML: a parser that recovers from a mistake and names all of them.
//
// js-yaml, which reads every file, stops at the first. This one is six times as slow and slow to load, so it is asked only when there is a mistake.

import { parseDocument } from "yaml";
import type { Mistake } from "./source.ts";

/** What is said of a bracket that stays open: the parser says how it had to be indented instead. */
const openBracket = (message: string): string => {
  const kind = /^Flow (map|sequence)\b.* end with a [}\]]/.exec(message)?.[1];
  return kind === undefined ? message : `a ${kind === "map" ? "{" : "["} before this place is not closed`;
};

/**
 * Every mistake that keeps a text from being YAML, in its order; none where this parser finds none. Of a tab in the indentation nothing
 * but the tabs is told: what else is wrong there follows from them.
 */
export const findMistakes = (text: string): readonly Mistake[] => {
  const { errors } = parseDocument(text, { schema: "failsafe", uniqueKeys: false, prettyErrors: false });
  const tabs = errors.filter(({ code }) => code === "TAB_AS_INDENT");
  return (tabs.length > 0 ? tabs : errors).map(({ pos, message }) => ({ at: pos[0], what: openBracket(message) }));
};
