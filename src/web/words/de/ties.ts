// Owns the words of the sheet of ties, in German.

import type { Words } from "../words.ts";

export const ties: Words["ties"] = {};
