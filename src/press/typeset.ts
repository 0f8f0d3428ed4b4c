// Owns the setting of a pack that was made ready: put to Typst with the template, and given back as a PDF.

import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { NodeCompiler } from "@myriaddreamin/typst-ts-node-compiler";
import type { Laid } from "./lay.ts";

export interface PressOptions {
  /** Where the template and the fonts are. */
  readonly folder: URL;
  /** Seconds since 1970: the PDF says that it was made then. */
  readonly made: number;
}

/** The pack as a PDF (tagged, PDF/UA-1); the same pack and options give the same bytes. */
export function typeset({ data, drawings, fontFolders }: Laid, { folder, made }: PressOptions): Buffer {
  const workspace = fileURLToPath(folder);
  const compiler = NodeCompiler.create({
    workspace,
    fontArgs: [{ fontPaths: [`${workspace}fonts`, ...fontFolders] }],
  });
  for (const [name, svg] of drawings) compiler.mapShadow(workspace + name, Buffer.from(svg));
  compiler.mapShadow(`${workspace}pack.json`, Buffer.from(data));
  const compiled = compiler.compile({ mainFileContent: readFileSync(new URL("pack.typ", folder), "utf8") });
  if (compiled.hasError())
    throw new Error(
      `the pack cannot be set: ${JSON.stringify(compiler.fetchDiagnostics(compiled.takeError() as never))}`,
    );
  const document = compiled.result;
  if (document === null) throw new Error("the pack cannot be set, and the press does not say why");
  // What it remembers of the setting is of no use to the writing, which takes its room.
  compiler.evictCache(0);
  return compiler.pdf(document, { pdfStandard: "ua-1" as never, creationTimestamp: made });
}
