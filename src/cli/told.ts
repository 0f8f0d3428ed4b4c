// Owns the reading of what was told from the disk, narrations and spreadsheets, and what is said of letters that are no sound UTF-8.

import { readFileSync } from "node:fs";
import { type Decode, lettersOf, type OddLetters } from "../draft/index.ts";
import type { CallFault } from "./call.ts";

const decode: Decode = (bytes, encoding) => new TextDecoder(encoding).decode(bytes);

/** A narration or a table; or why there is none, and the mend. */
export function openTold(file: string): { readonly text: string; readonly odd?: OddLetters } | CallFault {
  try {
    return lettersOf(readFileSync(file), file, decode);
  } catch (error) {
    return { what: `${file} cannot be read: ${whyNot(error)}`, mend: "Name a narration or a table." };
  }
}

function whyNot(error: unknown): string {
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  if (code === "ENOENT") return "no such file";
  if (code === "EISDIR") return "it is a folder";
  return error instanceof Error ? error.message : String(error);
}

export const sayLetters = (file: string, { line, as }: OddLetters): string =>
  as === "damaged"
    ? `${file}, line ${line}: a letter is damaged, and its word may be missed. Mend it there, and draft again.`
    : `${file}, line ${line}: this is no UTF-8. It is read as Windows-1252; if letters are wrong, save it as UTF-8.`;
