// Owns making a schedule shorter with its people as they are: when each work begins is found anew by the clauses of the proof, ways and states and all.
//
// With the people given, who has to go where follows from the order of each one's works, and that is a choice of arcs. Work without a position stays behind the work that its
// person came from, so that where it leaves the person is known. Nobody works across their own break here, though the rules may let them. So some schedules are out of reach,
// and what the relaxation leaves out may be broken: each answer is held to the rules before it is taken.

import { absencesOf } from "./absences.ts";
import { scheduleOf } from "./answer.ts";
import type { Breeder } from "./breed.ts";
import { type Built, inOrder, type Spot, tally } from "./built.ts";
import { check } from "./check.ts";
import { WorkClock } from "./clock.ts";
import { workedOff } from "./diary.ts";
import { type Arc, packBars, type Span } from "./draft.ts";
import { lowerBound, tightened } from "./lower.ts";
import type { Arcs, Model } from "./model.ts";
import { type Limits, makeProver, type Proving, type Verdict } from "./proof/prove.ts";
import { type Relaxed, relax, startsIn } from "./relax.ts";
import type { Shop } from "./shop.ts";

/** Works of one person that stay together, one after the other; all but the first have no position. */
interface Block {
  readonly first: number;
  readonly last: number;
  /** Of the last. */
  readonly ticks: number;
  readonly position: number;
}

const withArcs = (arcs: Arcs, more: readonly Arc[]): Arcs => {
  const join = (list: Int32Array, place: 0 | 1 | 2): Int32Array =>
    Int32Array.from([...list, ...more.map((arc) => arc[place])]);
  return { from: join(arcs.from, 0), to: join(arcs.to, 1), lag: join(arcs.lag, 2) };
};

/** Share of the schedule that a window takes. */
const NARROW = 0.08;
const WIDE = 0.33;
/** Conflicts of a window, and of the first look at all of it. */
const CONFLICTS = { window: 200, all: 400 };

class Shortening {
  private readonly shop: Shop;
  private readonly clock: WorkClock;
  private readonly relaxed: Relaxed;
  private readonly prover: Proving;
  private begun = false;
  /** No schedule with these people is shorter. */
  closed = false;
  /** By item its spot in the schedule that this began with. */
  private readonly spots: readonly Spot[];

  constructor(shop: Shop, built: Built) {
    this.shop = shop;
    this.clock = new WorkClock(shop);
    const turns = shop.states.map((_, state) => built.changes.filter((spot) => this.stateOf(spot) === state).length);
    this.relaxed = relax(shop, built.finish, { most: turns, open: [], full: true });
    const spots = [...built.tasks];
    const made = [...this.relaxed.changes];
    for (const spot of built.changes) {
      const state = this.stateOf(spot);
      spots[made[state] ?? 0] = spot;
      made[state] = (made[state] ?? 0) + 1;
    }
    this.spots = spots;
    const model = this.withPeople(this.relaxed.model);
    this.prover = makeProver(tightened(model, lowerBound(model, this.relaxed.still)));
    this.prover.begin(startsIn(this.relaxed, shop, built));
  }

  get conflicts(): number {
    return this.prover.conflicts;
  }

  /**
   * A shorter schedule, or undefined when none is found. At first all is free; then what lies within a window of time, all before it stays and all after it is a tick earlier:
   * small questions, most of them answered at once.
   */
  run(random: () => number, limits: Limits): Built | undefined {
    const { prover } = this;
    const most = Math.min(limits.conflicts, this.begun ? CONFLICTS.window : CONFLICTS.all);
    const own = { ...limits, conflicts: most };
    const verdict = this.begun ? this.inWindow(random, own) : prover.run(own);
    this.begun = true;
    this.closed = verdict === "closed";
    return verdict === "better" && prover.starts !== undefined ? this.builtFrom(prover.starts) : undefined;
  }

  private inWindow(random: () => number, limits: Limits): Verdict {
    const { prover, relaxed } = this;
    const { ticks } = relaxed.model;
    const { starts = new Int32Array(0), makespan } = prover;
    const width = makespan * (NARROW + (WIDE - NARROW) * random());
    const from = random() * (makespan - width / 2) - width / 4;
    const free = new Uint8Array(starts.length);
    const earlier = new Int32Array(starts.length);
    for (const [item, start] of starts.entries()) {
      const within = start < from + width && start + (ticks[item] ?? 0) > from;
      // The end is no work, and what lies beyond it is not made.
      if (within || item >= this.spots.length || start > makespan) free[item] = 1;
      else if (start >= from + width) earlier[item] = 1;
    }
    return prover.reoptimise(free, earlier, limits);
  }

  private stateOf({ work }: Spot): number {
    return this.shop.works[work]?.turns?.state ?? -1;
  }

  /** Ticks of an item's people on the working clock. */
  private ticksOf({ work, start, free }: Spot): number {
    const one = this.shop.works[work];
    if (one?.begun === undefined) return one?.ticks ?? 0;
    return Math.max(0, this.clock.at(free)) - Math.max(0, this.clock.at(start));
  }

  private blocksOf(person: number): { readonly blocks: readonly Block[]; readonly within: readonly Arc[] } {
    const { shop } = this;
    const blocks: Block[] = [];
    const within: Arc[] = [];
    const mine = [...this.spots.entries()]
      .filter(([, { people }]) => people.includes(person))
      .sort(([, a], [, b]) => inOrder(a, b));
    for (const [item, spot] of mine) {
      const position = shop.works[spot.work]?.position ?? -1;
      const before = blocks.at(-1);
      const ticks = this.ticksOf(spot);
      if (position < 0 && before !== undefined) {
        within.push([before.last, item, before.ticks]);
        blocks[blocks.length - 1] = { ...before, last: item, ticks };
      } else
        blocks.push({
          first: item,
          last: item,
          ticks,
          position: position < 0 ? (shop.people[person]?.at ?? -1) : position,
        });
    }
    return { blocks, within };
  }

