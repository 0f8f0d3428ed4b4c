// Owns the exit codes: what a script that calls unmoor may rely on.

export const EXIT = {
  /** Clean, free, or an answer found. */
  found: 0,
  /** An answer of the other kind: faults in the file, no plan can hold, still tied, a gate shut, an entry not taken. */
  not: 1,
  /** A wrong call: the file cannot be read, a command, flag or name is not known. */
  call: 2,
  /** Stopped by its limit or by Ctrl-C before there was any answer. */
  stopped: 3,
  /** A fault of unmoor itself, not of the file or the call. */
  broken: 4,
} as const;

export type Exit = (typeof EXIT)[keyof typeof EXIT];

export const EXIT_TEXT = `Exit codes: 0 clean, free, open or found; 1 faults in the file, infeasible, still tied, shut or refused;
2 wrong call; 3 stopped at a limit with no answer; 4 a fault of unmoor itself.`;
