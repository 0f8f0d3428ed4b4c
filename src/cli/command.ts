// Owns what a command is: its words for the help, what it takes, and where its work is.

import type { Call, Flag, Form } from "./call.ts";
import type { Exit } from "./exit.ts";
import type { Terminal } from "./terminal.ts";

/** The work of one command: what it says and how it ends. */
export type Run = (call: Call, terminal: Terminal) => Exit | Promise<Exit>;

export interface Command extends Form {
  /** One line for the list. */
  readonly summary: string;
  /** The rest of what a user should know. */
  readonly about: string;
  readonly example: string;
  /** Loaded only when called: starting up must cost nobody the solver. */
  readonly load: () => Promise<Run>;
  /** Flags besides, that are made from something too large to be loaded at every start. */
  readonly moreFlags?: () => Promise<readonly Flag[]>;
}
