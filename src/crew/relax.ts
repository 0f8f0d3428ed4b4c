// Owns the bridge from the shop to the model of ticks and arcs: a relaxation, in which every legal schedule that ends by a given tick has its place.
//
// People are counted, not named: for each set of skills asked for, those who have any of it are a lane (Hall's condition). Who verifies and most of who walks are
// left out, but where two works must share somebody the way between them is kept. Spells when nobody is there are cut out of the clock.
// A change of state that is not made lies beyond the end, where it counts nothing.

import { absencesOf } from "./absences.ts";
import { type Alternations, alternationsOf } from "./alternations.ts";
import type { Built } from "./built.ts";
import { WorkClock } from "./clock.ts";
import { Draft, type Span } from "./draft.ts";
import type { Still } from "./lower.ts";
import type { Model } from "./model.ts";
import { isAlways, type Shop, type ShopState, type ShopWork } from "./shop.ts";
import { arrivalOf, type Stop, type Walk, walksOf } from "./walks.ts";

export interface Relaxed {
  /** Items 0 to tasks - 1 are the tasks, then come the changes of each state in turn; working ticks from `now`. */
  readonly model: Model;
  readonly clock: WorkClock;
  /** By state the item of its first change. */
  readonly changes: readonly number[];
  /** What the items after the changes are, when each of them really begins; then the walks. */
  readonly absences: readonly Absence[];
  readonly walks: readonly Walk[];
  /** By lane what it stands for. */
  readonly lanes: readonly LaneName[];
  /** Item × lane: work of changes of state that comes after the item whichever changes they are, in no arc of the model. */
  readonly still: Still;
}

/** A spell of one person, working ticks. */
export interface Absence {
  readonly person: number;
  readonly from: number;
  readonly until: number;
}

export interface LaneName {
  readonly kind: "people" | "position" | "stock";
  /** Index of the position or stock; of people how many they are. */
  readonly of: number;
}

/** Kinds of skill whose unions are all made lanes; beyond, each kind alone is. */
const MOST_KINDS = 6;

/** The people who can fill a seat, for each kind of seat and each union of kinds; everybody first. */
const skilled = (shop: Shop): readonly Uint8Array[] => {
  const all = Uint8Array.from(shop.people, () => 1);
  const kinds = new Map<string, Uint8Array>();
  for (const { benches } of shop.works) for (const { can } of benches) if (can.includes(0)) kinds.set(can.join(), can);
  const list = [...kinds.values()];
  const unions = new Map<string, Uint8Array>([[all.join(), all], ...kinds]);
  for (let set = 1; list.length <= MOST_KINDS && set < 2 ** list.length; set += 1) {
    const union = all.map((_, person) =>
      list.some((can, kind) => ((set >> kind) & 1) === 1 && can[person] === 1) ? 1 : 0,
    );
    unions.set(union.join(), union);
  }
  return [...unions.values()];
};

/** How many of these people a work takes at least: seats that only they can fill. */
const asks = (work: ShopWork, people: Uint8Array): number =>
  work.benches.reduce(
    (sum, { count, can }) => sum + (can.every((one, person) => one <= (people[person] ?? 0)) ? count : 0),
    0,
  );

/**
 * By state whether changes that are not made can always be put beyond the end so that they have what they want: one state after the other, each while those to come are as they are at the end; those before
 * have had all their changes by then, and are asked for nothing more.
 */
const orderly = (shop: Shop): readonly boolean[] => {
  const placed = shop.states.map(() => false);
  const wants = shop.states.map(({ turn }) => turn.flatMap((work) => shop.works[work]?.wants ?? []));
  for (let moved = true; moved; ) {
    moved = false;
    for (const state of placed.keys()) {
      const fits = wants[state]?.every(
        (want) => want.state === state || placed[want.state] === true || shop.states[want.state]?.end === want.value,
      );
      if (placed[state] === true || fits !== true) continue;
      placed[state] = true;
      moved = true;
    }
  }
  return placed;
};

const total = (marks: Uint8Array): number => marks.reduce((sum, one) => sum + one, 0);

/** Pairs of works that share somebody and are given the way between them; beyond, the ways are left out. */
const MOST_PAIRS = 4000;

