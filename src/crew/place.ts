// Owns building a schedule from an order of preference: each task in turn at the earliest time at which every rule (C1 to C13) lets it begin, states turned when a task asks for it.

import { type Built, type Spot, tally } from "./built.ts";
import { Diary, workedOff } from "./diary.ts";
import { Lane } from "./lane.ts";
import type { Order } from "./order.ts";
import { type Bench, isAlways, type Shop, type ShopWork } from "./shop.ts";

/** What a state is from `from` on, until its next change begins. `busy`: no change before that. */
interface Phase {
  readonly value: boolean;
  readonly from: number;
  until: number;
  busy: number;
}

/** How an order of preference is read. */
export interface Taste {
  /** Added to the key of a task that needs a state turned first, ticks. */
  readonly turning: number;
  /** Added to the key of a task for each tick that who could be there first has to come: keeps people where they are. */
  readonly moving: number;
  /** Ticks of waiting for somebody who has less far to come that one tick of the way is worth. */
  readonly walking: number;
  /** Whoever was told to do a task does it, even where others could sooner. */
  readonly loyal?: boolean;
}

const NEVER = Number.POSITIVE_INFINITY;
/** States turned for a change of state, one for the other, before it is given up. */
const DEEPEST = 4;
/** Changes put in for one work before it is given up: states that undo one another. */
const MOST_TURNS = 8;
/** How often a schedule is begun again because something was too late after what it must soon follow. */
const MOST_AGAIN = 40;

/** Seats people, cheapest first, so that every bench is filled; undefined where that cannot be. The cheapest people that can be seated: seatings are a matroid. */
const seat = (benches: readonly Bench[], people: readonly number[], need: number): readonly number[] | undefined => {
  if (need === 0) return [];
  const plain = benches.length === 1 ? benches[0] : undefined;
  if (plain !== undefined) {
    const fit: number[] = [];
    for (const person of people) {
      if (plain.can[person] !== 1) continue;
      fit.push(person);
      if (fit.length === need) return fit;
    }
    return undefined;
  }
  const chairs = benches.flatMap(({ count, can }) => Array.from({ length: count }, () => can));
  const taken: number[] = chairs.map(() => -1);
  const place = (person: number, seen: boolean[]): boolean => {
    for (const [chair, can] of chairs.entries()) {
      if (can[person] !== 1 || seen[chair] === true) continue;
      seen[chair] = true;
      const other = taken[chair] ?? -1;
      if (other < 0 || place(other, seen)) {
        taken[chair] = person;
        return true;
      }
    }
    return false;
  };
  let seated = 0;
  for (const person of people) {
    if (place(person, [])) seated += 1;
    if (seated === need) return taken;
  }
  return undefined;
};

export class Board {
  private readonly shop: Shop;
  /** Nobody is ever away. */
  private readonly always: boolean;
  private readonly diaries: readonly Diary[];
  private readonly stocks: readonly Lane[];
  private readonly rooms: readonly Lane[];
  /** Spans in which a position must be empty. */
  private readonly emptied: readonly Lane[];
  private phases: Phase[][] = [];
  private readonly spots: (Spot | undefined)[];
  private changes: Spot[] = [];
  private readonly floors: Float64Array;
  /** Works that come after each in the order of placing, and how many come before. */
  private readonly followers: readonly (readonly number[])[];
  private readonly leaders: Int32Array;
  /** States that never change again once the task begins. */
  private readonly seals: readonly (readonly number[])[];
  /** What comes after a task and may be put down before it. */
  private readonly loose: Order["loose"];
  private readonly openHolds = new Map<number, number>();
  /** By task: holds that begin with it. */
  private readonly holdsFrom: readonly (readonly { readonly stock: number; readonly count: number }[])[];
  /** By task that nothing waits for any more: when what comes before allows it. */
  private readonly readyAt: Float64Array;
  /** By person, of the work that people are sought for: by when each has to be free, and what each costs. */
  private readonly limits: Float64Array;
  private readonly prices: Float64Array;
  private again = false;
  private walking = 0;
  private loyal = false;

