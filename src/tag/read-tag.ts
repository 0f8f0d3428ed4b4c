// Owns the reading of tags: from what a camera saw or a person typed to a code, and the address that a tag's QR code holds.

import { ALPHABET, isCode, LENGTH } from "./code.ts";
import { HALVES } from "./tags.ts";

export interface TagRead {
  readonly code: string;
  /** The half that it hangs on: A, B … where it was said. */
  readonly half?: string;
  /** The run that it was printed for; a tag printed from a file alone has none. */
  readonly run?: string;
}

/** Why no code was read. */
export interface TagFault {
  readonly fault:
    | "empty"
    /** Not six characters, besides the letter of the half. */
    | "length"
    /** A character that no code has: given in `character`. */
    | "character"
    /** All characters could be, but not together: one is wrong, or two have changed places. */
    | "check";
  readonly character?: string;
}

const ADDRESS = /\/(?:runs\/([^/?#]+)\/)?tag\/([^/?#]+)/;

/**
 * The code in what was scanned or typed: an address as `tagPath` makes them, or the characters in any case, with or without their hyphen, spaces and the
 * letter of the half. Says why where there is none.
 */
export const readTag = (text: string): TagRead | TagFault => {
  const [, run, path] = ADDRESS.exec(text) ?? [];
  const said = (path ?? text).toUpperCase().replace(/[\s.\-–—_]/g, "");
  if (said === "") return { fault: "empty" };
  const last = said.at(-1) ?? "";
  // No code has a letter that a half has, so the last letter is never in doubt.
  const half = said.length > LENGTH && HALVES.includes(last) ? last : undefined;
  const code = half === undefined ? said : said.slice(0, -1);
  const character = [...code].find((one) => !ALPHABET.includes(one));
  if (character !== undefined) return { fault: "character", character };
  if (code.length !== LENGTH) return { fault: "length" };
  if (!isCode(code)) return { fault: "check" };
  return {
    code,
    ...(half === undefined ? {} : { half }),
    ...(run === undefined ? {} : { run: decodeURIComponent(run) }),
  };
};

/** The path that a tag's QR code opens in the web app: `/tag/K7P3X4A`, or `/runs/ID/tag/K7P3X4A` of a run. */
export const tagPath = ({ code, half, run }: TagRead): string =>
  `${run === undefined ? "" : `/runs/${encodeURIComponent(run)}`}/tag/${code}${half ?? ""}`;
