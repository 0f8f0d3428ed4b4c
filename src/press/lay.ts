// Owns the making ready of a pack for the press: its data with every QR code drawn; and what keeps it from being set, before a page is made.

import { dirname } from "node:path";
import { type Block, EDGE, moduleOf, type Pack, QUIET, rollFault, textsOf } from "../paper/index.ts";
import { FAMILIES, type Font, ownFonts, unwritten } from "./fonts.ts";
import { type Code, codeOf } from "./qr.ts";

/** Why no page was made: a sentence without its stop, and the mend. */
export interface PressFault {
  readonly what: string;
  readonly mend: string;
}

export interface LayOptions {
  /** Where the template and the fonts are. */
  readonly folder: URL;
  /** Fonts besides the press's own, for scripts that those lack. */
  readonly fonts?: readonly Font[];
}

/** A pack as the press takes it: plain data, so that one thread can make it ready and another set it. */
export interface Laid {
  /** The pack for the template, as JSON. */
  readonly data: string;
  /** Drawings that it names, as SVG. */
  readonly drawings: readonly (readonly [name: string, svg: string])[];
  /** Where fonts are besides the press's own. */
  readonly fontFolders: readonly string[];
}

const FEW = 6;

/** No line ends between a figure and its unit, nor before a count's sign, in whatever words they stand; drawings and codes are as they are. */
const bound = (key: string, value: unknown): unknown =>
  typeof value === "string" && key !== "svg" && key !== "address"
    ? value.replace(/(\d) (?=(?:N·m|[mk]?g|[kM]?N|[cmk]?m|m?L|min|h|t|kV|V|%|×)(?![\p{L}\d]))/gu, "$1\u00a0")
    : value;

/** The pack made ready; or what keeps it from being set. */
export function lay(
  pack: Pack,
  options: LayOptions,
): { readonly laid: Laid } | { readonly faults: readonly PressFault[] } {
  const fonts = [...ownFonts(options.folder), ...(options.fonts ?? [])];
  const faults = [...letterFaults(pack, fonts), ...rollFaults(pack)];
  if (faults.length > 0) return { faults };
  const families = [...new Set([...FAMILIES, ...fonts.map(({ family }) => family)])];
  const { pack: data, codes } = coded(pack);
  const module = moduleOf(pack.roll, modulesOf(longestAddress(pack.sheets)));
  return {
    laid: {
      data: JSON.stringify({ ...data, families, module, quiet: QUIET, edge: EDGE }, bound),
      drawings: [...codes.values()].map(({ name, svg }) => [name, svg] as const),
      fontFolders: [...new Set((options.fonts ?? []).map(({ path }) => dirname(path)))],
    },
  };
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
  const longest = longestAddress(sheets);
  const fault = rollFault(roll, modulesOf(longest));
  if (fault === undefined) return [];
  return [
    {
      what: `a label of ${roll.wide} × ${roll.high} mm cannot hold the code of ${longest}`,
      mend: `Take one of at least ${fault.wide} × ${fault.high} mm, or a shorter --address.`,
    },
  ];
};

/** Modules a side of the code of a text; a pack without a tag has none. */
const modulesOf = (text: string): number => (text === "" ? 0 : codeOf(text, QUIET).side);

/** Of all tags: its code has the most modules. */
const longestAddress = (sheets: Pack["sheets"]): string =>
  sheets
    .flatMap(({ blocks }) =>
      blocks.flatMap((block) => (block.kind === "faces" ? block.faces.map(({ address }) => address) : [])),
    )
    .reduce((a, b) => (b.length > a.length ? b : a), "");

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