  constructor(shop: Shop, { followers, loose, seals }: Order) {
    this.shop = shop;
    this.always = shop.people.every(isAlways);
    this.diaries = shop.people.map((person) => new Diary(person, shop.moves, shop.now));
    this.stocks = shop.stocks.map((count) => new Lane(count));
    this.rooms = shop.rooms.map((room) => new Lane(room));
    this.emptied = shop.rooms.map(() => new Lane(1));
    this.spots = new Array<Spot | undefined>(shop.tasks).fill(undefined);
    this.floors = new Float64Array(shop.tasks);
    this.followers = followers;
    this.leaders = new Int32Array(shop.tasks);
    for (const list of followers) for (const task of list) this.leaders[task] = (this.leaders[task] ?? 0) + 1;
    this.seals = seals;
    this.loose = loose;
    this.holdsFrom = shop.works.map((_, task) => shop.holds.filter(({ from }) => from === task));
    this.readyAt = new Float64Array(shop.tasks);
    this.limits = new Float64Array(shop.people.length);
    this.prices = new Float64Array(shop.people.length);
  }

  /** Builds a schedule, tasks of low key first; undefined where this order leads to none. */
  build(keys: ArrayLike<number>, taste: Taste): Built | undefined {
    this.floors.fill(this.shop.now);
    this.walking = taste.walking;
    this.loyal = taste.loyal === true;
    for (let attempt = 0; attempt < MOST_AGAIN; attempt += 1) {
      this.again = false;
      const built = this.attempt(keys, taste);
      if (built !== undefined || !this.again) return built;
    }
    return undefined;
  }

  private clear(): void {
    for (const list of [this.diaries, this.stocks, this.rooms, this.emptied]) for (const one of list) one.clear();
    this.phases = this.shop.states.map(({ on }) => [
      { value: on, from: Number.NEGATIVE_INFINITY, until: NEVER, busy: this.shop.now },
    ]);
    this.spots.fill(undefined);
    this.changes = [];
    this.openHolds.clear();
  }

  private attempt(keys: ArrayLike<number>, taste: Taste): Built | undefined {
    const { shop, followers } = this;
    this.clear();
    const waiting = this.leaders.slice();
    // What nothing waits for any more, low keys first.
    const ready: number[] = [];
    const come = (task: number): void => {
      const work = shop.works[task];
      if (work !== undefined) this.readyAt[task] = this.afterAll(work, shop.now);
      const key = keys[task] ?? 0;
      let place = ready.push(task) - 1;
      for (; place > 0 && (keys[ready[place - 1] ?? 0] ?? 0) > key; place -= 1) ready[place] = ready[place - 1] ?? 0;
      ready[place] = task;
    };
    const done = (task: number): void => {
      for (const next of followers[task] ?? []) {
        waiting[next] = (waiting[next] ?? 0) - 1;
        if (waiting[next] === 0 && this.spots[next] === undefined) come(next);
      }
    };
    // What had begun stands first, whatever waits for what.
    for (let task = 0; task < shop.tasks; task += 1) {
      const work = shop.works[task];
      if (work?.begun !== undefined) this.stand(task, work);
    }
    for (let task = 0; task < shop.tasks; task += 1)
      if (waiting[task] === 0 && this.spots[task] === undefined) come(task);
    for (let task = 0; task < shop.tasks; task += 1) if (this.spots[task] !== undefined) done(task);

    const refused = new Set<number>();
    while (ready.length > 0) {
      let best = -1;
      let least = NEVER;
      for (let place = 0; place < ready.length; place += 1) {
        const task = ready[place] ?? 0;
        // By key: what comes later can only be worse.
        if ((keys[task] ?? 0) >= least) break;
        if (refused.size > 0 && refused.has(task)) continue;
        const key = (keys[task] ?? 0) + this.penalty(task, taste);
        if (key < least) {
          least = key;
          best = place;
        }
      }
      if (best < 0) return undefined;
      const task = ready[best] ?? 0;
      if (this.put(task)) {
        ready.splice(best, 1);
        refused.clear();
        done(task);
      } else if (this.again) return undefined;
      else refused.add(task);
    }
    if (this.spots.includes(undefined)) return undefined;
    // Turning one to its end may turn another away from its own.
    for (let turns = 0; ; turns += 1) {
      const left = shop.states.findIndex(
        ({ end }, state) => end !== undefined && this.phases[state]?.at(-1)?.value !== end,
      );
      if (left < 0)
        return tally(
          shop,
          this.spots.filter((spot) => spot !== undefined),
          this.changes,
        );
      if (turns === MOST_TURNS || !this.turn(left, shop.states[left]?.end === true, DEEPEST)) return undefined;
    }
  }

