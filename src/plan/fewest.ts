// Owns the bound on changes of position: how few visits any order of these steps can do with.
//
// The bound solves an easier question exactly: that parts must be carried and that a hang ties are dropped. What is left only opens up as steps are made while
// the states of the vehicle stay as they are, so at a position it is best to do everything that can be done there, and of two sets of made steps in the same
// states the larger, at no more labour, is at least as good. A search over such sets, one visit a layer, gives the least number of visits; the true
// question has fewer legal orders, so it cannot do with less.

import type { Need, Problem } from "../release/index.ts";
import type { Move, Toggle } from "./walk.ts";

/** As much of the question as the bound looks at; see `Arrangement`. */
export interface Ask {
  readonly problem: Problem;
  readonly last: ReadonlySet<string>;
  readonly bothWays: boolean;
  readonly ends?: ReadonlySet<string>;
  readonly labour: number;
}

type Made = bigint;
type Holds = (made: Made) => boolean;

/** Sets of made steps kept per visit; beyond it the bound stops at the visits counted so far. */
const WIDEST = 400;

const ANYWHERE = Symbol("anywhere");

const bit = (index: number): bigint => 1n << BigInt(index);
const bitOf = (index: number | undefined): bigint => (index === undefined ? 0n : bit(index));

/** A step of the easier question: every move, then every toggle; the sets of made steps and of toggles that are on are one. */
interface Eased {
  readonly position: string | undefined;
  readonly holds: Holds;
  readonly last: boolean;
}

const ease = (
  problem: Problem,
  moves: readonly Move[],
  toggles: readonly Toggle[],
  last: ReadonlySet<string>,
): readonly Eased[] => {
  const released = new Set(problem.released);
  const indexOf = new Map([...moves, ...toggles].map((one, index) => [one.id, index]));
  const tasks = new Map(problem.tasks.map((task) => [task.id, task]));
  const ways = new Map(problem.connections.flatMap((one) => one.ways.map((way) => [way.id, way] as const)));
  const fixed = problem.parts.filter((part) => part.fixed).map((part) => part.id);
  const ties = problem.connections.filter((one) => !released.has(one.id));

  const cutting = ties.reduce((all, one) => all | bitOf(indexOf.get(one.id)), 0n);
  const apart = (some: readonly string[], others: readonly string[]): Holds => {
    // Of what is made only the releases matter, and the search meets the same ones again and again.
    const known = new Map<Made, boolean>();
    const isApart = (made: Made): boolean => {
      const root = new Map<string, string>();
      const find = (part: string): string => {
        let top = part;
        for (let up = root.get(top); up !== undefined; up = root.get(top)) top = up;
        return top;
      };
      for (const { id, joins } of ties) {
        if ((made & bitOf(indexOf.get(id))) !== 0n) continue;
        for (const part of joins) {
          const [a, b] = [find(part), find(joins[0] ?? part)];
          if (a !== b) root.set(a, b);
        }
      }
      const there = new Set(others.map(find));
      return !some.some((part) => there.has(find(part)));
    };
    return (made) => {
      const cut = made & cutting;
      const answer = known.get(cut) ?? isApart(cut);
      known.set(cut, answer);
      return answer;
    };
  };
  const holds = (need: Need): Holds => {
    if ("all" in need) {
      const all = need.all.map(holds);
      return (made) => all.every((one) => one(made));
    }
    if ("any" in need) {
      const any = need.any.map(holds);
      return (made) => any.some((one) => one(made));
    }
    if ("apart" in need) return apart(need.apart[0], need.apart[1]);
    const id = "released" in need ? need.released : need.done;
    if (released.has(id)) return () => true;
    const index = indexOf.get(id);
    return index === undefined ? () => false : (made) => (made & bit(index)) !== 0n;
  };
  return [
    ...moves.map((move) => ({ id: move.id, way: "release" in move.step ? move.step.way : undefined })),
    ...toggles.map(({ id }) => ({ id, way: undefined })),
  ].map(({ id, way }) => {
    const task = tasks.get(id);
    const work = way === undefined ? task : ways.get(way);
    const own = holds({ all: work?.needs ?? [] });
    const away = task?.lift === undefined ? () => true : apart(task.lift.parts, fixed);
    const without = (work?.without ?? []).reduce((all, toggle) => all | bitOf(indexOf.get(toggle)), 0n);
    return {
      position: work?.position,
      holds: (made: Made) => (made & without) === 0n && own(made) && away(made),
      last: last.has(id),
    };
  });
};

