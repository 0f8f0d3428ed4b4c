// Owns the setting of a pack: its data, with every QR code drawn, put to Typst with the template; and what keeps it from being set, before a page is made.

import { readFileSync } from "node:fs";
import { dirname } from "node:path";
import { fileURLToPath } from "node:url";
import { NodeCompiler } from "@myriaddreamin/typst-ts-node-compiler";
import { type Block, EDGE, MODULE, type Pack, QUIET, rollFault, textsOf } from "../paper/index.ts";
import { FAMILIES, type Font, ownFonts, unwritten } from "./fonts.ts";
import { type Code, codeOf } from "./qr.ts";

/** Why no page was made: a sentence without its stop, and the mend. */
export interface PressFault {
  readonly what: string;
  readonly mend: string;
}

export interface PressOptions {
  /** Where the template and the fonts are. */
  readonly folder: URL;
  /** Fonts besides the press's own, for scripts that those lack. */
  readonly fonts?: readonly Font[];
  /** Seconds since 1970: the PDF says that it was made then. */
  readonly made: number;
}

const FEW = 6;

/** The pack as a PDF (tagged, PDF/UA-1); the same pack and options give the same bytes. */
export function typeset(
  pack: Pack,
  options: PressOptions,
): { readonly pdf: Buffer } | { readonly faults: readonly PressFault[] } {
  const fonts = [...ownFonts(options.folder), ...(options.fonts ?? [])];
  const faults = [...letterFaults(pack, fonts), ...rollFaults(pack)];
  if (faults.length > 0) return { faults };
  const workspace = fileURLToPath(options.folder);
  const compiler = NodeCompiler.create({
    workspace,
    fontArgs: [
      { fontPaths: [`${workspace}fonts`, ...new Set((options.fonts ?? []).map(({ path }) => dirname(path)))] },
    ],
  });
  const families = [...new Set([...FAMILIES, ...fonts.map(({ family }) => family)])];
  const { pack: data, codes } = coded(pack);
  for (const { name, svg } of codes.values()) compiler.mapShadow(workspace + name, Buffer.from(svg));
  compiler.mapShadow(
    `${workspace}pack.json`,
    Buffer.from(JSON.stringify({ ...data, families, module: MODULE, quiet: QUIET, edge: EDGE })),
  );
  const compiled = compiler.compile({ mainFileContent: readFileSync(new URL("pack.typ", options.folder), "utf8") });
  if (compiled.hasError())
    throw new Error(
      `the pack cannot be set: ${JSON.stringify(compiler.fetchDiagnostics(compiled.takeError() as never))}`,
    );
  const document = compiled.result;
  if (document === null) throw new Error("the pack cannot be set, and the press does not say why");
  return { pdf: compiler.pdf(document, { pdfStandard: "ua-1" as never, creationTimestamp: options.made }) };
}

const letterFaults = (pack: Pack, fonts: readonly Font[]): readonly PressFault[] => {
  const missing = unwritten(textsOf(pack), fonts);
  const [first] = missing;
  if (first === undefined) return [];
  const letters = missing
    .slice(0, FEW)
    .map(({ letter }) => letter)
    .join(" ");
  return [
    {
      what: `no font here has ${letters}${missing.length > FEW ? ` and ${missing.length - FEW} other letters` : ""}, wanted on the sheet "${first.at}"`,
      mend: "Name a font file that has them: --font FILE.ttf.",
    },
  ];
};

const rollFaults = ({ roll, sheets }: Pack): readonly PressFault[] => {
  if (roll === undefined) return [];
  const addresses = sheets.flatMap(({ blocks }) =>
    blocks.flatMap((block) => (block.kind === "faces" ? block.faces.map(({ address }) => address) : [])),
  );
  const longest = addresses.reduce((a, b) => (b.length > a.length ? b : a), "");
  const fault = rollFault(roll, codeOf(longest, QUIET).side);
  if (fault === undefined) return [];
  return [
    {
      what: `a label of ${roll.wide} × ${roll.high} mm cannot hold the code of ${longest}`,
      mend: `Take one of at least ${fault.wide} × ${fault.high} mm, or a shorter --address.`,
    },
  ];
};

/** The pack, each text of a QR code with the name of its drawing: one drawing serves every tag and bag of a connection. */
function coded(pack: Pack): {
  readonly pack: object;
  readonly codes: ReadonlyMap<string, Code & { readonly name: string }>;
} {
  const codes = new Map<string, Code & { readonly name: string }>();
  const codeFor = (text: string) => {
    const known = codes.get(text) ?? { ...codeOf(text, QUIET), name: `code-${codes.size + 1}.svg` };
    codes.set(text, known);
    return { drawn: known.name, side: known.side };
  };
  const withCodes = (block: Block): object =>
    block.kind === "qr"
      ? { ...block, ...codeFor(block.text) }
      : block.kind === "faces"
        ? { ...block, faces: block.faces.map((face) => ({ ...face, ...codeFor(face.address) })) }
        : block;
  return {
    pack: { ...pack, sheets: pack.sheets.map((sheet) => ({ ...sheet, blocks: sheet.blocks.map(withCodes) })) },
    codes,
  };
}
