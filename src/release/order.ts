// Owns the order: whether the chosen steps can be made one after another, and with how few changes of state. Where they
// cannot, it says what is stuck, for cuts.ts to put into clauses.

import { Load } from "./carrying.ts";
import type { Choice } from "./choice.ts";
import { type Compiled, doneAtom, type Formula, separationAtom } from "./compile.ts";
import { type Demands, demandsOf, Progress } from "./progress.ts";
import { type Event, Sequencer } from "./sequencer.ts";
import { type Rising, risingOf, type Setting, type Unheld, unheldBody } from "./unheld.ts";
import type { Wiring } from "./wiring.ts";

export type Sequenced =
  | { readonly kind: "order"; readonly events: readonly Event[] }
  /** The sides of a separation, still tied through parts without a label. */
  | { readonly kind: "tied"; readonly chains: Choice["tied"] }
  /** Atoms of the plan that only justify one another. */
  | { readonly kind: "unfounded"; readonly atoms: readonly number[] }
  /** Bodies that nothing holds at the end. */
  | {
      readonly kind: "fallen";
      readonly load: Load;
      readonly parts: readonly number[];
      readonly rising: readonly Rising[];
    }
  /** Bodies that nothing can hold in time, whichever of their ties goes last. */
  | { readonly kind: "unheld"; readonly bodies: readonly Unheld[] }
  /** A part that was to go up is not tied to what goes up. */
  | { readonly kind: "left"; readonly context: number; readonly part: number; readonly group: readonly number[] }
  /** No order was found; `complete`: there is none. */
  | { readonly kind: "stuck"; readonly complete: boolean };

const outSteps = (c: Compiled, choice: Choice): number[] => {
  const steps: number[] = [];
  choice.steps.forEach((chosen, s) => {
    if (chosen === 1 && (s < c.wayCount || c.problem.tasks[s - c.wayCount]?.back !== true)) steps.push(s);
  });
  return steps;
};

/** The atoms of a choice that cannot be founded by needs alone, carrying and states left aside. */
function unfoundedAtoms(c: Compiled, w: Wiring, choice: Choice, demands: Demands, steps: readonly number[]): number[] {
  const run = new Progress(c, w, choice, demands);
  for (let s = run.ready.pop(); s !== undefined; s = run.ready.pop()) run.make(s);
  const atoms = new Set<number>();
  for (const s of steps) {
    if (run.made[s] === 1) continue;
    if (s >= c.wayCount) atoms.add(doneAtom(c, s - c.wayCount));
    else if (run.released[c.connectionOf[s] as number] === 0) atoms.add(c.connectionOf[s] as number);
  }
  c.contexts.forEach((context, x) => {
    if ("separation" in context && choice.active[x] === true && run.passed[x] === 0)
      atoms.add(separationAtom(c, context.separation));
  });
  return [...atoms];
}

/** The weights at the end, with every support of the plan in force. */
function lastLoad(c: Compiled, steps: readonly number[], rising: readonly Rising[]): { load: Load; touched: number[] } {
  const load = new Load(c);
  const touched = new Set<number>();
  for (const s of steps) {
    if (s < c.wayCount) {
      const tie = c.connectionOf[s] as number;
      load.released[tie] = 1;
      for (const p of c.joins[tie] as readonly number[]) touched.add(p);
      continue;
    }
    const task = s - c.wayCount;
    for (const p of c.supports[task] as readonly number[]) load.supported[p] = (load.supported[p] as number) + 1;
    const hang = c.hangs.get(task);
    if (hang !== undefined) load.strap(hang.part, hang.to);
  }
  for (const { parts } of rising) for (const p of parts) load.up[p] = 1;
  for (let p = 0; p < c.partCount; p++) if (c.uncarried[p] === 1) load.up[p] = 1;
  return { load, touched: [...touched] };
}

/** Times an order is tried again with another tie put last. */
const MOST_TRIES = 12;

