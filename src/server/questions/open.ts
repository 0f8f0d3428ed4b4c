// Owns which of the two computes a shop's questions: this process alone, or all that share its database.

import { LocalQuestions, type Workshop } from "./local.ts";
import type { Questions } from "./questions.ts";

/** @param shop with the address of its database, where its store is one. @throws StoreFault */
export const openQuestions = async ({
  database,
  ...shop
}: Workshop & { readonly database?: string }): Promise<Questions> => {
  if (database === undefined) return LocalQuestions.open(shop);
  const { FleetQuestions } = await import("./fleet.ts");
  return FleetQuestions.open(shop, database);
};
