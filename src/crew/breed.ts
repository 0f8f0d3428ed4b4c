// Owns the search among schedules of the full question: a population of start times, crossed in time, each child built anew by the rules.
//
// As in the plain search a child keeps what ends within a window of time from the one parent and takes the rest from the other (crossover in time, after Debels and
// Vanhoucke 2007), and is then built twice: backwards for an order of preference, forwards for a schedule.

import type { Built } from "./built.ts";
import { mirrored, mirrorTick } from "./mirror.ts";
import { orderOf } from "./order.ts";
import { Board, type Taste } from "./place.ts";
import type { Shop } from "./shop.ts";

/** The better of two: less time, each task told to others counted `worth` ticks; then less labour, then fewer moves, then earlier ends. Negative: `a`. */
const compareAt = (worth: number, a: Built, b: Built): number =>
  a.finish + worth * a.retold - (b.finish + worth * b.retold) ||
  a.labour - b.labour ||
  a.moves - b.moves ||
  a.sum - b.sum;

const POPULATION = 40;

/** Length of the longest chain from each task's start to the end. */
const tailsOf = (shop: Shop, followers: readonly (readonly number[])[]): Float64Array => {
  const tails = new Float64Array(shop.tasks).fill(-1);
  const lengthOf = (task: number): number => (shop.works[task]?.ticks ?? 0) + (shop.works[task]?.alone ?? 0);
  for (let root = 0; root < shop.tasks; root += 1) {
    const stack = [root];
    while (stack.length > 0) {
      const task = stack[stack.length - 1] ?? 0;
      const open = (followers[task] ?? []).filter((next) => (tails[next] ?? -1) < 0 && !stack.includes(next));
      if (open.length > 0) {
        stack.push(open[0] ?? 0);
        continue;
      }
      stack.pop();
      const longest = (followers[task] ?? []).reduce((most, next) => Math.max(most, tails[next] ?? 0), 0);
      tails[task] = lengthOf(task) + longest;
    }
  }
  return tails;
};

export class Breeder {
  private readonly shop: Shop;
  private readonly board: Board;
  /** The board of the shop turned round, and from which end. */
  private back: Board | undefined;
  private backFrom = Number.NaN;
  private readonly random: () => number;
  private readonly tails: Float64Array;
  private readonly keys: Float64Array;
  private readonly turning: number;
  private population: Built[] = [];
  built = 0;
  best: Built | undefined;

  constructor(shop: Shop, random: () => number) {
    this.shop = shop;
    const order = orderOf(shop);
    this.board = new Board(shop, order);
    this.random = random;
    this.tails = tailsOf(shop, order.followers);
    this.keys = new Float64Array(shop.tasks);
    this.turning = shop.states.reduce(
      (most, { turn }) => Math.max(most, ...turn.map((work) => shop.works[work]?.ticks ?? 0)),
      0,
    );
  }

  private compare(a: Built, b: Built): number {
    return compareAt(this.shop.worth, a, b);
  }

  /** Builds from these keys; the schedule joins the population where it is good enough. Says whether it is the best so far. */
  tryKeys(keys: ArrayLike<number>, taste: Taste): boolean {
    const child = this.board.build(keys, taste);
    this.built += 1;
    return child !== undefined && this.take(child);
  }

  /** A schedule joins the population where it is good enough. Says whether it is the best so far. */
  take(child: Built): boolean {
    const better = this.best === undefined || this.compare(child, this.best) < 0;
    if (better) this.best = child;
    this.admit(child);
    return better;
  }

  /** The best one of the population that is not among these. */
  bestBut(others: ReadonlySet<Built>): Built | undefined {
    let best: Built | undefined;
    for (const one of this.population)
      if (!others.has(one) && (best === undefined || this.compare(one, best) < 0)) best = one;
    return best;
  }

  /** One more schedule: a fresh one until there are enough, then a child. */
  step(): boolean {
    return this.population.length < POPULATION && this.built < 3 * POPULATION ? this.fresh() : this.cross();
  }

  private fresh(): boolean {
    const { keys, tails, random } = this;
    const longest = tails.reduce((most, tail) => Math.max(most, tail), 1);
    const noise = this.built === 0 ? 0 : (longest * (this.built % POPULATION)) / POPULATION / 2;
    for (let task = 0; task < keys.length; task += 1) {
      // The first of all carries on with what was told.
      const told = this.built === 0 ? this.shop.works[task]?.told?.start : undefined;
      keys[task] = told ?? this.shop.now + longest - (tails[task] ?? 0) + noise * random();
    }
    return this.tryKeys(keys, this.taste());
  }

