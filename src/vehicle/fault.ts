// Owns faults and warnings as data, and the one sentence that is made of each.

/** What makes a file one that cannot be used. */
export const FAULTS = [
  "no-file",
  "file-too-large",
  "too-many-files",
  "too-many-faults",
  "include-outside",
  "include-cycle",
  "omits-nothing",
  "syntax",
  "tag",
  "alias",
  "alias-bomb",
  "empty",
  "wrong-form",
  "unknown-key",
  "missing-key",
  "key-twice",
  "not-a-flag",
  "not-a-count",
  "unknown-word",
  "quantity-no-number",
  "quantity-no-unit",
  "quantity-unknown-unit",
  "quantity-wrong-dimension",
  "quantity-tolerance",
  "one-value",
  "below-nothing",
  "bad-id",
  "id-twice",
  "unknown-id",
  "wrong-thing",
  "bad-need",
  "no-fixed-part",
  "joins-too-few",
  "joins-twice",
  "rests-not-carrying",
  "rests-nowhere",
  "hung-to-itself",
  "no-room",
  "without-no-undo",
  "back-task-needed",
  "then-not-back",
  "undo-and-back",
  "back-task-does",
  "after-on-way-out",
  "no-hoist",
  "lifts-fixed",
  "beyond-reach",
  "hoist-empty",
  "hoist-not-rising",
  "leg-ends",
  "pin-elsewhere",
  "beam-unhung",
  "bad-layout",
  "not-a-friction",
  "bad-amount",
  "bad-limits",
  "two-aims",
  "turn-alone",
  "bad-stages",
  "bad-hole",
  "once-again",
  "half-pressure",
] as const;

/** What is legal but dubious. */
export const WARNINGS = [
  "heavy-unsupported",
  "heavy-unheld",
  "hang-too-late",
  "no-mass",
  "no-drain",
  "mixed-drain",
  "no-plug",
  "no-torque",
  "torque-for-which",
  "fine-torque",
  "layout-count",
  "no-isolation",
  "position-unreachable",
  "need-never-holds",
  "task-unneeded",
] as const;

export type FaultRule = (typeof FAULTS)[number];
export type WarningRule = (typeof WARNINGS)[number];
export type Rule = FaultRule | WarningRule;

/** Where something stands, lines and columns counted from 1, columns in characters. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/**
 * What is wrong (a fault: the file cannot be used) or dubious (a warning: it can).
 *
 * `rule` is the name under which `docs/vehicle-file.md` explains it, `what` and `mend` are sentences, `values` the
 * ids, texts and numbers that they are made of. `others` are further lines that take part: the other of two equal
 * ids, the lines of a conflict.
 */
export interface Fault {
  readonly rule: Rule;
  readonly at: Place;
  readonly what: string;
  readonly mend: string;
  readonly values: Readonly<Record<string, string | number | readonly string[]>>;
  readonly others: readonly Place[];
}

/** `plover.vehicle.yaml:41:18`, as terminals and editors open it. */
export const writePlace = (at: Place): string => `${at.file}:${at.line}:${at.column}`;

/** The sentence of a fault for terminal, screen and log: place and what on the first line, the mend beneath. */
export function sentence(fault: Fault): string {
  const head = `${writePlace(fault.at)}  `;
  return `${head}${fault.what}\n${" ".repeat(head.length)}${fault.mend}`;
}

/** By file (the main one first), line and column: the order in which a person mends them. */
export function compareFaults(main: string): (a: Fault, b: Fault) => number {
  const file = (fault: Fault) => (fault.at.file === main ? "" : fault.at.file);
  return (a, b) =>
    (file(a) < file(b) ? -1 : file(a) > file(b) ? 1 : 0) ||
    a.at.line - b.at.line ||
    a.at.column - b.at.column ||
    (a.rule < b.rule ? -1 : a.rule > b.rule ? 1 : 0);
}
