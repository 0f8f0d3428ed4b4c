// Owns the letters of a text that comes as bytes: in which encoding they are, and where they are no good letters.

import type { Refusal } from "./intake.ts";

/** What letters were taken for that are no sound UTF-8, with the first line of them: an older encoding, or damage. */
export interface OddLetters {
  readonly line: number;
  readonly as: "windows-1252" | "damaged";
}

/** Bytes as text in an encoding of the WHATWG's "Encoding Standard"; what is no letter there is U+FFFD. */
export type Decode = (bytes: Uint8Array, encoding: "utf-8" | "utf-16le" | "utf-16be" | "windows-1252") => string;

/** Reads a text. UTF-8 unless it begins with the mark of UTF-16; of letters that are none, more good ones than bad are a damaged UTF-8. */
export function lettersOf(
  bytes: Uint8Array,
  file: string,
  decode: Decode,
): { readonly text: string; readonly odd?: OddLetters } | Refusal {
  const [a, b] = bytes;
  if (a === 0xff && b === 0xfe) return { text: decode(bytes, "utf-16le") };
  if (a === 0xfe && b === 0xff) return { text: decode(bytes, "utf-16be") };
  const text = decode(bytes, "utf-8");
  const first = text.indexOf(BAD);
  if (first < 0) return { text };
  const line = text.slice(0, first).split(/\r\n|\r|\n/).length;
  const bad = text.split(BAD).length - 1;
  if ((text.match(/[^\0-\x7f]/g)?.length ?? 0) > 2 * bad) return { text, odd: { line, as: "damaged" } };
  const older = decode(bytes, "windows-1252");
  // Bytes that it has no letter for become these: it is something else.
  if (/[\x80-\x9f]/.test(older))
    return {
      what: `${file}, line ${line} is neither UTF-8 nor Windows-1252`,
      mend: "Name captions (.srt, .vtt), a text, or a table (.csv, .tsv), saved as UTF-8.",
    };
  return { text: older, odd: { line, as: "windows-1252" } };
}

const BAD = "\uFFFD";
