// The door of questions: long computations as jobs, in this process's threads or in workers that share a database.

export { LocalQuestions, type Workshop } from "./local.ts";
export type { Model, Questions } from "./questions.ts";
