// Owns what is learnt from a choice that cannot be carried out: clauses that every legal plan satisfies and that choice does not.

import type { Choice } from "./choice.ts";
import { type Known, not } from "./clauses.ts";
import { type Compiled, doneAtom, type Formula, holdersOf, separationAtom, sideAtom } from "./compile.ts";
import type { Encoding } from "./encode.ts";
import { levelsOf } from "./levels.ts";
import { yes } from "./network.ts";
import type { Sequenced } from "./order.ts";
import { demandsOf, sideTrue } from "./progress.ts";
import { gatesTo, type Unheld } from "./unheld.ts";
import { given, usersOf } from "./wiring.ts";

const stepLiteral = (e: Encoding, s: number): Known =>
  (e.stepVariable[s] as number) < 0 ? false : yes(e.stepVariable[s] as number);

/** Step → the atom it makes true. */
const atomOf = (c: Compiled, s: number): number =>
  s < c.wayCount ? (c.connectionOf[s] as number) : doneAtom(c, s - c.wayCount);

/** Atom → the steps that make it true. */
const makersOf = (c: Compiled, atom: number): readonly number[] => {
  if (atom < c.connectionCount) return c.waysOf[atom] as readonly number[];
  const task = atom - c.connectionCount;
  return task < c.taskCount ? [c.wayCount + task] : [];
};

const contextOf = (c: Compiled, atom: number): number => {
  const task = atom - c.connectionCount;
  return c.contexts.findIndex((x) => ("lift" in x ? x.lift === task : c.taskCount + x.separation === task));
};

/**
 * Loop formulas (after F. Lin & Y. Zhao, "ASSAT: computing answer sets of a logic program by SAT solvers", Artificial Intelligence 157 (2004)): the atoms of a
 * set that only justify one another are true only if some step that does without the set makes one of them. The sets are the
 * strongly connected components of "is waiting for" that wait for nothing outside.
 */
export function cutLoops(c: Compiled, e: Encoding, choice: Choice, atoms: readonly number[]): void {
  const stuck = new Set(atoms);
  const demands = demandsOf(c, e.wiring, choice);
  const waitsFor = new Map<number, number[]>();
  for (const a of atoms) {
    const targets = new Set<number>();
    const collect = (f: Formula): void => {
      if (typeof f === "number") {
        if (stuck.has(f)) targets.add(f);
      } else for (const g of f.of) collect(g);
    };
    for (const s of makersOf(c, a)) if (choice.steps[s] === 1) collect((c.steps[s] as { needs: Formula }).needs);
    const x = contextOf(c, a);
    if (x >= 0) for (const t of choice.cut[x] as readonly number[]) if (stuck.has(t)) targets.add(t);
    for (const s of demands.after.get(a - c.connectionCount) ?? [])
      if (stuck.has(atomOf(c, s))) targets.add(atomOf(c, s));
    waitsFor.set(a, [...targets]);
  }
  for (const loop of closedComponents(atoms, waitsFor)) cutLoop(c, e, new Set(loop));
}

/** Two parts that must lie on one side of a context, unless a literal holds. */
interface Level {
  readonly x: number;
  readonly p: number;
  readonly q: number;
  readonly unless: readonly Known[];
}

/** Literals that imply: some atom of the set is brought about by a step that does without the set. */
function entriesInto(
  c: Compiled,
  e: Encoding,
  loop: ReadonlySet<number>,
  barred: readonly number[],
  aim: Formula | undefined,
): Known[] {
  const outside = (a: number): boolean | undefined => (loop.has(a) ? false : undefined);
  const ways: Known[] = [];
  /** A literal that implies the way in without the loop, with both sides of each of these ties equal in a context. */
  const entry = (own: Known, needs: Formula, level: readonly Level[]): Known => {
    const left = given(needs, outside);
    if (left === false || own === false) return false;
    if (left === true && level.length === 0) return own;
    const way = yes(e.network.variable());
    e.clause([not(way), own]);
    if (left !== true) e.clause([not(way), e.literalOf(left)]);
    for (const { x, p, q, unless } of level) {
      const a = e.atom(sideAtom(c, x, p));
      const b = e.atom(sideAtom(c, x, q));
      e.clause([not(way), not(a), b, ...unless]);
      e.clause([not(way), a, not(b), ...unless]);
    }
    return way;
  };
  const levelFor = (x: number): Level[] => {
    const level: Level[] = [];
    for (const t of loop) {
      if (t >= c.connectionCount) continue;
      const parts = c.joins[t] as readonly number[];
      parts.forEach((p, k) => {
        if (k > 0) level.push({ x, p: parts[k - 1] as number, q: p, unless: [] });
      });
    }
    return level;
  };
  if (aim !== undefined) ways.push(entry(true, aim, []));
  for (const a of loop) {
    if (barred.includes(a)) continue;
    const x = contextOf(c, a);
    if (a >= c.connectionCount + c.taskCount) {
      ways.push(entry(e.atom(a), { any: false, of: [] }, levelFor(x)));
      continue;
    }
    for (const s of makersOf(c, a)) {
      const level = x >= 0 ? levelFor(x) : [];
      const hang = s >= c.wayCount ? c.hangs.get(s - c.wayCount) : undefined;
      if (hang !== undefined) {
        c.contexts.forEach((context, y) => {
          for (const user of usersOf(c, e.wiring, context)) {
            if (user !== s && loop.has(atomOf(c, user)))
              level.push({
                x: y,
                p: hang.part,
                q: hang.to,
                unless: [
                  not(stepLiteral(e, user)),
                  ...("separation" in context ? [not(e.atom(separationAtom(c, context.separation)))] : []),
                ],
              });
          }
        });
      }
      ways.push(entry(stepLiteral(e, s), (c.steps[s] as { needs: Formula }).needs, level));
    }
  }
  return ways.filter((x) => x !== false);
}

