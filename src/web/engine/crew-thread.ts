// Owns the thread that answers who does what when, and of a run under way who does what next.

import { answerCrewOf, answerCurveOf } from "./crews.ts";
import { answerRestOf } from "./rest.ts";
import { answerWith } from "./thread.ts";

answerWith({ crew: answerCrewOf, curve: answerCurveOf, rest: answerRestOf });
