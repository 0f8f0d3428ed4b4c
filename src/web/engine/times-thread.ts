// Owns the thread that answers when it is done and what to change first.

import { finishOf } from "./finish-answer.ts";
import { figuresOf, improveOf, waysOf } from "./improve-answer.ts";
import { learnOf } from "./learn-answer.ts";
import { answerWith } from "./thread.ts";
import { whenOf } from "./when-answer.ts";

answerWith({ finish: finishOf, improve: improveOf, ways: waysOf, figures: figuresOf, learn: learnOf, when: whenOf });