  private taste(): Taste {
    const draw = this.built === 0 ? 0 : this.random();
    const turning = draw < 0.5 ? 1e9 : draw < 0.8 ? 4 * this.turning : 0;
    return { turning, moving: this.stay(), walking: this.walk(), loyal: this.loyal() };
  }

  private stay(): number {
    const draw = this.random();
    return draw < 0.3 ? 0 : draw < 0.5 ? 1 : draw < 0.75 ? 3 : 8;
  }

  /** Of those who were told something, the first carry on with it, and half of the others. */
  private loyal(): boolean {
    return this.shop.worth > 0 && (this.built === 0 || this.random() < 0.5);
  }

  private walk(): number {
    const draw = this.random();
    return draw < 0.3 ? 0 : draw < 0.7 ? 1 : 2;
  }

  private admit(child: Built): void {
    const { population } = this;
    if (population.some((one) => this.compare(one, child) === 0)) return;
    if (population.length < POPULATION) population.push(child);
    else {
      let worst = 0;
      for (let place = 1; place < population.length; place += 1) {
        const one = population[place];
        const other = population[worst];
        if (one !== undefined && other !== undefined && this.compare(one, other) > 0) worst = place;
      }
      const last = population[worst];
      if (last !== undefined && this.compare(child, last) < 0) population[worst] = child;
    }
  }

  private parent(): Built | undefined {
    const { population, random } = this;
    const one = population[Math.floor(random() * population.length)];
    const two = population[Math.floor(random() * population.length)];
    return one !== undefined && two !== undefined && this.compare(one, two) > 0 ? two : one;
  }

  private cross(): boolean {
    const { keys, random, shop } = this;
    const one = this.parent();
    const two = this.parent();
    if (one === undefined || two === undefined) return this.fresh();
    const length = one.finish - shop.now;
    const width = length * (0.1 + 0.5 * random());
    const from = shop.now + random() * Math.max(1, length - width);
    const stretch = random() < 0.5 ? 0.01 : 0.04;
    for (let task = 0; task < keys.length; task += 1) {
      const mine = one.tasks[task];
      const other = two.tasks[task];
      if (mine === undefined || other === undefined) continue;
      const inside = mine.end >= from && mine.end <= from + width;
      // What lies outside the window keeps the other parent's order on its side of it.
      const key = inside ? mine.start : other.start + (other.end > from + width ? width / 4 : 0);
      keys[task] = key + (random() < 0.15 ? (random() - 0.5) * length * stretch * 4 : (random() - 0.5) * 0.5);
    }
    const taste = {
      turning: random() < 0.7 ? 0 : random() < 0.5 ? this.turning : 1e9,
      moving: this.stay(),
      walking: this.walk(),
      loyal: this.loyal(),
    };
    this.justify(one.finish, taste);
    return this.tryKeys(keys, taste);
  }

  /** Makes the keys how late each task begins when everything is put off from the end (justification; Valls, Ballestín and Quintanilla 2005). */
  private justify(finish: number, taste: Taste): void {
    const { shop, keys } = this;
    const moves = shop.people.some(({ spells }) => spells.some((tick) => Number.isFinite(tick)));
    if (this.back === undefined ? Number.isNaN(this.backFrom) : moves && this.backFrom !== finish) {
      const round = mirrored(shop, finish);
      this.backFrom = finish;
      if (round !== undefined) this.back = new Board(round, orderOf(round));
    }
    if (this.back === undefined) return;
    for (let task = 0; task < keys.length; task += 1)
      keys[task] = mirrorTick(shop, this.backFrom, (keys[task] ?? 0) + (shop.works[task]?.ticks ?? 0));
    const built = this.back.build(keys, taste);
    this.built += 1;
    for (let task = 0; task < keys.length; task += 1)
      keys[task] = mirrorTick(
        shop,
        this.backFrom,
        built === undefined ? (keys[task] ?? 0) + (shop.works[task]?.ticks ?? 0) : (built.tasks[task]?.end ?? 0),
      );
  }
}
