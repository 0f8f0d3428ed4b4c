// Owns the question as weighted clauses (docs/release.md, "As clauses").

import { along } from "./along.ts";
import { beforeLift } from "./before-lift.ts";
import { Clauses, type Known, not } from "./clauses.ts";
import { type Compiled, doneAtom, type Formula } from "./compile.ts";
import { holdClauses, holdTrees } from "./holds.ts";
import { type Literal, Network, yes } from "./network.ts";
import { atomsBehind, reachable } from "./reachable.ts";
import { ringsOf } from "./rings.ts";
import { liftSide, Parting } from "./sides.ts";
import { given, type Wiring } from "./wiring.ts";

export interface Encoding {
  readonly network: Network;
  /** The circuit of needs that it was made with. */
  readonly wiring: Wiring;
  /** Step → its variable; −1 where the step can never be made, or is no step of the way out and called for by nothing. */
  readonly stepVariable: Int32Array;
  /** Atom → whether it comes true in the plan. A part without a label of a separation has one from then on. */
  readonly atom: (atom: number) => Known;
  /** Whether a part is on the rising side of a context; undefined: it has no label. */
  readonly side: (context: number, part: number) => Known | undefined;
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
  /** The network's cost units of so much labour. */
  readonly price: (labour: number) => number;
  /** Minutes from the network's cost units, and the number of connections released beside them. */
  readonly minutes: (cost: number) => number;
}

/** The greatest whole multiple of a minute in which every labour is a whole number; labours finer than 1/1000 are rounded. */
function unitOf(labours: readonly number[]): number {
  for (const perMinute of [1, 2, 4, 5, 10, 20, 60, 100]) {
    if (labours.every((x) => Math.abs(x * perMinute - Math.round(x * perMinute)) < 1e-9)) return perMinute;
  }
  return 1000;
}

/** Connections or steps between two ticks. */
const TICK = 256;

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

  /** Context → how its sides are labelled. */
  const labels: (readonly Known[])[] = [];
  const partings: Parting[] = [];
  const separationLiteral: Literal[] = [];
  const atom = (a: number): Known => {
    if (a < c.connectionCount) return releasedLiteral[a] as Known;
    const task = a - c.connectionCount;
    if (task < c.taskCount) return stepLiteral(c.wayCount + task);
    const separation = task - c.taskCount;
    if (separation < c.separations.length) return yes(separationLiteral[separation] as number);
    const side = separation - c.separations.length;
    const [x, p] = [Math.floor(side / c.partCount), side % c.partCount];
    return x < labels.length
      ? ((labels[x] as readonly Known[])[p] as Known)
      : (partings[x - labels.length] as Parting).label(p);
  };
  const say = new Clauses(network, atom);
  const clause = (literals: readonly Known[]): void => say.clause(literals);
  c.separations.forEach(() => {
    separationLiteral.push(network.variable());
  });
  c.contexts.forEach((context, x) => {
    if ("lift" in context) labels.push(liftSide(c, say, x, context.lift));
    else partings.push(new Parting(c, say, x, context.separation));
  });

  // A tie across a lift is released before, by a step that does not wait for this very lift.
  c.contexts.forEach((context, x) => {
    if (!("lift" in context)) return;
    const side = labels[x] as readonly Known[];
    const unlifted = reachable(c, wiring, (s) => s === c.wayCount + context.lift);
    const before = beforeLift(c, wiring, say, stepLiteral, context.lift, unlifted, side);
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
    const own = c.wayCount + context.lift;
    say.require([not(stepLiteral(own))], (c.steps[own] as { needs: Formula }).needs, before);
  });

  const wanted = new Map([...c.lifts.keys()].map((lift) => [lift, atomsBehind(c, c.wayCount + lift)]));
  /** Whether a lift can only be made once this tie is released. */
  const parted = (lift: number, tie: number): boolean =>
    wanted.get(lift)?.has(tie) === true &&
    reachable(c, wiring, (s) => s < c.wayCount && c.connectionOf[s] === tie)[c.wayCount + lift] === 0;
  const taken = new Map<string, Known>();
  for (const p of c.take) {
    tick?.();
    const lifted: Known[] = [];
    c.contexts.forEach((context, x) => {
      if (!("lift" in context)) return;
      const side = labels[x] as readonly Known[];
      const up = side[p] as Known;
      if (typeof up === "boolean") return;
      const { parts: held } = c.lifts.get(context.lift) as { parts: readonly number[] };
      const spine = c.spines[x];
      if (spine === undefined) return;
      const how = along(c, held, spine, p, (q) => c.fixed[q] === 0 && side[q] !== false);
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
    if (!isBack) say.require([not(own)], s.needs);
    for (const t of s.entails) clause([not(own), stepLiteral(c.wayCount + t)]);
  });
  problem.tasks.forEach((t, i) => {
    if (t.must) clause([stepLiteral(c.wayCount + i)]);
  });
  for (const [t, hang] of c.hangs)
    for (const tie of hang.taut) clause([not(stepLiteral(c.wayCount + t)), releasedLiteral[tie] as Known]);

  holdClauses(c, say);

  tick?.();
  for (const ring of ringsOf(c, (step) => (stepVariable[step] as number) >= 0))
    clause(ring.map((step) => not(stepLiteral(step))));

  holdTrees(c, say);

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
      const side = labels[x] as readonly Known[];
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
    wiring,
    stepVariable,
    atom,
    side: (x, p) =>
      x < labels.length ? (labels[x] as readonly Known[])[p] : (partings[x - labels.length] as Parting).known(p),
    literalOf: (f) => say.literalOf(f),
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
    price,
    minutes: (cost) => Math.floor(cost / weight + 1e-9) / perMinute,
  };
}
