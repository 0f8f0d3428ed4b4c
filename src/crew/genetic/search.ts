// Owns the genetic search: a population of schedules, crossed in time; each child is built anew by the decoder and takes the place of a worse one.
//
// A child keeps what ends within a window of time where the one parent has it; what ends before and after is in the order of the other parent (two-point crossover on peaks of use, after D. Debels,
// M. Vanhoucke, "A decomposition-based genetic algorithm for the resource-constrained project-scheduling problem", Operations Research 55 (2007) 457-469). Few wishes are moved at
// random, without which the population soon has nothing new to give.

import { Chance } from "./chance.ts";
import { type Decoder, GRAIN } from "./decoder.ts";
import { Population } from "./population.ts";

export interface GeneticOptions {
  /** Schedules that live at first, at least 8. The more the longer the search is meant to go on. */
  readonly population: number;
  readonly seed: number;
  /** Schedules after which the population is to have shrunk to a quarter; absent: it stays as it is. */
  readonly planned?: number;
}

export interface GeneticLimits {
  /** Schedules that this call may build at most, give or take one child. */
  readonly schedules: number;
  /** Ends when this makespan is reached. */
  readonly bound: number;
  /** Children without one that lives, one after the other, after which the call ends. */
  readonly idle?: number;
  /** Looked at every 32 children; true ends the call. */
  readonly stop?: () => boolean;
  /** Told of each lesser makespan. */
  readonly better?: () => void;
}

/** Window: share of the length, from and to. */
const NARROWEST = 0.1;
const WIDEST = 0.5;
/** How often the window is the busiest of three. */
const BUSY = 0.5;
/** How often a wish is moved, and how far at most, in ticks of a middling item. */
const MOVED = 0.03;
const FAR = 1.3;
/** Chance in the wishes of the last of the first schedules, in longest chains. */
const NOISE = 3;
/** Share of the population that is left in the end. */
const LEFT = 0.25;
const LOOK = 32;
/** Pieces of the length in which what ends is summed. */
const PIECES = 64;

export class Genetic {
  /** Of the best schedule so far. */
  makespan = Number.POSITIVE_INFINITY;
  readonly starts: Int32Array;
  readonly population: Population;
  /** Children since the last that lives. */
  idle = 0;
  private readonly decoder: Decoder;
  private readonly chance: Chance;
  private readonly planned: number | undefined;
  private readonly begun: number;
  private readonly wishes: Int32Array;
  /** Work that ends by the end of each piece of the parent's length. */
  private readonly ended = new Float64Array(PIECES + 1);
  private readonly far: number;
  private readonly longest: number;
  private windowFrom = 0;
  private windowUntil = 0;
  private full = false;

  constructor(decoder: Decoder, { population, seed, planned }: GeneticOptions) {
    const { size, ticks, order } = decoder;
    this.decoder = decoder;
    this.population = new Population(size, population);
    this.chance = new Chance(seed);
    this.planned = planned;
    this.begun = decoder.schedules;
    this.starts = new Int32Array(size);
    this.wishes = new Int32Array(size);
    const total = ticks.reduce((sum, one) => sum + one, 0);
    this.far = Math.max(1, Math.round((FAR * GRAIN * total) / Math.max(1, size)));
    this.longest = order.reduce((most, start, item) => Math.max(most, start + ticks[item]!), 1);
  }

  /** Goes on until a limit; may be called again. */
  run({ schedules, bound, idle = Number.POSITIVE_INFINITY, stop, better }: GeneticLimits): void {
    const { decoder, population } = this;
    const until = decoder.schedules + schedules;
    for (let child = 0; decoder.schedules < until && this.makespan > bound && this.idle < idle; child += 1) {
      if (child % LOOK === LOOK - 1 && stop?.() === true) return;
      const before = this.makespan;
      if (this.full) this.cross();
      else this.fresh();
      if (this.makespan < before) better?.();
      if (this.planned !== undefined) this.shrink(this.planned);
      this.full ||= population.count === population.most;
    }
  }

  /** Takes a schedule from elsewhere: what the decoder makes of its starts lives in the place of the worst. */
  take(starts: ArrayLike<number>): void {
    const { wishes, population } = this;
    for (let item = 0; item < wishes.length; item += 1) wishes[item] = starts[item]! * GRAIN;
    if (!this.build(true)) return;
    let worst = 0;
    for (let one = 1; one < population.count; one += 1) worst = population.worse(worst, one);
    this.put(population.count < population.most ? population.count : worst);
  }

