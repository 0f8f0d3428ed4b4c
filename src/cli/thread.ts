// Owns the computing thread of what must come off: it answers one question and ends. The other end is background.ts.

import { solveRelease } from "../plan/index.ts";
import { answerAsked } from "./overseer.ts";

export type { ReleaseAnswered as Answer, ReleaseAsked as Asked } from "../plan/index.ts";

await answerAsked(solveRelease);