  private penalty(task: number, { turning, moving }: Taste): number {
    const work = this.shop.works[task];
    if (work === undefined) return 0;
    let sum = 0;
    if (turning > 0) for (const { state, value } of work.wants) if (this.lastOf(state)?.value !== value) sum += turning;
    if (moving > 0 && work.position >= 0 && work.people > 0) sum += moving * this.farFrom(task, work);
    return sum;
  }

  private lastOf(state: number): Phase | undefined {
    const phases = this.phases[state];
    return phases === undefined ? undefined : phases[phases.length - 1];
  }

  /** When all that a task comes after allows it. */
  private afterAll(work: ShopWork, from: number): number {
    let ready = from;
    for (const { work: before, least } of work.after) ready = Math.max(ready, (this.spots[before]?.end ?? 0) + least);
    return ready;
  }

  /** How far whoever could be there first has to come. */
  private farFrom(task: number, work: ShopWork): number {
    const ready = this.readyAt[task] ?? 0;
    let soonest = NEVER;
    let way = 0;
    for (const person of work.able) {
      const diary = this.diaries[person];
      if (diary === undefined) continue;
      const own = diary.wayOn(work.position);
      const there = Math.max(ready, diary.free + own);
      if (there > soonest || (there === soonest && own >= way)) continue;
      soonest = there;
      way = own;
    }
    return way;
  }

  /** Puts down what had begun. */
  private stand(task: number, work: ShopWork): void {
    const begun = work.begun;
    if (begun === undefined) return;
    const spells = begun.people.map((person) => this.shop.people[person]?.spells ?? []);
    const free =
      work.pauses && spells.length > 0 ? workedOff(spells, begun.start, work.ticks) : begun.start + work.ticks;
    this.note(task, work, { start: begun.start, free, people: begun.people });
  }

  /** Places a task at the earliest time; false where it has none. */
  private put(task: number): boolean {
    const work = this.shop.works[task];
    if (work === undefined) return false;
    let from = this.afterAll(work, this.floors[task] ?? 0);
    for (const state of this.seals[task] ?? []) from = Math.max(from, this.lastOf(state)?.from ?? 0);
    const found = this.find(task, work, from, DEEPEST);
    if (found === undefined) return false;
    for (const { work: before, most } of work.after) {
      const spot = this.spots[before];
      if (spot === undefined || found.start <= spot.end + most) continue;
      // Too late after it: it is to begin later itself.
      if (this.shop.works[before]?.begun !== undefined) return false;
      this.floors[before] = Math.max(spot.start + 1, found.start - most - (spot.end - spot.start));
      this.again = true;
      return false;
    }
    for (const { task: later, least } of this.loose[task] ?? []) {
      const spot = this.spots[later];
      const due = found.free + work.alone + least;
      if (spot === undefined || spot.start >= due) continue;
      // Put down before it and too soon.
      if (later === task || this.shop.works[later]?.begun !== undefined) return false;
      this.floors[later] = due;
      this.again = true;
      return false;
    }
    this.note(task, work, found);
    return true;
  }

  private note(task: number, work: ShopWork, found: { start: number; free: number; people: readonly number[] }): Spot {
    const { start, free, people } = found;
    const end = free + work.alone;
    for (const person of people) this.diaries[person]?.add({ start, free, position: work.position });
    for (const { stock, count } of work.uses) this.stocks[stock]?.take(start, end, count);
    if (work.position >= 0 && work.people > 0) this.rooms[work.position]?.take(start, free, work.people);
    for (const position of work.empties) this.emptied[position]?.take(start, end, 1);
    for (const { state } of work.wants) {
      for (const phase of this.phases[state] ?? [])
        if (phase.from <= start && end <= phase.until) phase.busy = Math.max(phase.busy, end);
    }
    const spot = { work: task, start, free, end, people };
    if (work.turns === undefined) {
      this.spots[task] = spot;
      for (const [hold, { stock, count, from, until }] of this.shop.holds.entries()) {
        const lane = this.stocks[stock];
        if (lane === undefined) continue;
        if (from === task) this.openHolds.set(hold, lane.take(start, this.spots[until]?.end ?? NEVER, count));
        else if (until === task && this.openHolds.has(hold)) lane.close(this.openHolds.get(hold) ?? 0, end);
      }
    }
    return spot;
  }

