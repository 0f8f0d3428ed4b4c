// Owns the question as weighted clauses (docs/release.md, "As clauses"), and the way back from an assignment to a choice of steps.

import { along } from "./along.ts";
import { type Compiled, carriersOf, doneAtom, type Formula, holdOf, sideAtom, upBy } from "./compile.ts";
import { type Literal, Network, yes } from "./network.ts";
import { ringsOf } from "./rings.ts";
import { spineOf } from "./spine.ts";
import { askersOf, given, raise, start, type Wiring, waitingFor } from "./wiring.ts";

/** A literal, or a truth known beforehand. */
export type Known = Literal | boolean;

export interface Encoding {
  readonly network: Network;
  /** Step → its variable; −1 where the step can never be made, or is no step of the way out and called for by nothing. */
  readonly stepVariable: Int32Array;
  /** Atom → whether it comes true in the plan. */
  readonly atom: (atom: number) => Known;
  /** A literal that implies the formula. */
  readonly literalOf: (f: Formula) => Known;
  /** At least one of them; those known to be false are left out. */
  readonly clause: (literals: readonly Known[]) => void;
  /** Toggle → variable "it changes state at least n times" for n ≥ 1, made when asked for. */
  readonly changes: (task: number, n: number) => Known;
  /** Toggle → how many changes an assignment pays for. */
  readonly paidChanges: (task: number, values: Uint8Array) => number;
  /** A literal for "this part goes up with this lift", of a part that must go up with some lift. */
  readonly taken: (context: number, part: number) => Known;
  /** Extra cost that a set of steps turned out to have. */
  readonly penalty: (labour: number) => Literal;
  /** Minutes from the network's cost units, and the number of connections released beside them. */
  readonly minutes: (cost: number) => number;
}

export interface Choice {
  /** Step → chosen. */
  readonly steps: Uint8Array;
  /** Context → in force (the lift is made, the separation is asked for). */
  readonly active: readonly boolean[];
  /** Context → part → on the rising side. */
  readonly side: readonly Uint8Array[];
  /** Context → connections across it that are to be released before it. */
  readonly cut: readonly (readonly number[])[];
}

export const not = (literal: Known): Known => (typeof literal === "boolean" ? !literal : literal ^ 1);

/** The greatest whole multiple of a minute in which every labour is a whole number; labours finer than 1/1000 are rounded. */
function unitOf(labours: readonly number[]): number {
  for (const perMinute of [1, 2, 4, 5, 10, 20, 60, 100]) {
    if (labours.every((x) => Math.abs(x * perMinute - Math.round(x * perMinute)) < 1e-9)) return perMinute;
  }
  return 1000;
}

/** Connections or steps between two ticks. */
const TICK = 256;

/** Steps that can be made at all (carrying and `without` left aside) when some step is barred. */
function reachable(c: Compiled, w: Wiring, barred: (step: number) => boolean): Uint8Array {
  const made = new Uint8Array(c.steps.length);
  const missing = w.missing.slice();
  const released = c.released.slice();
  const pending: number[] = [];
  const step = (s: number): void => {
    if (made[s] === 1 || barred(s)) return;
    if (s >= c.wayCount && c.problem.tasks[s - c.wayCount]?.back === true) return;
    made[s] = 1;
    pending.push(s);
  };
  for (let a = c.connectionCount + c.taskCount; a + 1 < w.from.length; a++) raise(w, missing, a, step);
  for (let i = 0; i < c.connectionCount; i++) if (released[i] === 1) raise(w, missing, i, step);
  start(w, missing, step);
  for (let s = pending.pop(); s !== undefined; s = pending.pop()) {
    if (s >= c.wayCount) raise(w, missing, doneAtom(c, s - c.wayCount), step);
    else {
      const connection = c.connectionOf[s] as number;
      if (released[connection] === 1) continue;
      released[connection] = 1;
      raise(w, missing, connection, step);
    }
  }
  return made;
}

