// Owns why a body cannot be held in time: whichever of its carrying ties goes last, what would hold it comes about only afterwards.

import type { Load } from "./carrying.ts";
import type { Choice } from "./choice.ts";
import { type Compiled, doneAtom, type Formula, holdersOf, sideAtom } from "./compile.ts";
import { type Demands, Progress, sideTrue } from "./progress.ts";
import { holds, type Wiring } from "./wiring.ts";

/** A body whose carrying ties are all to be released, and that nothing holds in time whichever of them goes last. */
export interface Unheld {
  /** Ties that are not all released. */
  readonly boundary: readonly number[];
  /** Parts that would have to go up with a lift for it to carry a body up: each by context. */
  readonly around: readonly { readonly context: number; readonly part: number }[];
  readonly cases: readonly Case[];
}

/** One tie goes last of its body: what would hold the body does not come about without that tie and those that go after it. */
interface Case {
  /** The tie, and those that are still made when it goes. */
  readonly made: readonly number[];
  readonly hold: Formula;
  /** Atoms that do not come true while these ties are made, as far as the hold asks for them. */
  readonly late: readonly number[];
}

/** What must hold before a body's last tie goes, and the ties of which no reason says that they cannot be that last one. */
export interface Waiting {
  readonly last: readonly number[];
  readonly hold: Formula;
}

/** What a lift can carry up by what a choice leaves tied until then. */
export interface Rising {
  readonly context: number;
  readonly parts: ReadonlySet<number>;
}

/** Parts next to what a lift carries up that stay, and by which it could come to carry a body: one of them would have to go up. */
export function gatesTo(c: Compiled, choice: Choice, rise: Rising, body: readonly number[]): number[] {
  const may = c.mayRise[rise.context] as Uint8Array;
  const side = choice.side[rise.context] as Uint8Array;
  const seen = new Set(body);
  const gates: number[] = [];
  for (const p of seen) {
    for (const t of c.tiesOf[p] as readonly number[]) {
      if (c.released[t] === 1 || c.carries[t] === 0) continue;
      for (const q of c.joins[t] as readonly number[]) {
        if (rise.parts.has(q)) {
          if (side[p] === 0) gates.push(p);
        } else if (may[q] === 1) seen.add(q);
      }
    }
  }
  return gates;
}

export function risingOf(c: Compiled, choice: Choice): Rising[] {
  return c.contexts.flatMap((context, x) => {
    if (!("lift" in context) || choice.active[x] !== true) return [];
    const side = choice.side[x] as Uint8Array;
    const hook = c.lifts.get(context.lift)?.parts ?? [];
    const parts = new Set(hook);
    // A set iterates over what is added on the way.
    for (const p of parts) {
      for (const t of c.tiesOf[p] as readonly number[]) {
        if (c.released[t] === 1 || c.carries[t] === 0) continue;
        for (const q of c.joins[t] as readonly number[]) if (side[q] === 1) parts.add(q);
      }
    }
    return [{ context: x, parts }];
  });
}

/** How many ties in a row are taken to go after the one before. */
const DEEPEST = 4;

/** The choice whose bodies are asked about. */
export interface Setting {
  readonly c: Compiled;
  readonly w: Wiring;
  readonly choice: Choice;
  readonly demands: Demands;
  readonly rising: readonly Rising[];
}

/** The body that falls when a tie goes: why that is so whichever of its ties goes last, or which of them might; undefined where rests might bear it. */
export function unheldBody(
  at: Setting,
  load: Load,
  tie: number,
  falling: readonly number[],
): Unheld | Waiting | undefined {
  load.released[tie] = 1;
  const inquiry = new Inquiry(at, load, falling[0] as number);
  const answer = inquiry.refute([], undefined);
  load.released[tie] = 0;
  if (answer !== true) return answer;
  return { boundary: [...inquiry.boundary], around: inquiry.around, cases: inquiry.cases };
}

/** Goes through the ties of the body around a part: each goes last, or another goes after it, and the body is then the greater one that this other ties. */
class Inquiry {
  readonly boundary = new Set<number>();
  readonly around: { readonly context: number; readonly part: number }[] = [];
  readonly cases: Case[] = [];
  private readonly at: Setting;
  private readonly load: Load;
  private readonly part: number;

  constructor(at: Setting, load: Load, part: number) {
    this.at = at;
    this.load = load;
    this.part = part;
  }

  /**
   * True: nothing holds the body around the part in time when these ties are released after all of `before`. Else which ties may go last, or undefined where
   * nothing is said.
   */
  refute(kept: readonly number[], before: ReadonlySet<number> | undefined): true | Waiting | undefined {
    const { c } = this.at;
    const body = this.bodyWith(kept);
    if (body === undefined) return undefined;
    const { boundary, inner, rests } = this.tiesOf(body);
    // Of a tie that the greater body has beside those that go before the kept ones nobody knows when it goes.
    if (before !== undefined && boundary.some((t) => !before.has(t))) return undefined;
    if (this.load.couldRest(body, rests)) return undefined;
    for (const t of boundary) this.boundary.add(t);
    const by: Formula[] = holdersOf(c, body).map((t) => doneAtom(c, t));
    by.push(...inner.filter((t) => !kept.includes(t)));
    by.push(...this.liftsOf(body, boundary));
    const only = body[0] as number;
    if (body.length === 1 && (c.problem.parts[only]?.mass ?? 0) <= c.problem.handLimit) {
      by.push({
        any: false,
        of: (c.tiesOf[only] as readonly number[]).filter((t) => c.released[t] === 0 && !boundary.includes(t)),
      });
    }
    const hold: Formula = { any: true, of: by };
    const own = new Set(boundary);
    const last = boundary.filter((t) => {
      const made = [t, ...kept];
      const late = lateWithout(this.at, made, hold);
      if (late === undefined) return kept.length >= DEEPEST || this.refute(made, own) !== true;
      this.cases.push({ made, hold, late });
      return false;
    });
    if (last.length > 0) return { last, hold };
    return true;
  }