  /** The earliest start from `from` on, with the people who do it. */
  private find(
    task: number,
    work: ShopWork,
    from: number,
    depth: number,
  ): { start: number; free: number; people: readonly number[] } | undefined {
    let start = from;
    let turns = 0;
    while (start < NEVER) {
      const clear = this.clearFrom(task, work, start, work.ticks);
      if (clear === undefined) {
        // Only another phase of a state lets it begin.
        turns += 1;
        if (depth === 0 || turns > MOST_TURNS || !this.turnFor(work, start, depth)) return undefined;
        continue;
      }
      if (clear > start) {
        start = clear;
        continue;
      }
      const team = this.team(work, start);
      if (typeof team === "number") {
        start = team;
        continue;
      }
      if (team.free > start + work.ticks) {
        const longer = this.clearFrom(task, work, start, team.free - start);
        if (longer === undefined || longer > start) {
          start = longer ?? start + 1;
          continue;
        }
      }
      return { start, ...team };
    }
    return undefined;
  }

  /** The earliest time from `from` on at which places, stocks and states allow a work of this length; one step towards it at least. Undefined: a state must be turned. */
  private clearFrom(task: number, work: ShopWork, from: number, length: number): number | undefined {
    let start = from;
    const whole = length + work.alone;
    for (const { state, value } of work.wants) {
      const opens = this.phaseFrom(state, value, start, whole);
      if (opens === NEVER) return undefined;
      start = Math.max(start, opens);
    }
    for (const { stock, count } of work.uses) start = this.stocks[stock]?.earliest(start, whole, count) ?? NEVER;
    for (const { stock, count } of this.holdsFrom[task] ?? []) {
      const own = work.uses.reduce((sum, use) => sum + (use.stock === stock ? use.count : 0), 0);
      start = this.stocks[stock]?.earliest(start, Number.MAX_VALUE, count) ?? NEVER;
      if (own > 0) start = this.stocks[stock]?.earliest(start, whole, count + own) ?? NEVER;
    }
    if (work.position >= 0 && work.people > 0) {
      start = this.rooms[work.position]?.earliest(start, length, work.people) ?? NEVER;
      start = this.emptied[work.position]?.earliest(start, length, 1) ?? NEVER;
    }
    for (const position of work.empties) {
      const room = this.rooms[position];
      start = room?.earliest(start, whole, room.capacity) ?? NEVER;
    }
    for (const other of work.apart) {
      const spot = this.spots[other];
      if (spot !== undefined && spot.start < start + whole && start < spot.end) start = spot.end;
    }
    return start;
  }

  /** When the first phase begins in which a state has the value for so long from `start` on; Infinity: none does. */
  private phaseFrom(state: number, value: boolean, start: number, length: number): number {
    for (const phase of this.phases[state] ?? [])
      if (phase.value === value && Math.max(phase.from, start) + length <= phase.until) return phase.from;
    return NEVER;
  }

