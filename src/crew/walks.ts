// Owns ways that somebody goes in every schedule: to where work is, after all stood together, and from where work was, before all stand together.
//
// A work that takes everybody at one position is a gathering: all of them stand there when it ends. So whoever is first at another position after it has come there, and
// n people who work there together have come there n times. Likewise whoever is last at another position before a gathering leaves it. Each such way is
// the person's own time, directly before the work at its other end, and no two of them are the same: between two gatherings the ways to other positions and the ways to the place of the
// second are counted, before the first gathering one way from each position, after the last one way to each.

import { alternationsOf } from "./alternations.ts";
import { type Built, inOrder, type Spot } from "./built.ts";
import type { Shop, ShopWork } from "./shop.ts";

/** A work that a way lies before or after: a task, or the first change of a state. */
export type Stop = { readonly task: number } | { readonly state: number };

/** A way that somebody goes for certain. */
export interface Walk {
  readonly ticks: number;
  /** Begins when the people of these have left, ends before these begin. */
  readonly after: readonly Stop[];
  readonly before: readonly Stop[];
  /** Ticks of a change of state that still comes after it. */
  readonly then: number;
  /** Who may be the one that goes: 1 by person. */
  readonly able: Uint8Array;
  /** Which of all ways it is: the `nth` one into (`to`) or out of a position after or before the task `gathering`, counted from there. */
  readonly side: "to" | "from" | "back";
  readonly position: number;
  readonly gathering: number;
  readonly nth: number;
}

/** A work at a position, with what it asks there. */
interface Visit {
  readonly stop: Stop | undefined;
  readonly work: ShopWork;
}

const isAttended = (work: ShopWork | undefined): work is ShopWork =>
  work !== undefined && work.position >= 0 && work.people > 0 && work.ticks > 0 && work.begun === undefined;

/** Tasks that have all ended when this one begins, or that begin only when it has ended. */
const certain = (shop: Shop, from: number, side: "before" | "after"): ReadonlySet<number> => {
  const edges = new Map<number, number[]>();
  for (let task = 0; task < shop.tasks; task += 1)
    for (const { work, least } of shop.works[task]?.after ?? []) {
      if (least < 0 || shop.works[task]?.begun !== undefined) continue;
      const [one, two] = side === "before" ? [task, work] : [work, task];
      edges.set(one, [...(edges.get(one) ?? []), two]);
    }
  const seen = new Set<number>();
  const stack = [from];
  for (let task = stack.pop(); task !== undefined; task = stack.pop())
    for (const next of edges.get(task) ?? []) {
      if (seen.has(next)) continue;
      seen.add(next);
      stack.push(next);
    }
  return seen;
};

/** Gatherings, each over before the next begins for certain. */
const gatheringsOf = (shop: Shop): readonly number[] => {
  const chain: number[] = [];
  const all = [...shop.works.keys()].filter(
    (task) => task < shop.tasks && isAttended(shop.works[task]) && shop.works[task]?.people === shop.people.length,
  );
  const after = new Map(all.map((task) => [task, certain(shop, task, "after")]));
  const depth = (task: number): number => all.filter((other) => after.get(other)?.has(task)).length;
  for (const task of all.sort((a, b) => depth(a) - depth(b)))
    if (chain.length === 0 || after.get(chain.at(-1) ?? -1)?.has(task)) chain.push(task);
  return chain;
};

class Walking {
  private readonly shop: Shop;
  private readonly walks: Walk[] = [];

  constructor(shop: Shop) {
    this.shop = shop;
  }

  all(): readonly Walk[] {
    const { shop } = this;
    // A work without length may lie within another: where it leaves its people is no matter for this.
    const odd = shop.works.some((work) => work.position >= 0 && work.people > 0 && work.ticks === 0);
    if (shop.moves.length === 0 || shop.people.length < 2 || odd) return [];
    const chain = gatheringsOf(shop);
    for (const [place, gathering] of chain.entries()) {
      const next = chain[place + 1];
      if (place === 0) this.leave(gathering, this.visitsBefore(gathering), "from");
      this.arrive(gathering, next);
      if (next !== undefined) {
        const since = certain(shop, gathering, "after");
        const visits = this.visitsBefore(next).filter(
          ({ stop }) => stop !== undefined && "task" in stop && since.has(stop.task),
        );
        this.leave(next, visits, "back");
      }
    }
    return this.walks;
  }

  private visitsOf(tasks: ReadonlySet<number>): readonly Visit[] {
    return [...tasks].flatMap((task) => {
      const work = this.shop.works[task];
      return isAttended(work) ? [{ stop: { task }, work }] : [];
    });
  }

