// Owns the reading of a rig file from the disk: parsed, read by the rigging room, every fault with its line.

import { readFileSync } from "node:fs";
import { LineCounter, parseDocument } from "yaml";
import { type FileFault, type RigFile, readRig } from "../rigging/index.ts";

/** Above this it is no rig file. */
const BYTES = 1_000_000;

export type OpenedRig =
  | { readonly file: RigFile; readonly place: (at: string) => string }
  | { readonly faults: readonly FileFault[] }
  | { readonly missing: string };

/** Reads a rig file; where it cannot, why: no such file, or faults with their lines. */
export function openRig(path: string): OpenedRig {
  let text: string;
  try {
    text = new TextDecoder("utf-8", { fatal: true }).decode(readFileSync(path));
  } catch (error) {
    const code = error instanceof Error && "code" in error ? error.code : undefined;
    return {
      missing:
        code === "ENOENT" ? "no such file" : code === "EISDIR" ? "it is a folder" : "it cannot be read as UTF-8 text",
    };
  }
  if (text.length > BYTES) return { missing: "it is far too long for a rig file" };
  const lines = new LineCounter();
  // Every scalar stays the text that was written, as in a vehicle file.
  const document = parseDocument(text, { lineCounter: lines, schema: "failsafe" });
  const placeAt = (offset: number): string => {
    const { line, col } = lines.linePos(offset);
    return `${path}:${line}:${col}`;
  };
  if (document.errors.length > 0)
    return {
      faults: document.errors.map(({ pos, message }) => ({
        at: placeAt(pos[0]),
        what: `the YAML is broken here: ${message.split("\n")[0]?.replace(/ at line.*$/, "") ?? ""}`,
        mend: "Mend it as the line says.",
      })),
    };
  const place = (at: string): string => {
    const keys = at.split(/[./]/).filter((key) => key !== "");
    for (let deep = keys.length; deep > 0; deep--) {
      const node: unknown = document.getIn(keys.slice(0, deep).map(indexed), true);
      const range = typeof node === "object" && node !== null && "range" in node ? node.range : undefined;
      if (Array.isArray(range) && typeof range[0] === "number") return `${placeAt(range[0])}  ${at}`;
    }
    return `${path}  ${at}`;
  };
  const reading = readRig(document.toJS({ maxAliasCount: 0 }));
  return "faults" in reading
    ? { faults: reading.faults.map((fault) => placed(fault, place)) }
    : { file: reading.file, place };
}

const indexed = (key: string): string | number => (/^\d+$/.test(key) ? Number(key) : key);

/** A fault of the rigging room with its line. */
export const placed = ({ at, what, mend }: FileFault, place: (at: string) => string): FileFault => ({
  at: place(at),
  what,
  mend,
});
