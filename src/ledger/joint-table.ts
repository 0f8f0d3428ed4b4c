// Owns the table of a joint: its states, what moves it, and what each move makes of each state.

import type { RuleId } from "./rules.ts";

/** In their order from made to loose and back to made. Loose is released and verified; proved is refitted and verified. */
export const JOINT_STATES = [
  "tied",
  "loosened",
  "released",
  "loose",
  "in place",
  "snug",
  "torqued",
  "locked",
  "marked",
  "refitted",
  "proved",
] as const;
export type JointState = (typeof JOINT_STATES)[number];

/** What moves a joint; "found loose" and "found made" are what a verification says. */
export const JOINT_MOVES = [
  "loosened",
  "released",
  "found loose",
  "found made",
  "in place",
  "snug",
  "torqued",
  "locked",
  "marked",
  "refitted",
] as const;
export type JointMove = (typeof JOINT_MOVES)[number];

/** The state after a move, or the rule that it breaks: then the joint stays as it stood. */
type Cell = JointState | RuleId;

/** Total: every state and every move. What is taken apart again on the way back is simply released again. */
export const JOINT_TABLE: Readonly<Record<JointState, Readonly<Record<JointMove, Cell>>>> = {
  tied: {
    loosened: "loosened",
    released: "released",
    "found loose": "J1",
    "found made": "tied",
    "in place": "J2",
    snug: "J2",
    torqued: "J2",
    locked: "J2",
    marked: "J2",
    refitted: "J2",
  },
  loosened: {
    loosened: "J3",
    released: "released",
    "found loose": "J1",
    "found made": "tied",
    "in place": "J2",
    snug: "snug",
    torqued: "torqued",
    locked: "J4",
    marked: "J4",
    refitted: "refitted",
  },
  released: {
    loosened: "J5",
    released: "J3",
    "found loose": "loose",
    "found made": "tied",
    "in place": "in place",
    snug: "snug",
    torqued: "torqued",
    locked: "J4",
    marked: "J4",
    refitted: "refitted",
  },
  loose: {
    loosened: "J5",
    released: "J3",
    "found loose": "loose",
    "found made": "tied",
    "in place": "in place",
    snug: "snug",
    torqued: "torqued",
    locked: "J4",
    marked: "J4",
    refitted: "refitted",
  },
  "in place": {
    loosened: "J5",
    released: "released",
    "found loose": "J1",
    "found made": "J7",
    "in place": "J3",
    snug: "snug",
    torqued: "torqued",
    locked: "locked",
    marked: "J4",
    refitted: "refitted",
  },
  snug: {
    loosened: "loosened",
    released: "released",
    "found loose": "J1",
    "found made": "J7",
    "in place": "J6",
    snug: "J3",
    torqued: "torqued",
    locked: "locked",
    marked: "marked",
    refitted: "refitted",
  },
  torqued: {
    loosened: "loosened",
    released: "released",
    "found loose": "J1",
    "found made": "J7",
    "in place": "J6",
    snug: "J6",
    torqued: "J3",
    locked: "locked",
    marked: "marked",
    refitted: "refitted",
  },
  locked: {
    loosened: "loosened",
    released: "released",
    "found loose": "J1",
    "found made": "J7",
    "in place": "J6",
    snug: "J6",
    torqued: "J6",
    locked: "J3",
    marked: "marked",
    refitted: "refitted",
  },
  marked: {
    loosened: "loosened",
    released: "released",
    "found loose": "J1",
    "found made": "J7",
    "in place": "J6",
    snug: "J6",
    torqued: "J6",
    locked: "marked",
    marked: "J3",
    refitted: "refitted",
  },
  refitted: {
    loosened: "loosened",
    released: "released",
    "found loose": "released",
    "found made": "proved",
    "in place": "J6",
    snug: "J6",
    torqued: "J6",
    locked: "refitted",
    marked: "refitted",
    refitted: "J3",
  },
  proved: {
    loosened: "loosened",
    released: "released",
    "found loose": "released",
    "found made": "proved",
    "in place": "J6",
    snug: "J6",
    torqued: "J6",
    locked: "J6",
    marked: "J6",
    refitted: "J3",
  },
};

/** Whether a cell is the rule that is broken. */
export const isRule = (cell: Cell): cell is RuleId => /^[A-Z]\d+$/.test(cell);

/** States in which nothing of it is made. */
export const OPEN: ReadonlySet<JointState> = new Set(["loosened", "released", "loose"]);