  /** The parts joined to this one when these ties are still made; undefined: something fixed, supported or up is among them. */
  private bodyWith(kept: readonly number[]): number[] | undefined {
    const { released } = this.load;
    for (const t of kept) released[t] = 0;
    const body = this.load.loose(this.part);
    for (const t of kept) released[t] = 1;
    return body;
  }

  /** The carrying ties of a body: those that join it to the rest, those within it, and the points of those that it could rest on. */
  private tiesOf(body: readonly number[]): {
    readonly boundary: readonly number[];
    readonly inner: readonly number[];
    readonly rests: readonly (readonly [number, number])[];
  } {
    const { c } = this.at;
    const inside = new Set(body);
    const boundary = new Set<number>();
    const inner = new Set<number>();
    const rests: [number, number][] = [];
    for (const p of body) {
      for (const t of c.tiesOf[p] as readonly number[]) {
        const connection = c.problem.connections[t];
        if (connection?.carrying !== true) continue;
        if (connection.rests && connection.at !== undefined) rests.push([connection.at[0], connection.at[1]]);
        if (c.released[t] === 1) continue;
        // A tie all of whose ends are in the body does not bind it to anything else.
        if ((c.joins[t] as readonly number[]).every((q) => inside.has(q))) inner.add(t);
        else boundary.add(t);
      }
    }
    return { boundary: [...boundary], inner: [...inner], rests };
  }

  /** Up with a lift by a tie of the boundary that is released only afterwards. */
  private liftsOf(body: readonly number[], boundary: readonly number[]): Formula[] {
    const { c, choice, rising } = this.at;
    const by: Formula[] = [];
    c.contexts.forEach((context, x) => {
      if (!("lift" in context)) return;
      const may = c.mayRise[x] as Uint8Array;
      const rise = rising.find((r) => r.context === x);
      if (rise !== undefined && !body.some((p) => rise.parts.has(p))) {
        this.around.push(...gatesTo(c, choice, rise, body).map((part) => ({ context: x, part })));
        return;
      }
      for (const t of boundary) {
        const ends = c.joins[t] as readonly number[];
        if (ends.every((p) => may[p] === 1)) {
          by.push({ any: false, of: [doneAtom(c, context.lift), ...ends.map((p) => sideAtom(c, x, p))] });
        }
      }
    });
    return by;
  }
}

/** Whether a formula comes true by needs alone while some ties stay made: undefined if so, else the atoms that fail and that it leads to. */
function lateWithout(
  { c, w, choice, demands }: Setting,
  made: readonly number[],
  hold: Formula,
): readonly number[] | undefined {
  const run = new Progress(c, w, choice, demands);
  for (let s = run.ready.pop(); s !== undefined; s = run.ready.pop()) {
    if (s < c.wayCount && made.includes(c.connectionOf[s] as number)) continue;
    run.make(s);
  }
  const truth = (a: number): boolean => {
    if (a < c.connectionCount) return run.released[a] === 1;
    const t = a - c.connectionCount;
    if (t < c.taskCount) return run.made[c.wayCount + t] === 1;
    const k = t - c.taskCount;
    if (k < c.separations.length) return run.passed[c.contexts.length - c.separations.length + k] === 1;
    return sideTrue(c, choice, a);
  };
  if (holds(hold, truth)) return undefined;
  const late = new Set<number>();
  const visit = (f: Formula): void => {
    if (typeof f !== "number") {
      for (const g of f.of) visit(g);
      return;
    }
    const task = f - c.connectionCount;
    if (late.has(f) || truth(f) || task >= c.taskCount + c.separations.length) return;
    // An atom that the choice does not bring about at all is a way out, not something late.
    const makers = task < 0 ? (c.waysOf[f] as readonly number[]) : task < c.taskCount ? [c.wayCount + task] : [];
    const x = c.contexts.findIndex((context) =>
      "lift" in context ? context.lift === task : c.taskCount + context.separation === task,
    );
    if (task < c.taskCount ? !makers.some((s) => choice.steps[s] === 1) : choice.active[x] !== true) return;
    late.add(f);
    if (made.includes(f)) return;
    for (const s of makers) if (choice.steps[s] === 1) visit((c.steps[s] as { needs: Formula }).needs);
    if (x >= 0) for (const t of choice.cut[x] as readonly number[]) visit(t);
    for (const s of demands.after.get(task) ?? [])
      visit(s < c.wayCount ? (c.connectionOf[s] as number) : doneAtom(c, s - c.wayCount));
  };
  visit(hold);
  for (const t of made) late.add(t);
  return [...late];
}
