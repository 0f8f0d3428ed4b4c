// Owns the thread that answers the model and what comes off.

import { ANSWERS } from "./answers.ts";
import { stakes } from "./stakes-answer.ts";
import { answerWith } from "./thread.ts";

answerWith({ ...ANSWERS, stakes });
