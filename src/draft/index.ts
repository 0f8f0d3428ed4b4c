// The door of draft: from a narration, captions or a table to a vehicle file with its questions and remarks.

export { type Captions, type Cue, readCaptions } from "./captions.ts";
export { type Draft, draftVehicle, type Text, type Wishes } from "./draft.ts";
export type { Refusal } from "./intake.ts";
export type { Source, Tie, Told } from "./item.ts";
export { answerGap, type Question, questionsOf } from "./question.ts";
export type { Remark, RemarkRule } from "./remark.ts";
export { COLUMNS, type Column } from "./table.ts";
export { sayPlace } from "./write.ts";
