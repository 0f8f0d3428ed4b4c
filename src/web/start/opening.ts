// Owns the opening of files: what is no vehicle file gets a plain answer. Loaded when somebody opens one, for its limit comes with all of the reader.

import { FILE_LIMIT } from "../../vehicle/index.ts";
import { keep, mine } from "../shop/shelf.ts";
import type { Words } from "../words/said.ts";

/** A zero byte is in no text that anybody writes. */
const isText = (text: string): boolean => !text.slice(0, 4096).includes("\u0000") && !text.startsWith("\uFFFD");

export type Opened = { readonly id: string } | { readonly what: string; readonly mend: string };

/** Puts files on this device's shelf: the one that says `format:` first is the main one. */
export const open = async (given: readonly File[], words: Words["start"]): Promise<Opened> => {
  const [first] = given;
  if (first === undefined) return { what: words.noFile, mend: words.noFileMend };
  const large = given.find(({ size }) => size > FILE_LIMIT);
  if (large !== undefined)
    return {
      what: words.tooLarge(large.name, Math.round(large.size / 1e6), Math.floor(FILE_LIMIT / 1e6)),
      mend: words.tooLargeMend,
    };
  const files = await Promise.all(given.map(async (file) => ({ path: file.name, text: await file.text() })));
  const strange = files.find(({ text }) => !isText(text));
  if (strange !== undefined) return { what: words.noText(strange.path), mend: words.noTextMend };
  const main = files.find(({ text }) => /^format:/m.test(text)) ?? files[0];
  if (main === undefined) return { what: words.noFile, mend: words.noFileMend };
  const stem = main.path.replace(/(\.vehicle)?\.ya?ml$/i, "") || "vehicle";
  const taken = new Set((await mine()).map(({ id }) => id));
  let id = stem;
  for (let n = 2; taken.has(id); n += 1) id = `${stem}-${n}`;
  await keep(
    { from: "mine", id },
    { files: [main, ...files.filter((one) => one !== main)], madeFrom: 0, at: Date.now() },
  );
  return { id };
};
