// The door of questions: long computations as jobs, in this process's threads or in workers that share a database.

export { wantedOf } from "./body.ts";
export { openQuestions } from "./open.ts";
export type { Model, Questions } from "./questions.ts";
export { openReplanning } from "./replanner.ts";
export { questionRoutes } from "./routes.ts";
