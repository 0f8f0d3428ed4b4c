// Owns the thread that answers how it hangs.

import { answerLift, answerTrial } from "./lifts.ts";
import { answerWith } from "./thread.ts";

answerWith({ lift: answerLift, trial: answerTrial });
