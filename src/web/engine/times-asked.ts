// Owns what the engine may be asked about times, and what it says: the finish, what to change first, the ways to mend, what runs taught.

import type { Schedule } from "../../crew/index.ts";
import type {
  Finish,
  Improved,
  ImproveStage,
  Learnt,
  Order,
  StandardFiguresOf,
  Ways,
  WayToMend,
} from "../../plan/index.ts";
import type { Lognormal, RunFault } from "../../times/index.ts";
import type { Fault } from "../../vehicle/index.ts";
import type { CrewAsked } from "./crews.ts";

/** Times that runs taught, by way, `back:` before it for its refit. */
export type Taught = Readonly<Record<string, Lognormal>>;

/** A text that was chosen or dropped. */
export interface GivenFile {
  readonly path: string;
  readonly text: string;
}

export interface FinishAsked {
  readonly order: Order;
  readonly crew?: CrewAsked["crew"];
  /** Who does what when, as the engine has it for this order and crew, and how long that is. */
  readonly schedule: Schedule;
  readonly elapsed: number;
  readonly taught: Taught;
}

export interface FinishSaid {
  readonly finish: Finish;
  /** Minutes that 0, 1, 2 … 1000 thousandths of the runs do not exceed. */
  readonly quantiles: readonly number[];
  /** What is worth knowing is among it. */
  readonly isLast: boolean;
  readonly ms: number;
}

export interface WhenAsked {
  readonly order: Order;
  /** Of search for a schedule; with none it is the first that is found. */
  readonly seconds: number;
  /** Of the simulation. */
  readonly runs: number;
}

export interface WhenSaid {
  /** By which it is done half the time, and nine times in ten. */
  readonly minutes?: { readonly half: number; readonly most: number };
}

export interface ImproveAsked {
  /** Jobs that come, and how often. */
  readonly jobs: readonly { readonly id: string; readonly weight: number }[];
  /** Somebody said how often. */
  readonly weighed: boolean;
  readonly crew?: CrewAsked["crew"];
  readonly changes?: GivenFile;
  /** Of an hour of labour; absent: the file's. */
  readonly rate?: number;
  readonly taught: Taught;
}

export interface ImproveSaid {
  /** Where it is; in an answer that is final it was stopped there. */
  readonly stage?: ImproveStage;
  readonly improved?: Improved;
  /** By which the answer is reckoned. */
  readonly rate?: number;
  /** Of the file of changes. */
  readonly faults: readonly Fault[];
  readonly ms: number;
}

export interface WaysAsked {
  readonly ways: readonly {
    readonly way: WayToMend;
    readonly job: string;
    /** Minutes until the parts are there, and of the repair itself; with the usual spread. */
    readonly lead?: number;
    readonly mend?: number;
  }[];
  readonly crew?: CrewAsked["crew"];
  readonly taught: Taught;
}

export interface WaysSaid {
  /** Which way is planned, of how many; absent when it is done. */
  readonly at?: number;
  readonly of?: number;
  readonly compared?: Ways;
  readonly ms: number;
}

export interface FiguresAsked {
  readonly jobs: ImproveAsked["jobs"];
  readonly weighed: boolean;
  readonly crew?: CrewAsked["crew"];
  readonly taught: Taught;
}

export interface FiguresSaid {
  /** Which job is planned, of how many; absent when it is done. */
  readonly at?: number;
  readonly of?: number;
  readonly figures?: StandardFiguresOf;
  readonly ms: number;
}

export interface LearnAsked {
  readonly runs: readonly GivenFile[];
}

export interface LearnSaid {
  /** Lines that nothing was learnt from. */
  readonly faults: readonly RunFault[];
  /** Absent where no line has a time. */
  readonly learnt?: Learnt;
  readonly ms: number;
}
