// Owns what a rule of the ledger says in the language of the screens.

import { GATE_RULES, type GateRule, RULES, RULES_IN_GERMAN, type RuleId } from "../../ledger/index.ts";
import { useSettings } from "../sheet/settings.ts";

const english: Readonly<Record<GateRule | RuleId, string>> = { ...GATE_RULES, ...RULES };

/** By rule what is missing at a gate, or what contradicts itself. */
export const useRuleWords = (): Readonly<Record<GateRule | RuleId, string>> =>
  useSettings().settings.language === "de" ? RULES_IN_GERMAN : english;
