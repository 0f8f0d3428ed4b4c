// Owns what the editor offers while somebody types, and what it tells about the word under the pointer: keys and values of the file's schema, ids of the file.

import type { Extension } from "@codemirror/state";
import type { Vehicle } from "../../vehicle/index.ts";
import type { Files } from "../engine/asked.ts";
import type { Words } from "../words/words.ts";

export interface Aids {
  readonly vehicle: () => Vehicle | undefined;
  readonly files: () => Files;
}

export const completing = (_file: string, _aids: Aids, _words: () => Words["vehicle"]): Extension => [];