function cutLoop(c: Compiled, e: Encoding, loop: ReadonlySet<number>): void {
  const open = entriesInto(c, e, loop, [], undefined);
  if (open.length === 0) {
    for (const a of loop) e.clause([not(e.atom(a))]);
    return;
  }
  if (loop.size === 1 || open.length === 1) {
    for (const a of loop) e.clause([not(e.atom(a)), ...open]);
    return;
  }
  // One literal for "some way in", shared by all atoms of the loop: a clause over many ways in each would make wide tables.
  const entered = yes(e.network.variable());
  e.clause([not(entered), ...open]);
  for (const a of loop) e.clause([not(e.atom(a)), entered]);
}

/** Tarjan's strongly connected components (SIAM J. Computing 1, 1972) from which no edge leads out. */
function closedComponents(nodes: readonly number[], next: ReadonlyMap<number, readonly number[]>): number[][] {
  const order = new Map<number, number>();
  const low = new Map<number, number>();
  const component = new Map<number, number>();
  const stack: number[] = [];
  const found: number[][] = [];
  for (const root of nodes) {
    if (order.has(root)) continue;
    const path: { v: number; i: number }[] = [{ v: root, i: 0 }];
    while (path.length > 0) {
      const top = path.at(-1) as { v: number; i: number };
      const { v } = top;
      if (top.i === 0) {
        order.set(v, order.size);
        low.set(v, order.get(v) as number);
        stack.push(v);
      }
      const edges = next.get(v) ?? [];
      const u = edges[top.i];
      if (u !== undefined) {
        top.i++;
        if (!order.has(u)) path.push({ v: u, i: 0 });
        else if (!component.has(u)) low.set(v, Math.min(low.get(v) as number, order.get(u) as number));
        continue;
      }
      // `i` is never 0 again for a node with edges; one without is left at once.
      path.pop();
      const parent = path.at(-1);
      if (parent !== undefined) low.set(parent.v, Math.min(low.get(parent.v) as number, low.get(v) as number));
      if (low.get(v) !== order.get(v)) continue;
      const members: number[] = [];
      for (let u2 = stack.pop(); u2 !== undefined; u2 = stack.pop()) {
        component.set(u2, found.length);
        members.push(u2);
        if (u2 === v) break;
      }
      found.push(members);
    }
  }
  return found.filter((members, k) => members.every((v) => (next.get(v) ?? []).every((u) => component.get(u) === k)));
}

/** Parts through which the sides of a separation are still tied: each is on one of the two. */
export function cutTied(c: Compiled, e: Encoding, chains: Choice["tied"]): void {
  for (const { context, parts } of chains) for (const p of parts) e.atom(sideAtom(c, context, p));
}