class Relaxing {
  private readonly shop: Shop;
  private readonly draft = new Draft();
  private readonly works: ShopWork[] = [];
  private readonly clock: WorkClock;
  private readonly teams: readonly { readonly people: Uint8Array; readonly lane: number; readonly count: number }[];
  private readonly changes: number[] = [];
  private readonly lanes: LaneName[] = [];
  /** Nobody is ever away, so that work lasts as long as it says. */
  private readonly always: boolean;
  private readonly alternations: readonly Alternations[];
  private readonly lasts: readonly boolean[];
  private readonly full: boolean;
  private readonly absences: Absence[] = [];
  private readonly walks: readonly Walk[];

  constructor(shop: Shop, horizon: number, { most, open, certain, full = false, floor = 0 }: Modelled) {
    this.shop = shop;
    this.full = full;
    this.clock = new WorkClock(shop);
    this.always = shop.people.every(isAlways);
    this.alternations = shop.states.map((_, state) => alternationsOf(shop, state));
    this.lasts = orderly(shop);
    this.addItems(Math.max(0, this.clock.at(horizon)), most, certain);
    const lane = (kind: LaneName["kind"], of: number, capacity: number): number => {
      this.lanes.push({ kind, of });
      return this.draft.lane(capacity);
    };
    this.teams = skilled(shop).map((people) => ({
      people,
      count: total(people),
      lane: lane("people", total(people), total(people)),
    }));
    const rooms = shop.rooms.map((room, position) => lane("position", position, room));
    const stocks = shop.stocks.map((count, stock) => lane("stock", stock, count));
    this.addUses(rooms, stocks);
    this.addAfter();
    this.addApart();
    this.addWays();
    for (const [state, one] of shop.states.entries()) this.addState(state, one, most[state] ?? 0, open.includes(state));
    const limit = Math.max(0, this.clock.at(horizon));
    // A restriction has the breaks and ways of each person anyhow; a way may lie in a break.
    if (!full) for (const person of shop.people.keys()) this.addAbsences(person, limit, floor);
    this.walks = full || !this.always ? [] : walksOf(shop);
    for (const walk of this.walks) this.addWalk(walk, limit);
  }

  relaxed(): Relaxed {
    return {
      model: this.draft.model(),
      clock: this.clock,
      changes: this.changes,
      absences: this.absences,
      walks: this.walks,
      lanes: this.lanes,
      still: this.still(),
    };
  }

  /** Work of the changes of state that come after each task at the least. */
  private still(): Still {
    const { shop, lanes, draft } = this;
    const still = new Int32Array(draft.size * lanes.length);
    for (const [place, { on, end, turn }] of shop.states.entries()) {
      const value = end ?? on;
      for (let task = 0; task < shop.tasks; task += 1) {
        const count = this.alternations[place]?.after[task] ?? 0;
        for (let back = 0; back < count; back += 1) {
          // The last change is to the end value; where that is free, the cheaper of the two each time.
          const sides = end === undefined ? [turn[0], turn[1]] : [turn[(back % 2 === 0) === value ? 1 : 0]];
          for (const [lane, { people }] of this.teams.entries()) {
            const work = Math.min(...sides.map((side) => this.labour(side ?? 0, people)));
            still[task * lanes.length + lane] = (still[task * lanes.length + lane] ?? 0) + work;
          }
        }
      }
    }
    return { work: still, changes: shop.tasks };
  }

  private labour(work: number, people: Uint8Array): number {
    const one = this.shop.works[work];
    return one === undefined ? 0 : one.ticks * asks(one, people);
  }

  /** What is left of a span of so many ticks when it loses the most it can to spells when nobody is there. */
  private working(ticks: number): number {
    return this.full || this.clock.cuts.length === 0 ? ticks : Math.max(0, ticks - this.clock.most(ticks));
  }

  /** Ticks of an item's people: what pauses loses nothing to a cut, what is done in one go does not lie across one, what nobody attends goes on in it. */
  private attended(item: number): number {
    const work = this.works[item];
    if (work?.begun !== undefined) return this.since(work, work.ticks) - Math.max(0, this.clock.at(work.begun.start));
    return this.draft.ticks(item) - Math.min(this.working(work?.alone ?? 0), this.draft.ticks(item));
  }

