// Owns which language a pack is said in.

import { de } from "./de/index.ts";
import { en } from "./en/index.ts";
import type { Words } from "./said.ts";
import type { Lang } from "./sheet.ts";

export const wordsOf = (lang: Lang): Words => (lang === "de" ? de : en);
