// Owns the thread that makes a pack: it answers one call of `print` and ends. The other end is print.ts.

import { answerAsked } from "./overseer.ts";
import { makePack } from "./pack-making.ts";

await answerAsked(makePack);