  private addItems(limit: number, turns: readonly number[], certain: number | undefined): void {
    const { shop, clock } = this;
    const length = (work: ShopWork): number =>
      (work.people > 0 ? work.ticks : this.working(work.ticks)) + this.working(work.alone);
    const made: { work: ShopWork; counted: boolean }[] = shop.works
      .slice(0, shop.tasks)
      .map((work) => ({ work, counted: true }));
    for (const [place, state] of shop.states.entries()) {
      this.changes.push(made.length);
      const fewest = certain === place ? (turns[place] ?? 0) : (this.alternations[place]?.fewest ?? 0);
      for (let turn = 0; turn < (turns[place] ?? 0); turn += 1) {
        const work = shop.works[state.turn[(turn % 2 === 0) !== state.on ? 1 : 0]];
        if (work !== undefined) made.push({ work, counted: turn < fewest });
      }
    }
    // Room beyond the end for the changes that are not made, one after the other with the ways and cuts between them.
    const farthest = Math.max(0, ...shop.moves.flat());
    const beyond = made.reduce((sum, { work, counted }) => sum + (counted ? 0 : length(work) + farthest), 0);
    const far = limit + 3 * beyond + (this.always ? 0 : limit);
    for (const { work, counted } of made) {
      this.works.push(work);
      if (work.begun === undefined) {
        const latest = (counted ? limit : far) - length(work);
        this.draft.item({ ticks: length(work), counted, earliest: 0, latest }, this.barsOf(work));
      } else {
        // What had begun before now begins at 0 with what is left of it. It does not mind who is away, so what lies in a cut is no time of this clock.
        const start = Math.max(0, clock.at(work.begun.start));
        const ticks = this.since(work, work.ticks + work.alone) - start;
        this.draft.item({ ticks, counted, earliest: start, latest: start }, []);
      }
    }
  }

  /** Starts from which work done in one go would lie across a cut. */
  private barsOf(work: ShopWork): readonly Span[] {
    const { cuts } = this.clock;
    const spans: Span[] = [];
    if (work.pauses || work.people === 0 || work.ticks <= 1) return spans;
    for (let cut = 0; cut < cuts.length; cut += 2) {
      const edge = this.clock.at(cuts[cut] ?? 0);
      if (edge > 0) spans.push([edge - work.ticks + 1, edge]);
    }
    return spans;
  }

  private addUses(rooms: readonly number[], stocks: readonly number[]): void {
    const { draft, shop } = this;
    for (const [item, work] of this.works.entries()) {
      const people: [number, number][] = [];
      for (const team of this.teams) {
        const count = asks(work, team.people);
        if (count > 0) people.push([team.lane, count]);
      }
      if (work.position >= 0 && work.people > 0) people.push([rooms[work.position] ?? 0, work.people]);
      const things = work.uses.map(({ stock, count }) => [stocks[stock] ?? 0, count] as const);
      const own = { first: item, last: item, head: 0 };
      const [whole, attended] = [draft.ticks(item), this.attended(item)];
      if (whole === attended) draft.use({ ...own, tail: whole, need: [...people, ...things] });
      else {
        if (attended > 0) draft.use({ ...own, tail: attended, need: people });
        draft.use({ ...own, tail: whole, need: things });
      }
    }
    for (const { stock, count, from, until } of shop.holds)
      draft.use({ first: from, last: until, head: 0, tail: draft.ticks(until), need: [[stocks[stock] ?? 0, count]] });
  }

  /** When so many ticks at the least have passed since a work begun began; no earlier than now. */
  private since({ begun }: ShopWork, ticks: number): number {
    return this.clock.at(Math.max(this.shop.now, (begun?.start ?? 0) + ticks));
  }

  private addAfter(): void {
    const { draft } = this;
    for (const [task, { after, begun }] of this.works.entries()) {
      if (begun !== undefined) continue;
      for (const { work: before, least, most } of after) {
        const first = this.works[before];
        if (first?.begun !== undefined) {
          // It may have ended before now.
          const start = Math.max(0, this.clock.at(first.begun.start));
          draft.arc(before, task, this.since(first, first.ticks + first.alone + least) - start);
          continue;
        }
        draft.arc(before, task, draft.ticks(before) + (least > 0 ? this.working(least) : least));
        // Who is away alone, and what nobody attends, can make the first last longer in working ticks than it does here.
        const known = this.full || this.always || (first?.pauses === false && first.people > 0 && first.alone === 0);
        if (most < Number.POSITIVE_INFINITY && known)
          draft.arc(task, before, -draft.ticks(before) - (most > 0 ? most : -this.working(-most)));
      }
    }
  }