  private way(from: number, to: number): number {
    return from < 0 || to < 0 ? 0 : (this.shop.moves[from]?.[to] ?? 0);
  }

  /** The model with each person's works one after the other, with the ways between, and none of them while the person is away. */
  private withPeople(model: Model): Model {
    const { shop } = this;
    const arcs: Arc[] = [];
    const either: Arc[] = [];
    const or: Arc[] = [];
    const earliest = model.earliest.slice();
    const bars: Span[][] = [...earliest.keys()].map((item) =>
      [...model.barFrom.slice(model.bar[item], model.bar[item + 1])].map((from, place) => [
        from,
        model.barUntil[(model.bar[item] ?? 0) + place] ?? from,
      ]),
    );
    for (const [person, { at }] of shop.people.entries()) {
      const { blocks, within } = this.blocksOf(person);
      arcs.push(...within);
      for (const [place, one] of blocks.entries()) {
        if (!this.hasBegun(one.first))
          earliest[one.first] = Math.max(earliest[one.first] ?? 0, this.way(at, one.position));
        for (const two of blocks.slice(place + 1)) {
          either.push([one.last, two.first, one.ticks + this.way(one.position, two.position)]);
          or.push([two.last, one.first, two.ticks + this.way(two.position, one.position)]);
        }
      }
      const away = absencesOf(shop, this.clock, person);
      for (const [item, spot] of this.spots.entries())
        if (spot.people.includes(person) && !this.hasBegun(item))
          for (const [from, until] of away) bars[item]?.push([from - this.ticksOf(spot) + 1, until]);
    }
    return {
      ...model,
      earliest,
      arcs: withArcs(model.arcs, arcs),
      either: withArcs(model.either, either),
      or: withArcs(model.or, or),
      ...packBars(bars),
    };
  }

  private hasBegun(item: number): boolean {
    return this.shop.works[this.spots[item]?.work ?? -1]?.begun !== undefined;
  }

  /** The schedule of these starts, when the rules allow it. */
  private builtFrom(starts: Int32Array): Built | undefined {
    const { shop, spots } = this;
    const placed = spots.map((spot, item): Spot => {
      const work = shop.works[spot.work];
      if (work === undefined || work.begun !== undefined) return spot;
      const start = this.tickOf(starts[item] ?? 0, work.people > 0);
      const free =
        work.pauses && work.people > 0
          ? workedOff(
              spot.people.map((person) => shop.people[person]?.spells ?? []),
              start,
              work.ticks,
            )
          : start + work.ticks;
      return { ...spot, start, free, end: free + work.alone };
    });
    // A change that lies beyond the end is not made.
    const changes = placed.slice(shop.tasks).filter((_, turn) => {
      const item = shop.tasks + turn;
      return (starts[item] ?? 0) + (this.relaxed.model.ticks[item] ?? 0) <= this.prover.makespan;
    });
    const built = tally(shop, placed.slice(0, shop.tasks), changes);
    return check(shop.problem, scheduleOf(shop, built)).legal ? built : undefined;
  }

  /** The tick of a working tick: the end of a cut rather than its beginning for what people do. */
  private tickOf(working: number, attended: boolean): number {
    const { cuts } = this.clock;
    const tick = this.clock.when(working);
    if (attended) for (let cut = 0; cut < cuts.length; cut += 2) if (cuts[cut] === tick) return cuts[cut + 1] ?? tick;
    return tick;
  }
}

/** Windows without a shorter schedule after which another one is tried. */
const PATIENCE = 80;

/** Shortens the schedules of a population, the best first, each until that is worth it no longer. */
export class Shortener {
  private readonly shop: Shop;
  private readonly breeder: Breeder;
  private readonly random: () => number;
  private readonly tried = new Set<Built>();
  private current: Shortening | undefined;
  /** Conflicts of schedules done with. */
  private spent = 0;
  private idle = 0;

  constructor(shop: Shop, breeder: Breeder, random: () => number) {
    this.shop = shop;
    this.breeder = breeder;
    this.random = random;
  }

  get conflicts(): number {
    return this.spent + (this.current?.conflicts ?? 0);
  }

  /** Tries so many windows. Says whether there is a new best schedule. */
  run(windows: number, limits: Limits): boolean {
    const end = this.conflicts + limits.conflicts;
    let better = false;
    for (let window = 0; window < windows && this.conflicts < end && limits.stop?.() !== true; window += 1) {
      const current = this.current ?? this.next();
      if (current === undefined) break;
      const found = current.run(this.random, { ...limits, conflicts: end - this.conflicts });
      if (found !== undefined) {
        this.tried.add(found);
        better = this.breeder.take(found) || better;
      }
      this.idle = found === undefined ? this.idle + 1 : 0;
      if (this.idle < PATIENCE && !current.closed) continue;
      this.spent += current.conflicts;
      this.current = undefined;
    }
    return better;
  }

  private next(): Shortening | undefined {
    const built = this.breeder.bestBut(this.tried);
    if (built === undefined) return undefined;
    this.tried.add(built);
    this.idle = 0;
    this.current = new Shortening(this.shop, built);
    return this.current;
  }
}
