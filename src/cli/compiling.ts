// Owns when the engine below begins to compile for speed what it runs.

import { setFlagsFromString } from "node:v8";

/**
 * Node 20 compiles a function after so few calls that most of a command's time goes into code compiled too early, thrown away and compiled again: a plan of a hundred connections
 * takes a sixth longer by it, and a third more processor time (`docs/release.md`, "Figures"). Later versions know no such flag and need none.
 */
export function compileLater(): void {
  if (process.versions.node.startsWith("20.")) setFlagsFromString("--interrupt-budget=1000000");
}
