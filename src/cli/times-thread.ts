// Owns the computing thread of what to change first and of the ways to mend. The other end is background.ts.

import { solveTimes } from "../plan/index.ts";
import { answerAsked } from "./overseer.ts";

export type { TimesAnswered, TimesAsked } from "../plan/index.ts";

await answerAsked(solveTimes);
