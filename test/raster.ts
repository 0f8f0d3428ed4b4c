// Owns a PDF as tests look at it: its text, its pages as grey pictures, and the QR codes that are found on them.

import { execFileSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

/** A grey picture: 0 black, 255 white. */
export interface Grey {
  readonly wide: number;
  readonly high: number;
  readonly data: Uint8Array;
}

export const textOf = (pdf: string, ...more: readonly string[]): string =>
  execFileSync("pdftotext", [...more, pdf, "-"], {
    encoding: "utf8",
    stdio: ["ignore", "pipe", "ignore"],
    maxBuffer: 1 << 26,
  });

/** White space of whatever width as one space: where a line ends is the typesetter's. */
export const flat = (text: string): string => text.replace(/\s+/g, " ");

/** Every page as a grey picture, in order. */
export function rasterise(pdf: string, folder: string, dpi: number): readonly Grey[] {
  execFileSync("pdftoppm", ["-gray", "-r", String(dpi), pdf, join(folder, "page")], { stdio: "ignore" });
  return readdirSync(folder)
    .filter((name) => name.startsWith("page-"))
    .sort()
    .map((name) => readGrey(readFileSync(join(folder, name))));
}

/** PGM, binary: "P5 wide high 255" and the bytes. */
function readGrey(bytes: Buffer): Grey {
  const [head = "", wide = "0", high = "0"] = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.toString("latin1", 0, 40)) ?? [];
  return { wide: Number(wide), high: Number(high), data: bytes.subarray(head.length) };
}

const part = ({ wide, high, data }: Grey, left: number, top: number, w: number, h: number): Grey => {
  const cut = { wide: Math.min(w, wide - left), high: Math.min(h, high - top) };
  const out = new Uint8Array(cut.wide * cut.high);
  for (let y = 0; y < cut.high; y += 1)
    out.set(data.subarray((top + y) * wide + left, (top + y) * wide + left + cut.wide), y * cut.wide);
  return { ...cut, data: out };
};

/** Its types are of a module, and it is none. */
const jsQR = createRequire(import.meta.url)("jsqr") as typeof import("jsqr").default;

const decode = ({ wide, high, data }: Grey): string | undefined => {
  const colours = new Uint8ClampedArray(wide * high * 4);
  for (const [n, grey] of data.entries()) colours.fill(grey, 4 * n, 4 * n + 3).fill(255, 4 * n + 3, 4 * n + 4);
  return jsQR(colours, wide, high, { inversionAttempts: "dontInvert" })?.data;
};

/** Millimetres that the largest code with its quiet zone may take. */
const CODE = 28;

/**
 * What the QR codes of a page of tags say: a decoder finds one code in a picture, so the page is looked at in windows that overlap, down both columns of codes.
 * @param columns millimetres from the left edge of the paper to each column.
 */
export function codesOn(page: Grey, dpi: number, columns: readonly number[]): ReadonlySet<string> {
  const found = new Set<string>();
  const pixels = (mm: number): number => Math.floor((mm * dpi) / 25.4);
  const [side, step] = [pixels(CODE + 7), pixels(6)];
  for (let top = 0; top < page.high - side / 2; top += step)
    for (const column of columns) {
      const left = pixels(column - 1);
      const seen = part(page, left, top, side, side);
      if (!seen.data.some((grey) => grey < 128)) continue;
      const said = decode(seen);
      if (said !== undefined) found.add(said);
    }
  return found;
}

/**
 * Folded along lines so many pixels apart, the toner off the fold in a line two pixels wide; and smeared: each pixel with its right neighbours, and greyer. The
 * right half of the page is folded elsewhere: halves of a connection are cut apart, and no fold goes through both at the same place.
 */
export function worn({ wide, high, data }: Grey, every: number): Grey {
  const out = new Uint8Array(data.length);
  for (let y = 0; y < high; y += 1)
    for (let x = 0; x < wide; x += 1) {
      const at = y * wide + x;
      const smeared = ((data[at] ?? 255) * 2 + (data[at - 1] ?? 255) + (data[at + 1] ?? 255)) / 4;
      const grey = 40 + smeared * 0.8;
      out[at] = (x < wide / 2 ? y : y + every / 2) % every < 2 ? 255 : grey;
    }
  return { wide, high, data: out };
}