  private shrink(planned: number): void {
    const { population, decoder } = this;
    if (!this.full) return;
    const gone = Math.min(1, (decoder.schedules - this.begun) / planned);
    population.shrink(Math.max(8, Math.ceil(population.most * (1 - (1 - LEFT) * gone))));
  }

  private build(late: boolean): boolean {
    const { decoder } = this;
    const found = decoder.decode(this.wishes, late);
    if (found && decoder.makespan < this.makespan) {
      this.makespan = decoder.makespan;
      this.starts.set(decoder.starts);
    }
    return found;
  }

  private put(place: number): void {
    const { starts, makespan, secondary } = this.decoder;
    this.population.put(place, starts, makespan, secondary);
    this.idle = 0;
  }

  /** A schedule by the decoder's own order, with the more chance the more there are. */
  private fresh(): void {
    const { decoder, wishes, chance, population, longest } = this;
    const noise = (NOISE * longest * GRAIN * population.count) / population.most;
    for (let item = 0; item < wishes.length; item += 1)
      wishes[item] = Math.min(decoder.farthest, decoder.order[item]! * GRAIN + chance.whole(noise + GRAIN));
    if (!this.build(true)) this.idle += 1;
    // Where there are only few different ones the search must begin with those.
    else if (!population.has(decoder.makespan, decoder.secondary) || this.idle > population.most)
      this.put(population.count);
    else this.idle += 1;
  }

  private cross(): void {
    const { population, decoder, chance } = this;
    const one = population.draw(chance);
    let two = population.draw(chance);
    if (two === one) two = (one + 1 + chance.whole(population.count - 1)) % population.count;
    this.chooseWindow(one);
    this.wish(one, two);
    this.idle += 1;
    if (!this.build(true) || population.has(decoder.makespan, decoder.secondary)) return;
    const { makespan, secondary } = decoder;
    // Of the two parents the one lives on whose window the child has not: that keeps the population wide.
    if (population.isWorse(two, makespan, secondary)) this.put(two);
    else {
      const any = population.worse(
        chance.whole(population.count),
        population.worse(chance.whole(population.count), chance.whole(population.count)),
      );
      if (population.isWorse(any, makespan, secondary)) this.put(any);
    }
  }

  /** Where most work ends, of three windows; or any. */
  private chooseWindow(parent: number): void {
    const { population, decoder, chance, ended } = this;
    const { size, ticks, work } = decoder;
    const length = population.makespans[parent]!;
    const tries = chance.next() < BUSY ? 3 : 1;
    if (tries > 1) {
      ended.fill(0);
      const scale = PIECES / (length + 1);
      for (let item = 0, at = parent * size; item < size; item += 1, at += 1) {
        const piece = 1 + Math.floor((population.starts[at]! + ticks[item]!) * scale);
        ended[piece] = ended[piece]! + work[item]!;
      }
      for (let piece = 1; piece <= PIECES; piece += 1) ended[piece] = ended[piece]! + ended[piece - 1]!;
    }
    let densest = -1;
    for (let attempt = 0; attempt < tries; attempt += 1) {
      const width = NARROWEST + (WIDEST - NARROWEST) * chance.next();
      const from = chance.next() * (1 - width);
      const density = (ended[Math.floor((from + width) * PIECES)]! - ended[Math.floor(from * PIECES)]!) / width;
      if (density <= densest) continue;
      densest = density;
      this.windowFrom = from * length;
      this.windowUntil = (from + width) * length;
    }
  }

  /** What ends in the window as in the one, before and after it as in the other. */
  private wish(one: number, two: number): void {
    const { population, decoder, wishes, chance, windowFrom, windowUntil, far } = this;
    const { size, ticks, farthest } = decoder;
    const { starts, makespans } = population;
    const apart = Math.max(makespans[one]!, makespans[two]!) * GRAIN;
    for (let item = 0, own = one * size, other = two * size; item < size; item += 1, own += 1, other += 1) {
      const end = starts[own]! + ticks[item]!;
      let wish = apart + far;
      if (end < windowFrom) wish += starts[other]! * GRAIN - apart;
      else if (end > windowUntil) wish += starts[other]! * GRAIN + apart;
      else wish += starts[own]! * GRAIN;
      if (chance.next() < MOVED) wish += chance.whole(2 * far + 1) - far;
      wish += chance.whole(GRAIN);
      wishes[item] = Math.min(wish, farthest);
    }
  }
}