/** Every move that can be made from here on at a position, or anywhere. */
const closeAt = (
  moves: readonly Eased[],
  from: Made,
  position: string | undefined | typeof ANYWHERE,
  may: (index: number, made: Made) => boolean,
): Made => {
  let made = from;
  for (let more = true; more; ) {
    more = false;
    for (const [index, move] of moves.entries()) {
      const here = position === ANYWHERE || move.position === undefined || move.position === position;
      if ((made & bit(index)) !== 0n || !here || !may(index, made) || !move.holds(made)) continue;
      made |= bit(index);
      more = true;
    }
  }
  return made;
};

/** Ids of the moves that could be made if one of them, by its id, never were: wherever people stand, and in whatever state the vehicle is. */
export const doableWithout = (
  problem: Problem,
  moves: readonly Move[],
  toggles: readonly Toggle[],
  id: string,
): ReadonlySet<string> => {
  const stateless = { ...problem, tasks: problem.tasks.map((task) => ({ ...task, without: [] })) };
  const free = {
    ...stateless,
    connections: problem.connections.map((one) => ({ ...one, ways: one.ways.map((way) => ({ ...way, without: [] })) })),
  };
  const steps = ease(free, moves, toggles, new Set());
  const made = closeAt(steps, 0n, ANYWHERE, (index) => moves[index]?.id !== id);
  return new Set(moves.filter((move) => (made & bit(move.index)) !== 0n).map((move) => move.id));
};

/** A set of made steps and of toggles that are on, with what turning toggles has cost. */
interface Reached {
  readonly made: Made;
  readonly labour: number;
}

/** What no other reaches at least as well. */
const undominated = (reached: readonly Reached[], states: Made): readonly Reached[] => {
  const kept: Reached[] = [];
  const better = (a: Reached, b: Reached) =>
    a.labour <= b.labour && (a.made & states) === (b.made & states) && (a.made & b.made) === b.made;
  for (const one of reached) {
    if (kept.some((other) => better(other, one))) continue;
    for (let index = kept.length - 1; index >= 0; index--) if (better(one, kept[index]!)) kept.splice(index, 1);
    kept.push(one);
  }
  return kept;
};

/** The least number of visits to positions that any order of these steps needs. The question is that of `arrange`. */
export const fewestVisits = (ask: Ask, moves: readonly Move[], toggles: readonly Toggle[]): number => {
  const steps = ease(ask.problem, moves, toggles, ask.last);
  const eased = steps.slice(0, moves.length);
  const all = moves.reduce((made, move) => made | bit(move.index), 0n);
  const states = toggles.reduce((made, toggle) => made | bit(moves.length + toggle.index), 0n);
  const wanted = toggles.reduce(
    (made, toggle) => (ask.ends?.has(toggle.id) === true ? made | bit(moves.length + toggle.index) : made),
    0n,
  );
  const before = eased.reduce((made, step, index) => (step.last ? made : made | bit(index)), 0n);
  const close = (from: Made, position: string | undefined): Made =>
    closeAt(eased, from, position, (index, made) => eased[index]?.last !== true || (made & before) === before);
  /** Everything one visit can lead to. */
  const visit = (from: Reached, position: string | undefined): readonly Reached[] => {
    const found: Reached[] = [];
    const open: Reached[] = [{ made: close(from.made, position), labour: from.labour }];
    for (let now = open.pop(); now !== undefined; now = open.pop()) {
      const { made, labour } = now;
      if (found.some((other) => other.made === made && other.labour <= labour)) continue;
      found.push(now);
      for (const toggle of toggles) {
        if (toggle.position !== undefined && toggle.position !== position) continue;
        const index = moves.length + toggle.index;
        const free = (made & bit(index)) !== 0n && !ask.bothWays;
        if (labour + toggle.labour > ask.labour + 1e-9 || !(free || steps[index]?.holds(made))) continue;
        open.push({ made: close(made ^ bit(index), position), labour: labour + toggle.labour });
      }
    }
    return found;
  };
  const isEnd = ({ made }: Reached) => (made & all) === all && (ask.ends === undefined || (made & states) === wanted);
  const positions = [...new Set(steps.flatMap((step) => step.position ?? []))];
  let layer = undominated(visit({ made: 0n, labour: 0 }, undefined), states);
  for (let visits = 0; ; visits++) {
    if (layer.some(isEnd)) return visits;
    if (layer.length > WIDEST) return visits + 1;
    const next = undominated(
      layer.flatMap((from) => positions.flatMap((position) => visit(from, position))),
      states,
    );
    // Nothing new can be reached: not even the easier question has an order, so there is nothing to bound.
    if (next.every((one) => layer.some((other) => other.made === one.made && other.labour <= one.labour)))
      return visits;
    layer = next;
  }
};