  /** Changes of state that are made before, or after, a task for certain: the first one of each state, or the last. */
  private changes(task: number, side: "before" | "after"): readonly Visit[] {
    return this.shop.states.flatMap(({ on, end, turn }, state): readonly Visit[] => {
      if (side === "after" && end === undefined) return [];
      if ((alternationsOf(this.shop, state)[side][task] ?? 0) === 0) return [];
      const value = side === "before" ? !on : end === true;
      const work = this.shop.works[turn[value ? 1 : 0]];
      return isAttended(work) ? [{ stop: side === "before" ? { state } : undefined, work }] : [];
    });
  }

  private visitsBefore(task: number): readonly Visit[] {
    return [...this.visitsOf(certain(this.shop, task, "before")), ...this.changes(task, "before")];
  }

  private shortest(position: number, side: "to" | "from"): number {
    const { moves } = this.shop;
    const ways = moves.flatMap((row, other) =>
      other === position ? [] : [(side === "to" ? row[position] : moves[position]?.[other]) ?? 0],
    );
    return ways.length === 0 ? 0 : Math.min(...ways);
  }

  /** Who has ever anything to do at a position. */
  private ableAt(position: number): Uint8Array {
    const there = this.shop.works.filter((work) => work.position === position);
    return Uint8Array.from(this.shop.people, (_, person) => (there.some(({ able }) => able.includes(person)) ? 1 : 0));
  }

  /** The first ways to each position after a gathering, before the next. */
  private arrive(gathering: number, next: number | undefined): void {
    const { shop } = this;
    const here = shop.works[gathering]?.position ?? -1;
    const there = next === undefined ? -1 : (shop.works[next]?.position ?? -1);
    const sooner = next === undefined ? undefined : certain(shop, next, "before");
    const later = this.visitsOf(certain(shop, gathering, "after"));
    const last = next === undefined ? this.changes(gathering, "after") : [];
    for (const position of shop.rooms.keys()) {
      if (position === here || position === there) continue;
      const all = later.filter(({ work }) => work.position === position);
      const sure = all.filter(
        ({ stop }) => sooner === undefined || (stop !== undefined && "task" in stop && sooner.has(stop.task)),
      );
      const changes = last.filter(({ work }) => work.position === position);
      const most = Math.max(0, ...[...sure, ...changes].map(({ work }) => work.people));
      for (let nth = 1; nth <= most; nth += 1) {
        this.add({
          ticks: this.shortest(position, "to"),
          after: [{ task: gathering }],
          before: all.flatMap(({ stop, work }) => (stop !== undefined && work.people >= nth ? [stop] : [])),
          then: Math.max(0, ...changes.filter(({ work }) => work.people >= nth).map(({ work }) => work.ticks)),
          able: this.ableAt(position),
          side: "to",
          position,
          gathering,
          nth,
        });
      }
    }
  }

  /** The last ways before a gathering: one from each position (`from`), or to the gathering's own (`back`). */
  private leave(gathering: number, visits: readonly Visit[], side: "from" | "back"): void {
    const here = this.shop.works[gathering]?.position ?? -1;
    const places = side === "back" ? [here] : [...this.shop.rooms.keys()].filter((position) => position !== here);
    for (const position of places) {
      const all = visits.filter(({ work }) => (side === "back" ? work.position !== here : work.position === position));
      const most = Math.max(0, ...all.map(({ work }) => work.people));
      for (let nth = 1; nth <= most; nth += 1)
        this.add({
          ticks: this.shortest(position, side === "back" ? "to" : "from"),
          after: all.flatMap(({ stop, work }) => (stop !== undefined && work.people >= nth ? [stop] : [])),
          before: [{ task: gathering }],
          then: 0,
          able: this.ableAt(position),
          side,
          position,
          gathering,
          nth,
        });
    }
  }

  private add(walk: Walk): void {
    if (walk.ticks > 0) this.walks.push(walk);
  }
}

/** The ways that somebody goes for certain. */
export const walksOf = (shop: Shop): readonly Walk[] => new Walking(shop).all();

/** When this way ends in a schedule: the beginning of the work at its far end, ticks. */
export const arrivalOf = (shop: Shop, built: Built, { side, position, gathering, nth }: Walk): number => {
  const meeting = built.tasks[gathering];
  const arrivals: number[] = [];
  const all: Spot[] = [...built.tasks, ...built.changes].sort(inOrder);
  for (const person of shop.people.keys()) {
    let stands = -1;
    for (const { work, start, people } of all) {
      const next = shop.works[work]?.position ?? -1;
      if (next < 0 || !people.includes(person)) continue;
      const leaves = side === "from" ? stands === position : next === position;
      const within = meeting !== undefined && (side === "to" ? start >= meeting.free : start <= meeting.start);
      if (stands >= 0 && stands !== next && leaves && within) arrivals.push(start);
      stands = next;
    }
  }
  arrivals.sort((a, b) => (side === "to" ? a - b : b - a));
  return arrivals[nth - 1] ?? Number.NaN;
};