  /** The one after the other, with so much from start to start. A span without length meets nothing. */
  private part(a: number, b: number, ab: number, ba: number): void {
    if (a !== b && ab > 0 && ba > 0) this.draft.choice([a, b, ab], [b, a, ba]);
  }

  private addApart(): void {
    const { draft } = this;
    for (const [item, work] of this.works.entries()) {
      for (const other of work.apart) if (other > item) this.part(item, other, draft.ticks(item), draft.ticks(other));
      if (work.empties.length === 0) continue;
      for (const [other, at] of this.works.entries())
        if (at.people > 0 && work.empties.includes(at.position))
          this.part(item, other, draft.ticks(item), this.attended(other));
    }
  }

  /** Two works that want too many people between them share somebody, who has the way to go. */
  private addWays(): void {
    const { moves } = this.shop;
    let pairs = 0;
    const here = [...this.works.entries()].filter(
      ([item, work]) => moves.length > 0 && work.position >= 0 && work.begun === undefined && this.attended(item) > 0,
    );
    for (const [a, one] of here) {
      for (const [b, two] of here) {
        if (b <= a || one.position === two.position || pairs >= MOST_PAIRS) continue;
        if (!this.teams.some(({ people, count }) => asks(one, people) + asks(two, people) > count)) continue;
        const there = this.working(moves[one.position]?.[two.position] ?? 0);
        const back = this.working(moves[two.position]?.[one.position] ?? 0);
        if (there === 0 && back === 0) continue;
        this.part(a, b, this.attended(a) + there, this.attended(b) + back);
        pairs += 1;
      }
    }
  }

  /**
   * A person who is away works at nothing. What pauses meanwhile takes up its person at a stretch here, as if the person were away right after it instead: so an absence begins when it begins, or up to
   * the longest such work later.
   */
  private addAbsences(person: number, limit: number, floor: number): void {
    const { shop, draft } = this;
    // What had begun does not mind who is away.
    if (shop.works.some(({ begun }) => begun?.people.includes(person) === true)) return;
    const pausing = shop.works.filter(({ pauses, able }) => pauses && able.includes(person));
    const longest = pausing.reduce((most, { ticks }) => (ticks <= limit ? Math.max(most, ticks) : most), 1);
    const need = this.teams.flatMap(({ people, lane }) => (people[person] === 1 ? [[lane, 1] as const] : []));
    for (const [from, until] of absencesOf(shop, this.clock, person)) {
      if (from >= limit) break;
      const latest = from === 0 ? 0 : from + longest - 1;
      const ticks = Math.min(until, limit) - from;
      const item = draft.item({ ticks, counted: latest + ticks <= floor, earliest: from, latest }, []);
      draft.use({ first: item, last: item, head: 0, tail: ticks, need });
      this.absences.push({ person, from, until });
    }
  }

  /** A way that somebody goes, between the works that it lies between; it takes up one of those who may go it. */
  private addWalk({ ticks, after, before, then, able }: Walk, limit: number): void {
    const { draft, shop } = this;
    const itemOf = (stop: Stop): number => ("task" in stop ? stop.task : (this.changes[stop.state] ?? 0));
    const own = this.working(ticks);
    const item = draft.item({ ticks: own + then, counted: true, earliest: 0, latest: limit - own - then }, []);
    for (const stop of after) draft.arc(itemOf(stop), item, this.attended(itemOf(stop)));
    for (const stop of before) draft.arc(item, itemOf(stop), own);
    const need = this.teams.flatMap(({ people, lane }): (readonly [number, number])[] =>
      shop.people.every((_, person) => (able[person] ?? 0) <= (people[person] ?? 0)) ? [[lane, 1]] : [],
    );
    if (own > 0) draft.use({ first: item, last: item, head: 0, tail: own, need });
  }

