// Owns the fonts of the press: which files there are, which letters each has, and what of a text none of them has. A letter that no font has is found before a page is made.

import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export interface Font {
  readonly path: string;
  readonly family: string;
  has(codePoint: number): boolean;
}

/** What is wrong with a font file, as a sentence without its stop. */
export type FontReading = { readonly font: Font } | { readonly what: string };

/** In which families a pack is set, the first first: the second has what the first lacks. */
export const FAMILIES = ["Atkinson Hyperlegible Next", "Noto Sans"] as const;

/** The fonts that come with the press. @throws where one of its families is not there: a fault of the installation. */
export function ownFonts(folder: URL): readonly Font[] {
  const path = fileURLToPath(new URL("fonts/", folder));
  const fonts = readdirSync(path)
    .filter((name) => name.endsWith(".ttf"))
    .sort()
    .flatMap((name) => {
      const reading = readFont(join(path, name));
      return "font" in reading ? [reading.font] : [];
    });
  for (const family of FAMILIES)
    if (!fonts.some((font) => font.family === family))
      throw new Error(`the font ${family} is not in ${path}: build or install unmoor again`);
  return fonts;
}

/** Reads a TrueType or OpenType file: its family (name 16, else 1) and its character map (OpenType 1.9, "name", "cmap"). */
export function readFont(path: string): FontReading {
  let bytes: Buffer;
  try {
    bytes = readFileSync(path);
  } catch (error) {
    return { what: error instanceof Error ? error.message : String(error) };
  }
  try {
    const tables = tablesOf(bytes);
    const [name, cmap] = [tables.get("name"), tables.get("cmap")];
    if (name === undefined || cmap === undefined) return { what: "it is no TrueType or OpenType font" };
    const family = nameOf(bytes, name, 16) ?? nameOf(bytes, name, 1);
    if (family === undefined) return { what: "it does not say what family it is of" };
    const ranges = rangesOf(bytes, cmap);
    return { font: { path, family, has: (code) => ranges.some(([from, to]) => code >= from && code <= to) } };
  } catch (error) {
    // A table that points outside the file.
    if (error instanceof RangeError) return { what: "it is cut off, or no font" };
    throw error;
  }
}

const tablesOf = (bytes: Buffer): ReadonlyMap<string, number> => {
  const kind = bytes.readUInt32BE(0);
  if (kind !== 0x00010000 && kind !== 0x4f54544f) return new Map();
  return new Map(
    Array.from({ length: bytes.readUInt16BE(4) }, (_, n) => {
      const at = 12 + 16 * n;
      return [bytes.toString("latin1", at, at + 4), bytes.readUInt32BE(at + 8)] as const;
    }),
  );
};

/** A name in Windows' encoding, the first there is. */
const nameOf = (bytes: Buffer, table: number, wanted: number): string | undefined => {
  const storage = table + bytes.readUInt16BE(table + 4);
  for (let n = 0; n < bytes.readUInt16BE(table + 2); n += 1) {
    const at = table + 6 + 12 * n;
    if (bytes.readUInt16BE(at) !== 3 || bytes.readUInt16BE(at + 6) !== wanted) continue;
    const from = storage + bytes.readUInt16BE(at + 10);
    return Buffer.from(bytes.subarray(from, from + bytes.readUInt16BE(at + 8)))
      .swap16()
      .toString("utf16le");
  }
  return undefined;
};

/** The code points that the font maps, from and to, of its widest Unicode map: format 12 before format 4. */
const rangesOf = (bytes: Buffer, table: number): readonly (readonly [number, number])[] => {
  const maps = Array.from(
    { length: bytes.readUInt16BE(table + 2) },
    (_, n) => table + bytes.readUInt32BE(table + 8 + 8 * n),
  );
  const of = (format: number): number | undefined => maps.find((at) => bytes.readUInt16BE(at) === format);
  const wide = of(12);
  if (wide !== undefined)
    return Array.from({ length: bytes.readUInt32BE(wide + 12) }, (_, n) => {
      const at = wide + 16 + 12 * n;
      return [bytes.readUInt32BE(at), bytes.readUInt32BE(at + 4)] as const;
    });
  const narrow = of(4);
  if (narrow === undefined) return [];
  const segments = bytes.readUInt16BE(narrow + 6) / 2;
  return Array.from({ length: segments }, (_, n) => {
    const to = bytes.readUInt16BE(narrow + 14 + 2 * n);
    const from = bytes.readUInt16BE(narrow + 16 + 2 * segments + 2 * n);
    return [from, to] as const;
  }).filter(([from]) => from !== 0xffff);
};

export interface Unwritten {
  readonly letter: string;
  /** The sheet that it stands on. */
  readonly at: string;
}

/** Letters that no font has, each once. Line ends, tabs and what only joins or directs letters are no letters. */
export function unwritten(
  texts: Iterable<{ readonly text: string; readonly at: string }>,
  fonts: readonly Font[],
): readonly Unwritten[] {
  const known = new Map<string, boolean>();
  const found: Unwritten[] = [];
  for (const { text, at } of texts)
    for (const letter of text) {
      if (known.has(letter)) continue;
      const code = letter.codePointAt(0) ?? 0;
      const silent = /[\p{Cc}\p{Cf}\p{Zs}]/u.test(letter);
      const has = silent || fonts.some((font) => font.has(code));
      known.set(letter, has);
      if (!has) found.push({ letter, at });
    }
  return found;
}