/** Orders the chosen steps. `tick` is called again and again, and may throw to end it. */
export function sequence(c: Compiled, w: Wiring, choice: Choice, tick?: () => void): Sequenced {
  if (choice.tied.length > 0) return { kind: "tied", chains: choice.tied };
  const demands = demandsOf(c, w, choice);
  const steps = outSteps(c, choice);
  const atoms = unfoundedAtoms(c, w, choice, demands, steps);
  if (atoms.length > 0) return { kind: "unfounded", atoms };
  const rising = risingOf(c, choice);
  const last = lastLoad(c, steps, rising);
  const parts = last.load.fallen(last.touched);
  if (parts.length > 0) return { kind: "fallen", load: last.load, parts, rising };

  // A part that must go up tied is cut from what carries it after the lift, where that can be.
  const kept = new Map<number, Formula[]>();
  const byAny = c.take.some((p) => c.uncarried[p] === 1);
  if (c.take.length > 0) {
    c.contexts.forEach((context, x) => {
      if (!("lift" in context) || choice.active[x] !== true) return;
      const side = choice.side[x] as Uint8Array;
      for (const s of steps) {
        if (s >= c.wayCount) continue;
        const tie = c.connectionOf[s] as number;
        if (!byAny && c.carries[tie] === 0) continue;
        if ((c.joins[tie] as readonly number[]).every((p) => side[p] === 1)) kept.set(tie, [doneAtom(c, context.lift)]);
      }
    });
  }
  const setting: Setting = { c, w, choice, demands, rising };
  const hints = new Map(kept);
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const sequencer = new Sequencer(c, w, choice, demands, steps, hints, tick);
    const found = sequencer.solve(false);
    if ("events" in found) {
      const left = leftBehind(c, choice, found.groups);
      if (left === undefined) return { kind: "order", events: found.events };
      return kept.size === 0 || hints.size > 0 ? left : { kind: "stuck", complete: false };
    }
    if (kept.size > 0 && tries === 0) {
      hints.clear();
      continue;
    }
    const unheld: Unheld[] = [];
    let learnt = false;
    for (const { s, parts: falling, load } of found.blocked) {
      const body = unheldBody(setting, load, c.connectionOf[s] as number, falling);
      if (body === undefined) continue;
      if ("cases" in body) {
        unheld.push(body);
        continue;
      }
      const open = body.last.find((t) => !hints.has(t));
      if (open === undefined) continue;
      hints.set(open, [body.hold]);
      learnt = true;
    }
    if (unheld.length > 0) return { kind: "unheld", bodies: unheld };
    if (!learnt) break;
  }
  const careful = new Sequencer(c, w, choice, demands, steps, new Map(), tick).solve(true);
  if (!("events" in careful)) return { kind: "stuck", complete: careful.complete };
  const left = leftBehind(c, choice, careful.groups);
  if (left === undefined) return { kind: "order", events: careful.events };
  return { kind: "stuck", complete: false };
}

/** The order of a choice with the least labour of states; undefined: not known. */
export function bestOrder(c: Compiled, w: Wiring, choice: Choice, tick?: () => void): readonly Event[] | undefined {
  const found = new Sequencer(c, w, choice, demandsOf(c, w, choice), outSteps(c, choice), new Map(), tick).solve(true);
  return "events" in found && leftBehind(c, choice, found.groups) === undefined ? found.events : undefined;
}

/** A part of `take` that no lift took, as the lift whose sides promised it. */
function leftBehind(
  c: Compiled,
  choice: Choice,
  groups: ReadonlyMap<number, readonly number[]>,
): Sequenced | undefined {
  for (const part of c.take) {
    if ([...groups.values()].some((group) => group.includes(part))) continue;
    for (const [context, group] of groups) {
      if ((choice.side[context] as Uint8Array)[part] === 1) return { kind: "left", context, part, group };
    }
  }
  return undefined;
}