  /** What wants one value of a state lies wholly before or after each block of the other. */
  private addState(state: number, { on, after, before }: ShopState, turns: number, open: boolean): void {
    const { draft } = this;
    const first = this.changes[state] ?? 0;
    for (let turn = 0; turn + 1 < turns; turn += 1)
      draft.arc(first + turn, first + turn + 1, draft.ticks(first + turn));
    for (const [item, { wants }] of this.works.entries()) {
      if (item >= first && item < first + turns) continue;
      for (const want of wants) {
        if (want.state !== state) continue;
        // Block b lies between change b - 1 and change b; neither is on nor off during a change.
        for (let block = 0; block <= turns; block += 1) {
          if (((block % 2 === 0) === on) === want.value) continue;
          const opens = block > 0 ? first + block - 1 : -1;
          const closes = block < turns ? first + block : -1;
          // Changes that are not made may want of one another what cannot be.
          if (closes >= 0 && !draft.counted(item) && !draft.counted(closes) && !this.lasts[state]) continue;
          if (opens >= 0 && closes >= 0)
            draft.choice([item, opens, draft.ticks(item)], [closes, item, draft.ticks(closes)]);
          else if (closes >= 0) draft.arc(closes, item, draft.ticks(closes));
          // A change that lies beyond the end is not made, and wants nothing, whatever else is made.
          else if (open || !draft.counted(item)) continue;
          else if (opens >= 0) draft.arc(item, opens, draft.ticks(item));
          else draft.arc(item, item, 1);
        }
      }
    }
    const least = this.alternations[state]?.before ?? [];
    for (const [task, count] of least.entries())
      if (count > 0 && count <= turns) draft.arc(first + count - 1, task, draft.ticks(first + count - 1));
    for (let turn = 0; turn < turns; turn += 1) {
      const change = first + turn;
      const side = (turn % 2 === 0) !== on ? 1 : 0;
      for (const task of after[side]) draft.arc(task, change, draft.ticks(task));
      for (const task of before[side]) {
        // A change that lies beyond the end is not made, so it may come after what none may come after.
        if (draft.counted(change)) draft.arc(change, task, draft.ticks(change));
        else draft.choice([change, task, draft.ticks(change)], [task, change, draft.ticks(task)]);
      }
    }
  }
}

/** The starts of a schedule in the relaxation, and of one item more, the end; changes that it does not make are put as late as can be. */
export const startsIn = ({ model, clock, changes, absences, walks }: Relaxed, shop: Shop, built: Built): Int32Array => {
  const starts = Int32Array.from([...model.latest, clock.at(built.finish)]);
  for (const [task, spot] of built.tasks.entries()) starts[task] = Math.max(0, clock.at(spot.start));
  const walking = model.size - walks.length;
  const made = shop.states.map(() => 0);
  for (const spot of built.changes) {
    const state = shop.works[spot.work]?.turns?.state ?? -1;
    const item = (changes[state] ?? 0) + (made[state] ?? 0);
    if (item < (changes[state + 1] ?? walking - absences.length)) starts[item] = clock.at(spot.start);
    made[state] = (made[state] ?? 0) + 1;
  }
  const away = walking - absences.length;
  for (const [place, { person, from, until }] of absences.entries()) {
    let start = from;
    for (const spot of [...built.tasks, ...built.changes]) {
      if (!spot.people.includes(person) || clock.at(spot.start) >= from || clock.at(spot.free) < until) continue;
      // Right after the work that pauses, and after what else interrupts it.
      start = clock.at(spot.start) + (shop.works[spot.work]?.ticks ?? 0);
      for (const other of absences)
        if (other.person === person && other.from > clock.at(spot.start) && other.from < from)
          start += other.until - other.from;
    }
    // Or later, where somebody else had interrupted it before.
    start = Math.max(start, from);
    starts[away + place] = start;
  }
  for (const [place, walk] of walks.entries())
    starts[walking + place] = clock.at(arrivalOf(shop, built, walk)) - (model.ticks[walking + place] ?? 0) + walk.then;
  return starts;
};

/** How the changes of the states are modelled. */
export interface Modelled {
  /** By state: so many changes, the first of them. */
  readonly most: readonly number[];
  /** States that may change more often; what comes after the last change modelled is free. */
  readonly open: readonly number[];
  /** A state that makes all of its modelled changes for certain. */
  readonly certain?: number;
  /** What goes on alone loses nothing to spells when nobody is there. Then not every schedule has its place, but what has one is likelier to be legal. */
  readonly full?: boolean;
  /** No schedule ends before so many working ticks. */
  readonly floor?: number;
}

/** The relaxation for schedules that finish by `horizon` (ticks). */
export const relax = (shop: Shop, horizon: number, modelled: Modelled): Relaxed =>
  new Relaxing(shop, horizon, modelled).relaxed();
