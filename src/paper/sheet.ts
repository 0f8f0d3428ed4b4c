// Owns what a pack is made of: sheets, and on them blocks of a few kinds, as plain data. Who typesets it, or reads it out, knows these kinds and nothing of jobs.

export type Paper = "a4" | "letter";
export type Lang = "en" | "de";

/** The sheets of a pack, by what `--only` calls them. */
export const SHEETS = [
  "chart",
  "cards",
  "lift",
  "kit",
  "torque",
  "holes",
  "sign-off",
  "tags",
  "shift",
  "record",
] as const;
export type SheetKind = (typeof SHEETS)[number];

/** Width of a column: what its text takes, a share of what is left, or millimetres. */
export type Width = "auto" | { readonly share: number } | { readonly mm: number };

export interface Column {
  readonly title: string;
  readonly width: Width;
  readonly right?: boolean;
}

/** What stands in a table: text, a box to tick, a place to write, the way to a sheet of the pack, or the page that it begins on. */
export type Cell =
  | string
  | { readonly box: "tick" | "write" }
  | { readonly strong: string }
  | { readonly sheet: number; readonly title: string }
  | { readonly pageof: number };

export interface Warned {
  /** The signal word as it is printed. */
  readonly word: string;
  readonly text: string;
}

/** One numbered step with its boxes. */
export interface StepBlock {
  readonly kind: "step";
  readonly number: number;
  readonly title: string;
  /** Minutes, people, and with a schedule the time of day or of the order, and who. */
  readonly meta: readonly string[];
  readonly cautions: readonly Warned[];
  readonly facts: readonly { readonly name: string; readonly text: string }[];
  /** What a second person ticks, each by itself. */
  readonly looks: readonly string[];
  /** The tag's code, where the step is about a connection. */
  readonly code?: string;
  /** A box for a second person beside the first's. */
  readonly second: boolean;
}

/** A drawing; its text is in the pack's own letters. */
export interface FigureBlock {
  readonly kind: "figure";
  readonly svg: string;
  /** What whoever cannot see it is told. */
  readonly alt: string;
  readonly caption?: string;
  /** Millimetres, exactly; absent: as wide as the page, and no higher than `high` millimetres. */
  readonly wide?: number;
  readonly high?: number;
}

/** One label: a tag of one half, or a bag's. */
export interface Face {
  /** As it is read aloud. */
  readonly code: string;
  /** A, B …; a bag has none. */
  readonly half?: string;
  readonly name: string;
  readonly lines: readonly string[];
  /** What its QR code holds. */
  readonly address: string;
}

export type Block =
  | { readonly kind: "heading"; readonly level: 2 | 3; readonly text: string; readonly aside?: string }
  | { readonly kind: "text"; readonly text: string; readonly small?: boolean }
  | ({ readonly kind: "caution" } & Warned)
  | StepBlock
  | {
      readonly kind: "table";
      readonly columns: readonly Column[];
      readonly rows: readonly (readonly Cell[])[];
      /** On one page, with the block behind it: a list that somebody signs stands over his signature. */
      readonly signed?: true;
    }
  | FigureBlock
  /** Two beside each other, and so on. */
  | { readonly kind: "figures"; readonly figures: readonly FigureBlock[] }
  /** Places to sign: name, signature, date and time. */
  | { readonly kind: "signatures"; readonly places: readonly string[]; readonly heads: readonly string[] }
  | { readonly kind: "qr"; readonly text: string; readonly name: string }
  | { readonly kind: "faces"; readonly faces: readonly Face[] }
  /** What follows begins a page. */
  | { readonly kind: "page" };

export interface Sheet {
  readonly kind: SheetKind;
  readonly title: string;
  readonly blocks: readonly Block[];
  /** It says only that there is nothing of its kind: a whole pack leaves it out. */
  readonly empty?: true;
  /** It may stand beneath the sheet before it: whole, where it is no longer than two thirds of a page, or going on overleaf. */
  readonly joins?: "whole" | "flows";
}

/** Millimetres of one label of a roll. */
export interface Roll {
  readonly wide: number;
  readonly high: number;
}

export interface Pack {
  readonly format: "unmoor/pack/1";
  readonly lang: Lang;
  readonly paper: Paper;
  /** Labels one by one instead of sheets. */
  readonly roll?: Roll;
  readonly title: string;
  /** On every page: order, vehicle, version of the file, when it was made. */
  readonly head: readonly string[];
  /** "page 1 of 3": what stands before, between and after the numbers. */
  readonly pageOf: readonly [string, string];
  /** Behind a sheet's title, where it goes on overleaf. */
  readonly continued: string;
  readonly boxes: { readonly done: string; readonly second: string };
  readonly sheets: readonly Sheet[];
}

/** Every text of a pack with the place that it stands at, to be looked through before a page is made. */
export function* textsOf(pack: Pack): Generator<{ readonly text: string; readonly at: string }> {
  yield {
    text: [pack.title, ...pack.head, ...pack.pageOf, pack.continued, pack.boxes.done, pack.boxes.second].join(" "),
    at: pack.title,
  };
  for (const sheet of pack.sheets) {
    yield { text: sheet.title, at: sheet.title };
    for (const block of sheet.blocks) yield { text: textOf(block).join(" "), at: sheet.title };
  }
}

const textOf = (block: Block): readonly string[] => {
  switch (block.kind) {
    case "heading":
      return [block.text, block.aside ?? ""];
    case "text":
      return [block.text];
    case "caution":
      return [block.word, block.text];
    case "step":
      return [
        block.title,
        ...block.meta,
        ...block.cautions.flatMap(({ word, text }) => [word, text]),
        ...block.facts.flatMap(({ name, text }) => [name, text]),
        ...block.looks,
        block.code ?? "",
      ];
    case "table":
      return [
        ...block.columns.map(({ title }) => title),
        ...block.rows
          .flat()
          .map((cell) =>
            typeof cell === "string" ? cell : "strong" in cell ? cell.strong : "title" in cell ? cell.title : "",
          ),
      ];
    case "figures":
      return block.figures.flatMap(textOf);
    case "figure":
      return [block.caption ?? "", ...[...block.svg.matchAll(/>([^<]+)</g)].map(([, text = ""]) => unescaped(text))];
    case "signatures":
      return [...block.places, ...block.heads];
    case "qr":
      return [block.name];
    case "faces":
      return block.faces.flatMap(({ code, half = "", name, lines }) => [code, half, name, ...lines]);
    case "page":
      return [];
  }
};

const SIGNS: Readonly<Record<string, string>> = { "&amp;": "&", "&lt;": "<", "&gt;": ">", "&quot;": '"' };
const unescaped = (text: string): string => text.replace(/&(?:amp|lt|gt|quot);/g, (sign) => SIGNS[sign] ?? sign);