/** `tick` is called every few milliseconds, and may throw to end it. */
export function encode(c: Compiled, wiring: Wiring, tick?: () => void): Encoding {
  const network = new Network();
  const { problem } = c;
  const made = reachable(c, wiring, () => false);
  const perMinute = unitOf(c.steps.map((s) => s.labour));
  // Labour first, then the number of connections: one unit of labour outweighs releasing everything.
  const weight = c.connectionCount + 1;
  const price = (labour: number): number => Math.round(labour * perMinute) * weight;

  const called = new Uint8Array(c.taskCount);
  const call = (tasks: readonly number[]): void => {
    for (const t of tasks) {
      if (called[t] === 1) continue;
      called[t] = 1;
      call((c.steps[c.wayCount + t] as { entails: readonly number[] }).entails);
    }
  };
  c.steps.forEach((s, i) => {
    if (made[i] === 1) call(s.entails);
  });
  problem.tasks.forEach((t, i) => {
    if (t.must && t.back) call([i]);
  });
  const stepVariable = new Int32Array(c.steps.length).fill(-1);
  c.steps.forEach((s, i) => {
    const isWay = i < c.wayCount;
    const isCalled = !isWay && called[i - c.wayCount] === 1 && problem.tasks[i - c.wayCount]?.back === true;
    if (made[i] === 0 && !isCalled) return;
    // A step that wants a state both on and off is none.
    if (s.without.some((t) => given(s.needs, (a) => (a === doneAtom(c, t) ? false : undefined)) === false)) return;
    if (isWay && c.released[c.connectionOf[i] as number] === 1) return;
    stepVariable[i] = network.variable(price(s.labour) + (isWay ? 1 : 0));
  });
  const stepLiteral = (s: number): Known => ((stepVariable[s] as number) < 0 ? false : yes(stepVariable[s] as number));

  const releasedLiteral: Known[] = [];
  for (let i = 0; i < c.connectionCount; i++) {
    const ways = (c.waysOf[i] as readonly number[]).map(stepLiteral).filter((x): x is number => typeof x === "number");
    const only = ways[0];
    if (c.released[i] === 1) releasedLiteral.push(true);
    else if (only === undefined) releasedLiteral.push(false);
    else if (ways.length === 1) releasedLiteral.push(only);
    else {
      const all = yes(network.variable());
      releasedLiteral.push(all);
      network.clause([all ^ 1, ...ways]);
      for (const w of ways) network.clause([w ^ 1, all]);
      // A connection is released once.
      ways.forEach((w, k) => {
        for (const other of ways.slice(0, k)) network.clause([w ^ 1, other ^ 1]);
      });
    }
  }

  // Sides: a lift's labels are true only when the lift is made, a separation's only when it is asked for.
  const labels: Known[][] = [];
  const separationLiteral: Literal[] = [];
  const clause = (literals: readonly Known[]): void => {
    const open: Literal[] = [];
    for (const x of literals) {
      if (x === true) return;
      if (x !== false) open.push(x);
    }
    network.clause(open);
  };
  const atom = (a: number): Known => {
    if (a < c.connectionCount) return releasedLiteral[a] as Known;
    const task = a - c.connectionCount;
    if (task < c.taskCount) return stepLiteral(c.wayCount + task);
    const separation = task - c.taskCount;
    if (separation < c.separations.length) return yes(separationLiteral[separation] as number);
    const side = separation - c.separations.length;
    return (labels[Math.floor(side / c.partCount)] as Known[])[side % c.partCount] as Known;
  };
  /**
   * Atom → a literal for "true before this lift". Only what can come to wait for the lift by some way, or for a strap that the lift may have to wait for the
   * other way round, has a second variable; all else is true before it whenever it is true at all.
   */
  const beforeLift = (task: number, early: Uint8Array, side: readonly Known[]): ((a: number) => Known) => {
    // A strap in force at the lift takes both its ends up or neither: where it may join what goes up to what stays, it is put on before or after.
    const crossing = [...c.hangs].flatMap(([t, hang]) => (side[hang.part] === side[hang.to] ? [] : [t]));
    const waits = waitingFor(
      c,
      wiring,
      [task, ...crossing].map((t) => doneAtom(c, t)),
    );
    for (const t of crossing) waits[c.wayCount + t] = 1;
    const known = new Map<number, Known>();
    const stepBefore = (s: number): Known => {
      if (early[s] === 0) return false;
      const own = stepLiteral(s);
      if (waits[s] === 0 || own === false) return own;
      const literal = yes(network.variable());
      network.clause([literal ^ 1, own as Literal]);
      const hang = c.hangs.get(s - c.wayCount);
      if (hang !== undefined) {
        const [a, b] = [side[hang.part] as Known, side[hang.to] as Known];
        clause([literal ^ 1, not(a), b]);
        clause([literal ^ 1, a, not(b)]);
      }
      pending.push({ literal, s });
      return literal;
    };
    const pending: { literal: Literal; s: number }[] = [];
    const before = (a: number): Known => {
      const t = a - c.connectionCount;
      if (t >= c.taskCount) return atom(a);
      const seen = known.get(a);
      if (seen !== undefined) return seen;
      let literal: Known;
      if (t >= 0) literal = stepBefore(c.wayCount + t);
      else if (c.released[a] === 1) literal = true;
      else {
        const ways = c.waysOf[a] as readonly number[];
        if (ways.every((w) => early[w] === 1 && waits[w] === 0)) literal = atom(a);
        else {
          const open = ways.map(stepBefore).filter((l): l is Literal => typeof l === "number");
          if (open.length < 2) literal = open[0] ?? false;
          else {
            literal = yes(network.variable());
            network.clause([literal ^ 1, ...open]);
          }
        }
      }
      known.set(a, literal);
      // Needs are put down after the atom is known, so that a loop of them meets its own literal.
      for (let next = pending.pop(); next !== undefined; next = pending.pop()) {
        require([next.literal ^ 1], (c.steps[next.s] as { needs: Formula }).needs, before);
      }
      return literal;
    };
    return before;
  };
  const literalOf = (f: Formula, of: (a: number) => Known = atom): Known => {
    if (typeof f === "number") return of(f);
    const parts = f.of.map((g) => literalOf(g, of));
    const open = parts.filter((x): x is number => typeof x === "number");
    if (parts.some((x) => x === f.any)) return f.any;
    if (open.length === 0) return !f.any;
    if (open.length === 1) return open[0] as number;
    const whole = yes(network.variable());
    if (f.any) network.clause([whole ^ 1, ...open]);
    else for (const x of open) network.clause([whole ^ 1, x]);
    return whole;
  };
  /** unless … or the formula. */
  const require = (unless: readonly Known[], f: Formula, of: (a: number) => Known = atom): void => {
    if (typeof f !== "number" && !f.any) {
      for (const g of f.of) require(unless, g, of);
      return;
    }
    clause([...unless, ...(typeof f === "number" ? [of(f)] : f.of.map((g) => literalOf(g, of)))]);
  };

  c.separations.forEach(() => {
    separationLiteral.push(network.variable());
  });
  const unlifted = c.contexts.map((context) =>
    "lift" in context ? reachable(c, wiring, (s) => s === c.wayCount + context.lift) : made,
  );
  /**
   * A separation that is only asked for after a lift: what is still tied to its first part then went up with it, or stayed with it, unless a strap put on
   * since crosses the two. It says nothing new, but spares the search the frame's side.
   */
  const followLifts = (separation: number, side: readonly Known[]): void => {
    const asking = askersOf(c, separation).filter((s) => made[s] === 1);
    const first = c.separations[separation]?.from[0];
    if (first === undefined) return;
    c.contexts.forEach((context, x) => {
      if (!("lift" in context) || asking.some((s) => (unlifted[x] as Uint8Array)[s] === 1)) return;
      const up = labels[x] as Known[];
      const crossing: Known[] = [];
      for (const [t, hang] of c.hangs) {
        const cross = yes(network.variable());
        const a = up[hang.part] as Known;
        const b = up[hang.to] as Known;
        clause([cross ^ 1, stepLiteral(c.wayCount + t)]);
        clause([cross ^ 1, a, b]);
        clause([cross ^ 1, not(a), not(b)]);
        crossing.push(cross);
      }
      let some: Known = false;
      if (crossing.length > 0) {
        some = yes(network.variable());
        clause([not(some), ...crossing]);
      }
      side.forEach((s, p) => {
        if (s === false) return;
        clause([not(s), not(up[first] as Known), up[p] as Known, some]);
        clause([not(s), up[first] as Known, not(up[p] as Known), some]);
      });
    });
  };
  c.contexts.forEach((context, x) => {
    const active =
      "lift" in context ? stepLiteral(c.wayCount + context.lift) : yes(separationLiteral[context.separation] as number);
    const side: Known[] = Array.from({ length: c.partCount }, () => false);
    labels.push(side);
    if (active === false) return;
    (c.mayRise[x] as Uint8Array).forEach((may, p) => {
      if (may === 1) side[p] = yes(network.variable());
    });
    if ("lift" in context) {
      const lift = c.lifts.get(context.lift);
      if (lift === undefined) return;
      for (const p of c.keep) {
        clause([not(side[p] as Known)]);
        side[p] = false;
      }
      for (const p of lift.parts) clause([not(active), side[p] as Known]);
      const variables: number[] = [];
      const masses: number[] = [];
      side.forEach((s, p) => {
        if (typeof s !== "number") return;
        clause([not(s), active]);
        const mass = problem.parts[p]?.mass ?? 0;
        if (mass > 0) {
          variables.push(s >> 1);
          masses.push(mass);
        }
      });
      network.rows.push({ limit: lift.limit, variables, masses });
    } else {
      const vehicle = side.findIndex((x, p) => c.fixed[p] === 1 && x !== false);
      c.fixed.forEach((f, p) => {
        if (f === 1 && side[p] !== false) side[p] = side[vehicle] as Known;
      });
      const { from, to } = c.separations[context.separation] as { from: readonly number[]; to: readonly number[] };
      for (const p of from) clause([not(active), side[p] as Known]);
      for (const p of to) clause([not(active), not(side[p] as Known)]);
    }
    if ("separation" in context) followLifts(context.separation, side);
  });

  // A tie across is released before: for a lift, by a step that does not wait for this very lift.
  c.contexts.forEach((context, x) => {
    const side = labels[x] as Known[];
    const before = "lift" in context ? beforeLift(context.lift, unlifted[x] as Uint8Array, side) : atom;
    for (let i = 0; i < c.connectionCount; i++) {
      if (i % TICK === 0) tick?.();
      if (c.released[i] === 1) continue;
      const parts = c.joins[i] as readonly number[];
      if (
        parts.every((p) => side[p] === false || c.fixed[p] === 1) &&
        parts.every((p) => side[p] === side[parts[0] as number])
      )
        continue;
      const cut = before(i);
      parts.forEach((p, k) => {
        clause([not(side[p] as Known), side[parts[(k + 1) % parts.length] as number] as Known, cut]);
      });
    }
    if ("lift" in context) {
      const own = c.wayCount + context.lift;
      require([not(stepLiteral(own))], (c.steps[own] as { needs: Formula }).needs, before);
    }
  });

  /** Whether a lift can only be made once this tie is released. */
  const parted = (lift: number, tie: number): boolean =>
    reachable(c, wiring, (s) => s < c.wayCount && c.connectionOf[s] === tie)[c.wayCount + lift] === 0;
  const taken = new Map<string, Known>();
  for (const p of c.take) {
    tick?.();
    const lifted: Known[] = [];
    c.contexts.forEach((context, x) => {
      if (!("lift" in context)) return;
      const side = labels[x] as Known[];
      const up = side[p] as Known;
      if (typeof up === "boolean") return;
      const { parts: held } = c.lifts.get(context.lift) as { parts: readonly number[] };
      const how = along(c, held, p, (q) => c.fixed[q] === 0 && side[q] !== false);
      if (how === undefined || how.ties?.every((t) => parted(context.lift, t))) return;
      const own = yes(network.variable());
      for (const q of [p, ...how.passed]) clause([own ^ 1, side[q] as Known]);
      taken.set(`${x} ${p}`, own);
      lifted.push(own);
    });
    clause(lifted);
  }

  c.steps.forEach((s, i) => {
    if (i % TICK === 0) tick?.();
    const own = stepLiteral(i);
    if (own === false) return;
    const isBack = i >= c.wayCount && problem.tasks[i - c.wayCount]?.back === true;
    if (!isBack) require([not(own)], s.needs);
    for (const t of s.entails) clause([not(own), stepLiteral(c.wayCount + t)]);
  });
  problem.tasks.forEach((t, i) => {
    if (t.must) clause([stepLiteral(c.wayCount + i)]);
  });
  for (const [t, hang] of c.hangs)
    for (const tie of hang.taut) clause([not(stepLiteral(c.wayCount + t)), releasedLiteral[tie] as Known]);

  // Once every carrying tie of a part is released, something must hold it, or it is in two hands.
  for (let p = 0; p < c.partCount; p++) {
    if (c.fixed[p] === 1 || c.uncarried[p] === 1) continue;
    const carriers = carriersOf(c, p);
    if (carriers.length < 2) continue;
    const hold = holdOf(c, p);
    if (hold === undefined) continue;
    const unless = carriers.map((t) => not(releasedLiteral[t] as Known));
    if (unless.includes(true)) continue;
    const spared = yes(network.variable());
    clause([not(spared), ...unless, ...hold.by.map((f) => literalOf(f))]);
    if (hold.inHand === undefined) clause([spared]);
    else for (const t of hold.inHand) clause([spared, releasedLiteral[t] as Known]);
  }

  tick?.();
  for (const ring of ringsOf(c, (step) => (stepVariable[step] as number) >= 0))
    clause(ring.map((step) => not(stepLiteral(step))));

  holdTrees(c, { atom, clause, literalOf: (f) => literalOf(f), variable: () => yes(network.variable()) });

  const changeLiterals = new Map<number, Literal[]>();
  const changes = (task: number, n: number): Known => {
    if (n <= 0) return true;
    const first = stepLiteral(c.wayCount + task);
    if (n === 1 || typeof first === "boolean") return first;
    let list = changeLiterals.get(task);
    if (list === undefined) {
      list = [first];
      changeLiterals.set(task, list);
    }
    while (list.length < n) {
      const more = yes(network.variable(price((c.steps[c.wayCount + task] as { labour: number }).labour)));
      network.clause([more ^ 1, list.at(-1) as number]);
      list.push(more);
    }
    return list[n - 1] as number;
  };

  // A way that wants a toggle on, for a tie across a lift that wants it off: the state is left again before the lift.
  const toggles = problem.tasks.flatMap((t, i) => (t.toggle ? [i] : []));
  for (const t of toggles) {
    c.contexts.forEach((context, x) => {
      if (
        !("lift" in context) ||
        !(c.steps[c.wayCount + context.lift] as { without: readonly number[] }).without.includes(t)
      )
        return;
      const side = labels[x] as Known[];
      for (let w = 0; w < c.wayCount; w++) {
        const own = stepLiteral(w);
        if (
          own === false ||
          given((c.steps[w] as { needs: Formula }).needs, (a) => (a === doneAtom(c, t) ? false : undefined)) !== false
        )
          continue;
        const parts = c.joins[c.connectionOf[w] as number] as readonly number[];
        parts.forEach((p, k) => {
          const q = parts[(k + 1) % parts.length] as number;
          clause([not(own), not(side[p] as Known), side[q] as Known, changes(t, 2)]);
        });
      }
    });
  }

  return {
    network,
    stepVariable,
    atom,
    literalOf: (f) => literalOf(f),
    clause,
    changes,
    paidChanges: (task, values) => {
      let n = 0;
      for (const literal of changeLiterals.get(task) ?? [stepLiteral(c.wayCount + task)]) {
        if (typeof literal === "number" && values[literal >> 1] === 1) n++;
      }
      return n;
    },
    taken: (context, part) => taken.get(`${context} ${part}`) ?? false,
    penalty: (labour) => yes(network.variable(price(labour))),
    minutes: (cost) => Math.floor(cost / weight + 1e-9) / perMinute,
  };
}

