// Owns the thread that listens to narrations: the language and its words are loaded here alone.

import { draftOf, remarksOf } from "./draft-answer.ts";
import { answerWith } from "./thread.ts";

answerWith({ draft: draftOf, remarks: remarksOf });
