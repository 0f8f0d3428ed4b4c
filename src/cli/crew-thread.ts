// Owns the computing thread of the crew: what comes off, who does what when, and the curve. The other end is background.ts.

import { solveCrew } from "../plan/index.ts";
import { answerAsked } from "./overseer.ts";

export type { CrewAnswered, CrewAsked } from "../plan/index.ts";

await answerAsked(solveCrew);