/** A body that nothing holds at the end: one of its carrying ties stays, or it comes apart, or something holds it. */
export function cutFallen(
  c: Compiled,
  e: Encoding,
  choice: Choice,
  fallen: Extract<Sequenced, { kind: "fallen" }>,
): void {
  const { load } = fallen;
  const seen = new Set<number>();
  for (const p of fallen.parts) {
    if (seen.has(p)) continue;
    const body = load.loose(p) ?? [];
    for (const q of body) seen.add(q);
    const clause: Known[] = [];
    const held = (parts: readonly number[]): void => {
      for (const t of holdersOf(c, parts))
        if (choice.steps[c.wayCount + t] === 0) clause.push(stepLiteral(e, c.wayCount + t));
      c.contexts.forEach((context, x) => {
        if (!("lift" in context)) return;
        const rise = fallen.rising.find((r) => r.context === x);
        if (rise === undefined) clause.push(stepLiteral(e, c.wayCount + context.lift));
        else for (const q of gatesTo(c, choice, rise, parts)) clause.push(e.atom(sideAtom(c, x, q)));
      });
      for (const q of parts) {
        for (const t of c.tiesOf[q] as readonly number[]) {
          const carries = c.carries[t] === 1;
          if (load.released[t] === 1 && c.released[t] === 0 && carries) clause.push(not(e.atom(t)));
          if (load.released[t] === 0 && carries) clause.push(e.atom(t));
        }
      }
    };
    held(body);
    // Ground that it rests on and that is not firm itself might be made so.
    for (const q of body) {
      for (const t of c.tiesOf[q] as readonly number[]) {
        if (c.problem.connections[t]?.rests !== true || load.released[t] === 0) continue;
        for (const r of c.joins[t] as readonly number[]) if (!body.includes(r)) held(load.loose(r) ?? []);
      }
      for (const t of c.strapsAt[q] as readonly number[]) {
        const hang = c.hangs.get(t);
        if (hang?.part === q && choice.steps[c.wayCount + t] === 1) held(load.loose(hang.to) ?? []);
      }
    }
    // A part that a strap is on is not in hand; without the strap it might be.
    if (body.length === 1) {
      for (const t of c.strapsAt[p] as readonly number[]) {
        if (choice.steps[c.wayCount + t] === 1) clause.push(not(stepLiteral(e, c.wayCount + t)));
      }
    }
    const unique = [...new Set(clause)];
    const light = (c.problem.parts[p]?.mass ?? 0) <= c.problem.handLimit;
    const left =
      body.length === 1 && light ? (c.tiesOf[p] as readonly number[]).filter((t) => load.released[t] === 0) : [];
    if (left.length === 0) e.clause(unique);
    else for (const t of left) e.clause([...unique, e.atom(t)]);
  }
}

/** A body whose ties cannot all go, because what would hold it waits for whichever goes last. */
export function cutUnheld(c: Compiled, e: Encoding, body: Unheld): void {
  const clause: Known[] = body.boundary.map((t) => not(e.atom(t)));
  for (const { context, part } of body.around) clause.push(e.atom(sideAtom(c, context, part)));
  for (const { made, hold, late } of body.cases) clause.push(...entriesInto(c, e, new Set(late), made, hold));
  e.clause(clause);
}

/** A part that was to go up is not tied to the group: what the group was cut from must go up, or another lift takes the part. */
export function cutLeft(c: Compiled, e: Encoding, left: Extract<Sequenced, { kind: "left" }>): void {
  const { context, part, group } = left;
  const inside = new Set(group);
  const clause: Known[] = [not(e.taken(context, part))];
  const around = new Set<number>();
  for (const p of group) {
    for (const t of c.tiesOf[p] as readonly number[]) {
      if (c.released[t] === 1 || (c.uncarried[part] === 0 && c.carries[t] === 0)) continue;
      for (const q of c.joins[t] as readonly number[]) if (!inside.has(q)) around.add(q);
    }
  }
  for (const q of around) clause.push(e.atom(sideAtom(c, context, q)));
  e.clause(clause);
}

/**
 * A toggle changes state at least as often as the longest chain of steps that want it on and off in turn. Says so for the chain of this choice; false when
 * the choice already pays for it.
 */
