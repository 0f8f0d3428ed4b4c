// Owns the words of the sheet of order, in German.

import type { Words } from "../words.ts";

export const order: Words["order"] = {};
