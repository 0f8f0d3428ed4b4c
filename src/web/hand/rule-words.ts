// Owns what the ledger says in the language of the screens: its rules, and its phrases with what they name.

import { useCallback } from "preact/hooks";
import {
  GATE_RULES,
  type GateRule,
  type Phrase,
  RULES,
  RULES_IN_GERMAN,
  type RuleId,
  sayPhrase,
} from "../../ledger/index.ts";
import { useSettings } from "../sheet/settings.ts";
import { useWords } from "../words/words.ts";

const english: Readonly<Record<GateRule | RuleId, string>> = { ...GATE_RULES, ...RULES };

/** By rule what is missing at a gate, or what contradicts itself. */
export const useRuleWords = (): Readonly<Record<GateRule | RuleId, string>> =>
  useSettings().settings.language === "de" ? RULES_IN_GERMAN : english;

/** A phrase of the ledger's as it is said to who looks. */
export const useSaying = (): ((phrase: Phrase) => string) => {
  const { door } = useWords();
  return useCallback((phrase: Phrase) => door.said(sayPhrase(phrase), phrase), [door]);
};
