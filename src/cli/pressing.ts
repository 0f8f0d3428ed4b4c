// Owns the end of `print`: a pack set and written to the files that were asked for, or why not, before any of them is touched.

import { writeFileSync } from "node:fs";
import { type Pack, packPage } from "../paper/index.ts";
import { typeset } from "../press/index.ts";
import { EXIT, type Exit } from "./exit.ts";
import type { PrintAsked } from "./print-asked.ts";
import type { PrintDocument } from "./print-documents.ts";
import { refuse } from "./release.ts";
import type { Terminal } from "./terminal.ts";

/** The template and the fonts, beside the bundle. */
const PRESS = new URL("./press/", import.meta.url);

/** Sets the pack and writes what was asked for; what keeps it from being set is said before a file is touched. */
export function press(pack: Pack, asked: PrintAsked, json: boolean, terminal: Terminal): Exit {
  const count = pack.sheets.length;
  const written: string[] = [];
  try {
    if (asked.out !== undefined) {
      terminal.progress(`setting ${count} sheets`);
      const set = typeset(pack, { folder: PRESS, fonts: asked.fonts, made: Math.floor(asked.made / 1000) });
      terminal.progress("");
      if ("faults" in set) return refuse(set.faults, terminal);
      writeFileSync(asked.out, set.pdf);
      written.push(asked.out);
    }
    if (asked.html !== undefined) {
      writeFileSync(asked.html, packPage(pack));
      written.push(asked.html);
    }
  } catch (error) {
    if (!(error instanceof Error && "code" in error && "path" in error)) throw error;
    return refuse(
      [{ what: `${String(error.path)} cannot be written: ${error.message}`, mend: "See the path and its rights." }],
      terminal,
    );
  }
  if (asked.origin === "" && pack.sheets.some(({ kind }) => kind === "tags"))
    terminal.warn(
      "unmoor: the QR codes hold no web address, so that only the app's own camera page reads them. With --address https://… any phone opens the connection.",
    );
  terminal.say(
    json ? JSON.stringify(describe(pack, written), undefined, 2) : `${written.join(" and ")}: ${pack.title}.`,
  );
  return EXIT.found;
}

const describe = ({ title, head, sheets }: Pack, files: readonly string[]): PrintDocument => ({
  format: "unmoor/printed/1",
  title,
  head,
  files,
  sheets: sheets.map(({ kind, title: called }) => ({ kind, title: called })),
  tags: sheets.flatMap(({ blocks }) =>
    blocks.flatMap((block) =>
      block.kind === "faces"
        ? block.faces.map(({ code, half, name, address }) => ({
            code,
            ...(half === undefined ? {} : { half }),
            name,
            address,
          }))
        : [],
    ),
  ),
});
