// The door of draft: from a narration, captions or a table to a vehicle file with its questions and remarks.

export type { Added } from "./add.ts";
export { answerQuestion } from "./answer.ts";
export { beginDraft } from "./begin.ts";
export { type Captions, type Cue, readCaptions } from "./captions.ts";
export { type Draft, draftVehicle, type Text, type Wishes } from "./draft.ts";
export { type Edit, type Edited, edit, type Noted, notesOf } from "./edit.ts";
export { extendDraft } from "./extend.ts";
export { beginHistory, canRedo, canUndo, type History, present, record, redo, undo } from "./history.ts";
export type { Refusal } from "./intake.ts";
export type { Source, Tie, Told } from "./item.ts";
export type { Language } from "./language.ts";
export { readLanguage } from "./language-file.ts";
export { LANGUAGES, languageNamed } from "./languages.ts";
export { type Decode, lettersOf, type OddLetters } from "./letters.ts";
export type { At } from "./lookup.ts";
export type { Said } from "./outline.ts";
export { type Asks, type Question, questionsIn } from "./question.ts";
export {
  type AtStake,
  askedOf,
  type Ranked,
  ranked,
  sayQuestion,
  sayStake,
  stakesFor,
  type Unchecked,
} from "./rank.ts";
export type { Remark, RemarkRule } from "./remark.ts";
export { type Heard, remarksNow } from "./rethink.ts";
export { type RowFault, sheetOf, type TakenIn, takeInSheet } from "./spreadsheet.ts";
export { type AddedTask, DOES, type Does } from "./task.ts";
export { UNITS } from "./typed-figure.ts";
export { COLUMNS, type Column } from "./words.ts";
export { sayPlace, TASK_MINUTES } from "./write.ts";
