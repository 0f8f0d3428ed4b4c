// Owns what a draft is: connections, parts, tasks, positions as they were told, each with the words it comes from, and the remarks.

import type { Kind } from "../vehicle/index.ts";

/** The words that something comes from. */
export interface Source {
  readonly file: string;
  readonly line: number;
  /** Number of the caption, and its second. */
  readonly cue?: number;
  readonly time?: number;
  readonly words: string;
}

export type Verb = "disconnect" | "loosen" | "remove" | "free";

export interface Tie {
  id: string;
  label: string;
  kind: Kind;
  /** How many of it, or of its hardware; absent: it was not said. */
  count?: number;
  /** What it is fastened with, where that was said besides its name: hose clip. */
  hardware?: string;
  /** Id of the position; absent: none was said yet. */
  at?: string;
  /** Where it is on the machine, as said: "at the back of the gearbox". */
  place?: string;
  verb?: Verb;
  /** Said to be undone; false of what was only mentioned. */
  undone: boolean;
  /** What it joins, as said: names of parts. */
  joins: string[];
  torque?: string;
  /** How long its release takes, where that was said: "6 min". */
  time?: string;
  /** 0 to 1. */
  sure: number;
  /** What was taken for granted. */
  assumed: string[];
  sources: Source[];
}

export interface Off {
  id: string;
  label: string;
  /** Ids of the connections that hold it. */
  by: string[];
  removed: boolean;
  cover: boolean;
  mass?: string;
  sources: Source[];
}

export interface TaskTold {
  id: string;
  /** What it does: drain, raise, support, sling, lift, vent, chock, tilt … */
  does: string;
  label: string;
  fluid?: string;
  amount?: string;
  at?: string;
  /** How many connections had been told when it was. */
  after: number;
  sources: Source[];
}

export interface PositionTold {
  readonly id: string;
  readonly label: string;
  /** The closing remarks made of it. */
  readonly closed: Source[];
}

/** A closing remark: of which position, after how many connections, the number it names. */
export interface Closing {
  readonly at?: string;
  after: number;
  readonly claimed?: number;
  readonly final: boolean;
  readonly source: Source;
}

/** Said to be on both sides, before anything of it was undone. */
export interface BothSides {
  readonly tie: Tie;
  readonly source: Source;
}

/** Two names for one thing. */
export interface TwoNames {
  readonly tie: Tie;
  readonly other: string;
  readonly source: Source;
}

/** What was heard, before anything is made of it. */
export interface Told {
  readonly ties: Tie[];
  readonly parts: Off[];
  readonly tasks: TaskTold[];
  readonly positions: PositionTold[];
  readonly closings: Closing[];
  readonly bothSides: BothSides[];
  readonly twoNames: TwoNames[];
  /** The assembly that comes out, as it was called. */
  assembly?: string;
}
