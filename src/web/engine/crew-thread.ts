// Owns the thread that answers who does what when.

import { answerCrewOf, answerCurveOf } from "./crews.ts";
import { answerWith } from "./thread.ts";

answerWith({ crew: answerCrewOf, curve: answerCurveOf });