/**
 * Parts that hang from the rest by one carrying tie, with all that hangs from them in turn: what holds such a part is its tie and whatever holds the part above,
 * or something that holds it or a part below it by itself, or two hands. Bodies of any size follow from one variable a part.
 */
function holdTrees(
  c: Compiled,
  e: {
    readonly atom: (a: number) => Known;
    readonly clause: (literals: readonly Known[]) => void;
    readonly literalOf: (f: Formula) => Known;
    readonly variable: () => Literal;
  },
): void {
  const carries = (t: number): boolean => c.released[t] === 0 && c.problem.connections[t]?.carrying === true;
  const fixed = [...c.fixed.keys()].filter((p) => c.fixed[p] === 1);
  const spine = spineOf(c.partCount, fixed, (p) =>
    (c.tiesOf[p] as readonly number[])
      .filter(carries)
      .flatMap((t) => (c.joins[t] as readonly number[]).filter((q) => q !== p)),
  );
  const hooks = new Set([...c.lifts.values()].flatMap((lift) => lift.parts));
  const order = [...spine.entered.keys()].filter((p) => (spine.entered[p] as number) > 0);
  order.sort((p, q) => (spine.entered[q] as number) - (spine.entered[p] as number));
  // From the ends of the trees upwards: what lies below a part that can hold it without its tie.
  const below = new Map<number, { open: boolean; holders: readonly number[] }>();
  for (const p of order) {
    const own = below.get(p) ?? { open: false, holders: [] };
    const rests = (c.tiesOf[p] as readonly number[]).some((t) => c.problem.connections[t]?.rests === true);
    const straps = (c.strapsAt[p] as readonly number[]).filter((t) => c.hangs.get(t)?.part === p);
    const all = {
      open: own.open || rests || hooks.has(p) || c.uncarried[p] === 1,
      holders: [...own.holders, ...(c.supporters[p] as readonly number[]), ...straps],
    };
    below.set(p, all);
    const parent = spine.parent[p] as number;
    const above = below.get(parent) ?? { open: false, holders: [] };
    below.set(parent, { open: above.open || all.open, holders: [...above.holders, ...all.holders] });
  }
  const holds = new Map<number, { chain: Literal; itself: readonly Known[] }>();
  for (const p of order.reverse()) {
    const parent = spine.parent[p] as number;
    const shared = (c.tiesOf[p] as readonly number[]).filter(
      (t) => carries(t) && (c.joins[t] as readonly number[]).includes(parent),
    );
    const [tie] = shared;
    const { open, holders } = below.get(p) as { open: boolean; holders: readonly number[] };
    if (tie === undefined || shared.length > 1 || open || (spine.low[p] as number) < (spine.entered[p] as number))
      continue;
    const chain = e.variable();
    const itself = [...holders.map((t) => e.atom(doneAtom(c, t))), ...upBy(c, tie, [p]).map((f) => e.literalOf(f))];
    e.clause([not(chain), not(e.atom(tie))]);
    const above = holds.get(parent);
    if (above !== undefined) e.clause([not(chain), above.chain, ...above.itself]);
    holds.set(p, { chain, itself });
    const light = (c.problem.parts[p]?.mass ?? 0) <= c.problem.handLimit;
    if (!light) e.clause([chain, ...itself]);
    else for (const t of c.tiesOf[p] as readonly number[]) e.clause([chain, ...itself, e.atom(t)]);
  }
}

