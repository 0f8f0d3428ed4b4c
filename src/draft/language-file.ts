// Owns the reading of a language that somebody brings: a file of words, each list of it checked before it is used.

import type { Refusal } from "./intake.ts";
import { type Language, languageOf } from "./language.ts";
import { MAPS, SETS, type Words } from "./words.ts";

const ALSO: readonly string[] = ["language", "code", "forms", "verbs", "positions", "labels", "says", "columns"];
const NUMBERED: readonly string[] = ["numbers", "tens", "homophones"];
const LISTS: readonly string[] = [...SETS, "covers", "parts", "assemblies", "fixed"];
const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** The language of a file's text, or why it is none. `name` is the file's. */
export function readLanguage(text: string, name: string): Language | Refusal {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (error) {
    return { what: `${name} is no JSON: ${error instanceof Error ? error.message : String(error)}`, mend: "Mend it." };
  }
  if (!isRecord(data) || typeof data.code !== "string" || typeof data.language !== "string")
    return { what: `${name} is no language`, mend: 'Begin with "language": "Deutsch", "code": "de".' };
  const wrong = Object.entries(data).flatMap(([key, value]) => faultOf(key, value) ?? []);
  const [first] = wrong;
  if (first !== undefined) return { what: `${name}: ${first}`, mend: "The lists are described in docs/draft.md." };
  // What was just checked, list by list.
  return languageOf({ forms: {}, ...data } as unknown as Words);
}

function faultOf(key: string, value: unknown): string | undefined {
  const each = (of: "string" | "number") => isRecord(value) && Object.values(value).every((one) => typeof one === of);
  if (LISTS.includes(key))
    return Array.isArray(value) && value.every((one) => typeof one === "string")
      ? undefined
      : `${key} has to be a list of words`;
  if ((MAPS as readonly string[]).includes(key))
    return each("string") ? undefined : `${key} has to say a word for each word`;
  if (NUMBERED.includes(key)) return each("number") ? undefined : `${key} has to say a number for each word`;
  if (key === "verbs" || key === "positions")
    return isRecord(value) && Object.values(value).every(isRecord) ? undefined : `${key} has to hold a list for each`;
  return ALSO.includes(key) ? undefined : `${key} is no list of ours`;
}
