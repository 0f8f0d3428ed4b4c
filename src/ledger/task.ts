// Owns how a task stands: not done, done, failed; and the fold of its own entries.

import type { Entry } from "./entry.ts";
import type { Doing } from "./joint.ts";
import { type Contradiction, contradiction, type RuleId } from "./rules.ts";

export const TASK_STATES = ["open", "done", "failed"] as const;
export type TaskState = (typeof TASK_STATES)[number];

export const TASK_KINDS = ["done", "undone", "failed", "drained", "filled"] as const;
export type TaskMove = (typeof TASK_KINDS)[number];

/** Total. Undone is what a state of the vehicle is, and what was drained is when it has been filled. */
export const TASK_TABLE: Readonly<Record<TaskState, Readonly<Record<TaskMove, TaskState | RuleId>>>> = {
  open: { done: "done", drained: "done", undone: "T1", filled: "T1", failed: "failed" },
  done: { done: "T2", drained: "T2", undone: "open", filled: "open", failed: "failed" },
  failed: { done: "done", drained: "done", undone: "T1", filled: "T1", failed: "failed" },
};

export interface TaskStanding {
  readonly id: string;
  readonly state: TaskState;
  readonly last?: Doing;
  /** How often it was done, and undone. */
  readonly done: number;
  readonly undone: number;
  /** By fluid, as measured: "6.2 L". */
  readonly drained: Readonly<Record<string, string>>;
  readonly filled: Readonly<Record<string, string>>;
  readonly reading?: string;
  /** The entry by which it was first done. */
  readonly firstDone?: string;
  readonly contradictions: readonly Contradiction[];
}

const isRule = (cell: TaskState | RuleId): cell is RuleId => /^[A-Z]\d+$/.test(cell);

/** How a task stands after these entries about it, in their order. */
export const foldTask = (id: string, entries: readonly Entry[]): TaskStanding => {
  const contradictions: Contradiction[] = [];
  let standing: TaskStanding = { id, state: "open", done: 0, undone: 0, drained: {}, filled: {}, contradictions };
  for (const entry of entries) {
    const { body } = entry;
    if (!isTaskMove(body.kind)) continue;
    const cell = TASK_TABLE[standing.state][body.kind];
    if (isRule(cell)) {
      const before = standing.last === undefined ? [] : [standing.last.entry];
      contradictions.push(contradiction(cell, id, ...before, entry.id));
      continue;
    }
    standing = { ...standing, state: cell, last: { entry: entry.id, author: entry.author, at: entry.at } };
    if (body.kind === "done" || body.kind === "drained")
      standing = { ...standing, done: standing.done + 1, firstDone: standing.firstDone ?? entry.id };
    if (body.kind === "undone" || body.kind === "filled") standing = { ...standing, undone: standing.undone + 1 };
    if (body.kind === "drained") standing = { ...standing, drained: body.amounts };
    if (body.kind === "filled") standing = { ...standing, filled: body.amounts };
    if ((body.kind === "done" || body.kind === "failed") && body.reading !== undefined)
      standing = { ...standing, reading: body.reading };
  }
  return standing;
};

const isTaskMove = (kind: string): kind is TaskMove => (TASK_KINDS as readonly string[]).includes(kind);