  /** The people for a work at this very time and when they are free, or else the next time at which somebody else could. */
  private team(work: ShopWork, start: number): { free: number; people: readonly number[] } | number {
    if (work.people === 0) return { free: start + work.ticks, people: [] };
    const { limits, prices } = this;
    let people: number[] = [];
    let next = NEVER;
    let nearest = NEVER;
    let nearestAt = NEVER;
    for (const person of work.able) {
      const diary = this.diaries[person];
      if (this.loyal && work.told?.people.includes(person) === false) continue;
      if (diary === undefined || (work.strangers.length > 0 && this.barred(work, person))) continue;
      const from = diary.slot(work, start, work.ticks);
      limits[person] = diary.limit;
      if (this.walking > 0 && work.people === 1) {
        const price = from + this.walking * diary.wayTo(from, work.position);
        if (price < nearest || (price === nearest && from < nearestAt)) {
          nearest = price;
          nearestAt = from;
        }
      }
      if (from > start) next = Math.min(next, from);
      else {
        const idle = start - diary.free;
        const told = work.told === undefined || work.told.people.includes(person) ? 0 : 1e12;
        const price =
          told +
          diary.wayTo(start, work.position) * 1e6 +
          (this.shop.people[person]?.skills ?? 0) * 1e3 -
          Math.max(0, Math.min(idle, 999));
        prices[person] = price;
        let place = people.push(person) - 1;
        for (; place > 0 && (prices[people[place - 1] ?? 0] ?? 0) > price; place -= 1)
          people[place] = people[place - 1] ?? 0;
        people[place] = person;
      }
    }
    if (nearestAt > start && nearestAt < NEVER) return nearestAt;
    for (;;) {
      const seated = seat(work.benches, people, work.people);
      if (seated === undefined) return next;
      if (!work.pauses || this.always) return { free: start + work.ticks, people: seated };
      const free = workedOff(
        seated.map((person) => this.shop.people[person]?.spells ?? []),
        start,
        work.ticks,
      );
      const late = seated.filter((person) => free > (limits[person] ?? NEVER));
      if (late.length === 0 && free < NEVER) return { free, people: seated };
      const drop = new Set(late.length > 0 ? late : seated.slice(0, 1));
      for (const person of drop) {
        const later = this.diaries[person]?.slot(work, start, Math.min(free, 1e9) - start) ?? NEVER;
        next = Math.min(next, Math.max(later, start + 1));
      }
      people = people.filter((person) => !drop.has(person));
    }
  }

  private barred(work: ShopWork, person: number): boolean {
    for (const other of work.strangers) if (this.bars(other, person)) return true;
    return false;
  }

  /** Whether a person may not share with another task: who did that one, and who is needed for it because the others have done what it looks at. */
  private bars(other: number, person: number): boolean {
    const spot = this.spots[other];
    if (spot !== undefined) return spot.people.includes(person);
    const looks = this.shop.works[other];
    if (looks === undefined || !looks.able.includes(person)) return false;
    const clean = (one: number): boolean => !looks.strangers.some((done) => this.spots[done]?.people.includes(one));
    if (!clean(person)) return false;
    let left = 0;
    for (const one of looks.able) if (clean(one)) left += 1;
    return left <= looks.people;
  }

  /** Turns the first state that no phase from `from` on has as the work wants it. */
  private turnFor(work: ShopWork, from: number, depth: number): boolean {
    const whole = work.ticks + work.alone;
    for (const { state, value } of work.wants) {
      const phases = this.phases[state] ?? [];
      if (phases.some((one) => one.value === value && Math.max(one.from, from) + whole <= one.until)) continue;
      return phases.at(-1)?.value !== value && this.turn(state, value, depth);
    }
    // Each state has such a phase, but not one after the other: turn the one that is wrong at the end.
    for (const { state, value } of work.wants)
      if (this.phases[state]?.at(-1)?.value !== value) return this.turn(state, value, depth);
    return false;
  }

  /** Puts a change of the state at the end of its phases. */
  private turn(state: number, value: boolean, depth: number): boolean {
    const { shop } = this;
    const one = shop.states[state];
    const side = value ? 1 : 0;
    const number = one?.turn[side] ?? -1;
    const work = shop.works[number];
    if (one === undefined || work === undefined) return false;
    const last = this.phases[state]?.at(-1);
    let from = Math.max(shop.now, last?.busy ?? 0, last?.from ?? 0);
    for (const task of one.after[side]) {
      const spot = this.spots[task];
      if (spot === undefined) return false;
      from = Math.max(from, spot.end);
    }
    const found = this.find(number, work, from, depth - 1);
    if (found === undefined) return false;
    // Looking for it may have turned this very state for the sake of another.
    if (this.phases[state]?.at(-1) !== last || last === undefined || last.busy > found.start) return false;
    for (const task of one.before[side]) if ((this.spots[task]?.start ?? NEVER) < found.free) return false;
    const spot = this.note(number, work, found);
    this.changes.push(spot);
    last.until = spot.start;
    this.phases[state]?.push({ value, from: spot.end, until: NEVER, busy: spot.end });
    return true;
  }
}
