// Owns the end of `print`: a pack made ready for the files that were asked for, then set and written to them; or why not, before any of them is touched.

import { writeFileSync } from "node:fs";
import { type Pack, packPage } from "../paper/index.ts";
import { type Laid, lay, typeset } from "../press/index.ts";
import type { CallFault } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import type { PrintAsked } from "./print-asked.ts";
import type { PrintDocument } from "./print-documents.ts";
import type { Terminal } from "./terminal.ts";

/** The template and the fonts, beside the bundle. */
const PRESS = new URL("./press/", import.meta.url);

/** All that is wanted of a pack that is to be written, as plain data: one thread may make it, another write it. */
export interface Ready {
  readonly pdf?: { readonly path: string; readonly laid: Laid; readonly made: number };
  readonly page?: { readonly path: string; readonly text: string };
  readonly sheets: number;
  /** What is said when it is written. */
  readonly answer: string;
  readonly warning?: string;
}

/** A pack made ready; or what keeps it from being set. */
export function ready(
  pack: Pack,
  { out, html, fonts, made, origin }: PrintAsked,
  json: boolean,
): Ready | { readonly faults: readonly CallFault[] } {
  const set = out === undefined ? undefined : lay(pack, { folder: PRESS, fonts });
  if (set !== undefined && "faults" in set) return set;
  const files = [out, html].flatMap((path) => path ?? []);
  const dumb = origin === "" && pack.sheets.some(({ kind }) => kind === "tags");
  return {
    ...(out === undefined || set === undefined
      ? {}
      : { pdf: { path: out, laid: set.laid, made: Math.floor(made / 1000) } }),
    ...(html === undefined ? {} : { page: { path: html, text: packPage(pack) } }),
    sheets: pack.sheets.length,
    answer: json ? JSON.stringify(describe(pack, files), undefined, 2) : `${files.join(" and ")}: ${pack.title}.`,
    ...(dumb
      ? {
          warning:
            "unmoor: the QR codes hold no web address, so that only the app's own camera page reads them. With --address https://… any phone opens the connection.",
        }
      : {}),
  };
}

/** Sets a pack and writes it. */
export function press({ pdf, page, sheets, answer, warning }: Ready, terminal: Terminal): Exit {
  try {
    if (pdf !== undefined) {
      terminal.progress(`setting ${sheets} sheets`);
      const bytes = typeset(pdf.laid, { folder: PRESS, made: pdf.made });
      terminal.progress("");
      writeFileSync(pdf.path, bytes);
    }
    if (page !== undefined) writeFileSync(page.path, page.text);
  } catch (error) {
    if (!(error instanceof Error && "code" in error && "path" in error)) throw error;
    terminal.warn(`unmoor: ${String(error.path)} cannot be written: ${error.message}. See the path and its rights.`);
    return EXIT.call;
  }
  if (warning !== undefined) terminal.warn(warning);
  terminal.say(answer);
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
