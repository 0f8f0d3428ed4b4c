// Owns how often a toggle must change: the longest chain of chosen steps that want it on and off in turn.

import type { Choice } from "./choice.ts";
import { type Compiled, doneAtom, type Formula } from "./compile.ts";
import { demandsOf, Progress } from "./progress.ts";
import { given, type Wiring } from "./wiring.ts";

/** Toggle → least number of changes that its own order forces, and the step that forces the last one; `level` by step. */
export function levelsOf(
  c: Compiled,
  w: Wiring,
  choice: Choice,
  task: number,
): { readonly level: Int32Array; readonly top: number } {
  const demands = demandsOf(c, w, choice);
  const level = new Int32Array(c.steps.length).fill(-1);
  const run = new Progress(c, w, choice, demands);
  let phase = 0;
  let still = 0;
  let top = -1;
  let waiting: number[] = [];
  const wantsOn = (s: number): boolean =>
    given((c.steps[s] as { needs: Formula }).needs, (a) => (a === doneAtom(c, task) ? false : undefined)) === false;
  const own = c.wayCount + task;
  for (;;) {
    let moved = false;
    for (let s = run.ready.pop(); s !== undefined; s = run.ready.pop()) {
      if (run.made[s] === 1) continue;
      if (s === own) {
        // The first change is made by the caller's phase, its atom stays raised: who wants the state is held by `wantsOn`.
        if (phase > 0) run.make(s);
        else waiting.push(s);
        continue;
      }
      const off = (c.steps[s] as { without: readonly number[] }).without.includes(task);
      if ((off && phase % 2 === 1) || (phase % 2 === 0 && wantsOn(s))) {
        waiting.push(s);
        continue;
      }
      level[s] = phase;
      run.make(s);
      top = s;
      moved = true;
    }
    still = moved ? 0 : still + 1;
    if (waiting.length === 0 || still > 2) break;
    phase++;
    run.ready.push(...waiting);
    waiting = [];
  }
  level[own] = 0;
  return { level, top };
}