/** Reads a choice of steps from an assignment. */
export function decode(c: Compiled, e: Encoding, values: Uint8Array): Choice {
  const truth = (k: Known): boolean => (typeof k === "boolean" ? k : values[k >> 1] !== (k & 1));
  const steps = new Uint8Array(c.steps.length);
  for (let s = 0; s < steps.length; s++) {
    const v = e.stepVariable[s] as number;
    if (v >= 0 && values[v] === 1) steps[s] = 1;
  }
  const active: boolean[] = [];
  const side: Uint8Array[] = [];
  const cut: number[][] = [];
  c.contexts.forEach((context, x) => {
    const on =
      "lift" in context
        ? steps[c.wayCount + context.lift] === 1
        : truth(e.atom(c.connectionCount + c.taskCount + context.separation));
    active.push(on);
    const rising = new Uint8Array(c.partCount);
    const across: number[] = [];
    if (on) {
      for (let p = 0; p < c.partCount; p++) if (truth(e.atom(sideAtom(c, x, p)))) rising[p] = 1;
      for (let i = 0; i < c.connectionCount; i++) {
        const parts = c.joins[i] as readonly number[];
        if (c.released[i] === 0 && parts.some((p) => rising[p] !== rising[parts[0] as number])) across.push(i);
      }
    }
    side.push(rising);
    cut.push(across);
  });
  return { steps, active, side, cut };
}