export function cutChanges(c: Compiled, e: Encoding, choice: Choice, task: number, paid: number): boolean {
  const { level, top } = levelsOf(c, e.wiring, choice, task);
  const changes = top < 0 ? 0 : (level[top] as number);
  if (changes <= paid) return false;
  const clause = new Set<Known>();
  const told = new Set<string>();
  const atomLevel = (a: number): number => {
    if (a < c.connectionCount) {
      if (c.released[a] === 1) return 0;
      let least = Number.POSITIVE_INFINITY;
      for (const s of c.waysOf[a] as readonly number[])
        if (choice.steps[s] === 1) least = Math.min(least, level[s] as number);
      return least;
    }
    const t = a - c.connectionCount;
    if (t < c.taskCount)
      return t === task
        ? 1
        : choice.steps[c.wayCount + t] === 1
          ? (level[c.wayCount + t] as number)
          : Number.POSITIVE_INFINITY;
    const x = contextOf(c, a);
    if (x >= 0)
      return choice.active[x] === true
        ? Math.max(0, ...(choice.cut[x] as readonly number[]).map(atomLevel))
        : Number.POSITIVE_INFINITY;
    return sideTrue(c, choice, a) ? 0 : Number.POSITIVE_INFINITY;
  };
  const formulaLevel = (f: Formula): number => {
    if (typeof f === "number") return atomLevel(f);
    const of = f.of.map(formulaLevel);
    return f.any ? Math.min(...of) : Math.max(0, ...of);
  };
  /** Adds to the clause what would let the atom come true before phase k. */
  const tellAtom = (a: number, k: number): void => {
    const key = `${a} ${k}`;
    if (told.has(key)) return;
    told.add(key);
    const t = a - c.connectionCount;
    // The state itself comes on with the first change, never before.
    if (t === task) return;
    if (t >= c.taskCount) {
      const x = contextOf(c, a);
      if (x >= 0 && choice.active[x] === true) tellCut(x, k);
      else clause.add(e.atom(a));
      return;
    }
    for (const s of makersOf(c, a)) {
      if (choice.steps[s] === 1) tellStep(s, k);
      else clause.add(stepLiteral(e, s));
    }
  };
  const tellCut = (x: number, k: number): void => {
    const late = (choice.cut[x] as readonly number[]).find((t) => atomLevel(t) >= k);
    if (late === undefined) return;
    const side = choice.side[x] as Uint8Array;
    const parts = c.joins[late] as readonly number[];
    const up = parts.find((p) => side[p] === 1) as number;
    const down = parts.find((p) => side[p] === 0) as number;
    clause.add(not(e.atom(sideAtom(c, x, up))));
    clause.add(e.atom(sideAtom(c, x, down)));
    tellAtom(late, k);
  };
  const tellFormula = (f: Formula, k: number): void => {
    if (typeof f === "number") {
      tellAtom(f, k);
      return;
    }
    if (f.any) {
      for (const g of f.of) tellFormula(g, k);
      return;
    }
    const late = f.of.find((g) => formulaLevel(g) >= k);
    if (late !== undefined) tellFormula(late, k);
  };
  const tellStep = (s: number, k: number): void => {
    if (k <= 0) return;
    const { needs, without } = c.steps[s] as { needs: Formula; without: readonly number[] };
    const wantsOn = given(needs, (a) => (a === doneAtom(c, task) ? false : undefined)) === false;
    if ((wantsOn && k % 2 === 1) || (without.includes(task) && k % 2 === 0)) {
      tellStep(s, k - 1);
      return;
    }
    if (formulaLevel(needs) >= k) {
      tellFormula(needs, k);
      return;
    }
    const x = contextOf(c, atomOf(c, s));
    if (x >= 0) tellCut(x, k);
    const hang = s >= c.wayCount ? c.hangs.get(s - c.wayCount) : undefined;
    if (hang === undefined) return;
    // A strap waits for a step that wants two sides apart only while that step is chosen and its ends stand on the two sides.
    for (const [y, context] of c.contexts.entries()) {
      const side = choice.side[y] as Uint8Array;
      if (choice.active[y] !== true || side[hang.part] === side[hang.to]) continue;
      const user = usersOf(c, e.wiring, context).find(
        (u) => u !== s && choice.steps[u] === 1 && (level[u] as number) >= k,
      );
      if (user === undefined) continue;
      for (const p of [hang.part, hang.to]) {
        const literal = e.atom(sideAtom(c, y, p));
        clause.add(side[p] === 1 ? not(literal) : literal);
      }
      clause.add(not(stepLiteral(e, user)));
      tellStep(user, k);
      return;
    }
  };
  tellStep(top, changes);
  e.clause([not(stepLiteral(e, top)), ...clause, e.changes(task, changes)]);
  return true;
}

/** This very choice, of steps and of what each lift and separation parts, costs at least that much more (undefined: it cannot be carried out at all). */
export function cutChoice(c: Compiled, e: Encoding, choice: Choice, extra: number | undefined): void {
  const clause: Known[] = extra === undefined ? [] : [e.penalty(extra)];
  for (let s = 0; s < c.steps.length; s++) {
    if (s >= c.wayCount && c.problem.tasks[s - c.wayCount]?.back === true) continue;
    const own = stepLiteral(e, s);
    clause.push(choice.steps[s] === 1 ? not(own) : own);
  }
  c.contexts.forEach((context, x) => {
    if (choice.active[x] !== true) {
      if ("separation" in context) clause.push(e.atom(separationAtom(c, context.separation)));
      return;
    }
    (c.mayRise[x] as Uint8Array).forEach((may, p) => {
      if (may === 0) return;
      const side = e.atom(sideAtom(c, x, p));
      clause.push((choice.side[x] as Uint8Array)[p] === 1 ? not(side) : side);
    });
  });
  e.clause(clause);
}
