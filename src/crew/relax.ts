// Owns the bridge from the shop to the model of ticks and arcs: a relaxation, in which every legal schedule that ends by a given tick has its place.
//
// People are counted, not named: for each set of skills asked for, those who have any of it are a lane (Hall's condition). Who verifies, who walks and who is away alone
// are left out, but where two works must share somebody the way between them is kept. Spells when nobody is there are cut out of the clock.

import { WorkClock } from "./clock.ts";
import type { Model } from "./model.ts";
import type { Shop, ShopState, ShopWork } from "./shop.ts";

export interface Relaxed {
  /** Items 0 to tasks - 1 are the tasks; working ticks from `now`. */
  readonly model: Model;
  readonly clock: WorkClock;
}

interface Drafted {
  readonly first: number;
  readonly last: number;
  readonly head: number;
  readonly tail: number;
  readonly need: readonly (readonly [lane: number, count: number])[];
}

/** A choice of one of two arcs at least. */
interface Choice {
  readonly either: readonly [from: number, to: number, lag: number];
  readonly or: readonly [from: number, to: number, lag: number];
}

/** Skills asked for, as who has them; distinct, and their unions while these are few. */
const peopleLanes = (shop: Shop): readonly Uint8Array[] => {
  const asked = new Map<string, Uint8Array>();
  for (const { benches } of shop.works) for (const { can } of benches) asked.set(can.join(), can);
  const all = Uint8Array.from(shop.people, () => 1);
  const unions = new Map<string, Uint8Array>([[all.join(), all]]);
  const kinds = [...asked.values()].filter((can) => can.includes(0));
  const most = kinds.length <= 6 ? 2 ** kinds.length : 0;
  for (const kind of kinds) unions.set(kind.join(), kind);
  for (let set = 1; set < most; set += 1) {
    const union = Uint8Array.from(shop.people, (_, person) =>
      kinds.some((can, place) => ((set >> place) & 1) === 1 && can[person] === 1) ? 1 : 0,
    );
    unions.set(union.join(), union);
  }
  return [...unions.values()];
};

const within = (inner: Uint8Array, outer: Uint8Array): boolean =>
  inner.every((one, place) => one <= (outer[place] ?? 0));

const total = (marks: Uint8Array): number => marks.reduce((sum, one) => sum + one, 0);

/** How many of a lane's people a work takes at least: seats that only they can fill. */
const asks = (work: ShopWork, lane: Uint8Array): number =>
  work.benches.reduce((sum, { count, can }) => sum + (within(can, lane) ? count : 0), 0);

/** Pairs of works looked at for a shared person; beyond, the ways between them are left out. */
const MOST_PAIRS = 4000;

/**
 * How many changes of a state there are at the least: one when something wants what it is not at the beginning, and one back when it is to end as it began. These are counted
 * in the makespan; the others may lie beyond it, which is how the model leaves them out.
 */
export const fewestTurns = (shop: Shop, { on, end }: ShopState, state: number): number => {
  const wanted = shop.works.some(
    ({ wants, turns }) => turns === undefined && wants.some((want) => want.state === state && want.value !== on),
  );
  if (wanted) return end === on ? 2 : 1;
  return end !== undefined && end !== on ? 1 : 0;
};

/** The relaxation for schedules that finish by `horizon` (ticks) and change each state at most as often as `turns` says. */
export const relax = (shop: Shop, horizon: number, turns: readonly number[]): Relaxed => {
  const clock = new WorkClock(shop);
  const working = (ticks: number): number => (clock.cuts.length === 0 ? ticks : Math.max(0, ticks - clock.most(ticks)));
  const items: { work: ShopWork; ticks: number; counted: boolean }[] = [];
  // The working length of a work: what pauses loses nothing to a cut, what is done in one go cannot lie in one.
  const spanOf = (work: ShopWork): number => (work.people > 0 ? work.ticks : working(work.ticks)) + working(work.alone);
  for (const work of shop.works.slice(0, shop.tasks)) items.push({ work, ticks: spanOf(work), counted: true });
  const changes = shop.states.map((state, place) => {
    const first = items.length;
    const fewest = fewestTurns(shop, state, place);
    for (let turn = 0; turn < (turns[place] ?? 0); turn += 1) {
      const value = (turn % 2 === 0) !== state.on;
      const work = shop.works[state.turn[value ? 1 : 0]];
      if (work !== undefined) items.push({ work, ticks: spanOf(work), counted: turn < fewest });
    }
    return { first, count: items.length - first };
  });
  const size = items.length;
  const limit = Math.max(0, clock.at(horizon));
  // Room beyond the end for the changes that are not made, one after the other with the ways and cuts between them.
  const farthest = Math.max(0, ...shop.moves.flat());
  const beyond = items.reduce((sum, { ticks, counted }) => sum + (counted ? 0 : ticks + farthest), 0);
  const far = limit + 3 * beyond + (clock.cuts.length === 0 ? 0 : limit);

  const earliest = new Int32Array(size);
  const latest = new Int32Array(size);
  const arcs: (readonly [from: number, to: number, lag: number])[] = [];
  const choices: Choice[] = [];
  const uses: Drafted[] = [];
  const capacity: number[] = [];
  const laneOf = (count: number): number => capacity.push(count) - 1;

  for (const [item, one] of items.entries()) {
    const { begun } = one.work;
    if (begun === undefined) latest[item] = (one.counted ? limit : far) - one.ticks;
    else {
      // What had begun before now begins at 0 with what is left of it at the least.
      one.ticks = Math.max(0, one.ticks - Math.max(0, shop.now - begun.start));
      earliest[item] = latest[item] = Math.max(0, clock.at(begun.start));
    }
  }
  const ticksOf = (item: number): number => items[item]?.ticks ?? 0;

  // Who is away alone, or what nobody attends, can make a work last longer in working ticks than it does here.
  const always = shop.people.every(({ spells }) => spells.length === 2 && spells[0] === Number.NEGATIVE_INFINITY);
  const lengthIsKnown = (work: ShopWork): boolean =>
    work.begun === undefined && (always || (!work.pauses && work.people > 0 && work.alone === 0));

  // After.
  for (const [task, { after }] of shop.works.slice(0, shop.tasks).entries()) {
    if (shop.works[task]?.begun !== undefined) continue;
    for (const { work: before, least, most } of after) {
      arcs.push([before, task, ticksOf(before) + (least > 0 ? working(least) : least)]);
      const first = items[before]?.work;
      if (most < Number.POSITIVE_INFINITY && first !== undefined && lengthIsKnown(first))
        arcs.push([task, before, -ticksOf(before) - (most > 0 ? most : -working(-most))]);
    }
  }

  // People, room, stocks.
  const lanes = peopleLanes(shop).map((can) => ({ can, lane: laneOf(total(can)), capacity: total(can) }));
  const rooms = shop.rooms.map((room) => laneOf(room));
  const stocks = shop.stocks.map((count) => laneOf(count));
  for (const [item, { work, ticks }] of items.entries()) {
    const alone = Math.min(working(work.alone), ticks);
    const people: [number, number][] = [];
    for (const { can, lane } of lanes) {
      const count = asks(work, can);
      if (count > 0) people.push([lane, count]);
    }
    if (work.position >= 0 && work.people > 0) people.push([rooms[work.position] ?? 0, work.people]);
    const things = work.uses.map(({ stock, count }) => [stocks[stock] ?? 0, count] as [number, number]);
    const own = { first: item, last: item, head: 0 };
    if (alone === 0) uses.push({ ...own, tail: ticks, need: [...people, ...things] });
    else {
      if (ticks > alone) uses.push({ ...own, tail: ticks - alone, need: people });
      if (things.length > 0) uses.push({ ...own, tail: ticks, need: things });
    }
  }
  for (const { stock, count, from, until } of shop.holds)
    uses.push({ first: from, last: until, head: 0, tail: ticksOf(until), need: [[stocks[stock] ?? 0, count]] });

  // What may not meet: apart, an emptied position and work at it.
  const part = (a: number, b: number, ab: number, ba: number): void => {
    if (a !== b && ab > 0 && ba > 0) choices.push({ either: [a, b, ab], or: [b, a, ba] });
  };
  const attended = (item: number): number =>
    ticksOf(item) - Math.min(working(items[item]?.work.alone ?? 0), ticksOf(item));
  for (const [item, { work }] of items.entries()) {
    for (const other of work.apart) if (other > item) part(item, other, ticksOf(item), ticksOf(other));
    for (const [other, { work: at }] of items.entries()) {
      if (at.people > 0 && work.empties.includes(at.position)) part(item, other, ticksOf(item), attended(other));
    }
  }

  // Two works with too many people between them share somebody, who has the way to go.
  let pairs = 0;
  for (let a = 0; shop.moves.length > 0 && a < size; a += 1) {
    for (let b = a + 1; b < size && pairs < MOST_PAIRS; b += 1) {
      const one = items[a]?.work;
      const two = items[b]?.work;
      if (one === undefined || two === undefined || one.position < 0 || two.position < 0) continue;
      if (one.position === two.position || one.begun !== undefined || two.begun !== undefined) continue;
      const shared = lanes.some(({ can, capacity: have }) => asks(one, can) + asks(two, can) > have);
      if (!shared || attended(a) === 0 || attended(b) === 0) continue;
      const there = working(shop.moves[one.position]?.[two.position] ?? 0);
      const back = working(shop.moves[two.position]?.[one.position] ?? 0);
      if (there === 0 && back === 0) continue;
      part(a, b, attended(a) + there, attended(b) + back);
      pairs += 1;
    }
  }

  // States: works that want one value lie wholly before or after each block of the other.
  for (const [place, state] of shop.states.entries()) {
    const { first, count } = changes[place] ?? { first: 0, count: 0 };
    for (let turn = 0; turn + 1 < count; turn += 1) arcs.push([first + turn, first + turn + 1, ticksOf(first + turn)]);
    for (const [item, { work }] of items.entries()) {
      for (const want of work.wants) {
        if (want.state !== place) continue;
        // Block b is the time from change b - 1 to change b: what the state was at the beginning is block 0.
        for (let block = 0; block <= count; block += 1) {
          const value = (block % 2 === 0) === state.on;
          if (value === want.value) continue;
          const opens = block > 0 ? first + block - 1 : -1;
          const closes = block < count ? first + block : -1;
          if (opens === item || closes === item) continue;
          if (opens >= 0 && closes >= 0)
            choices.push({ either: [item, opens, ticksOf(item)], or: [closes, item, ticksOf(closes)] });
          else if (opens >= 0) arcs.push([item, opens, ticksOf(item)]);
          else if (closes >= 0) arcs.push([closes, item, ticksOf(closes)]);
          else arcs.push([item, item, 1]);
        }
      }
    }
    for (let turn = 0; turn < count; turn += 1) {
      const change = first + turn;
      const side = (turn % 2 === 0) !== state.on ? 1 : 0;
      for (const task of state.after[side]) arcs.push([task, change, ticksOf(task)]);
      for (const task of state.before[side]) {
        // A change that lies beyond the end is not made, so it may come after what none may come after.
        if (items[change]?.counted === true) arcs.push([change, task, ticksOf(change)]);
        else choices.push({ either: [change, task, ticksOf(change)], or: [task, change, ticksOf(task)] });
      }
    }
  }

  // What is done in one go does not lie across a cut.
  const bars: readonly (readonly (readonly [number, number])[])[] = items.map(({ work }) => {
    if (work.pauses || work.people === 0 || work.begun !== undefined) return [];
    const list: [number, number][] = [];
    for (let cut = 0; cut < clock.cuts.length; cut += 2) {
      const edge = clock.at(clock.cuts[cut] ?? 0);
      if (edge > 0 && work.ticks > 1) list.push([edge - work.ticks + 1, edge]);
    }
    return mergeSpells(list);
  });

  return { model: modelOf(items, { earliest, latest, arcs, choices, uses, capacity, bars }), clock };
};

const mergeSpells = (list: readonly (readonly [number, number])[]): readonly (readonly [number, number])[] => {
  const merged: [number, number][] = [];
  for (const [from, until] of list) {
    const last = merged.at(-1);
    if (last !== undefined && from <= last[1]) last[1] = Math.max(last[1], until);
    else merged.push([from, until]);
  }
  return merged;
};

const modelOf = (
  items: readonly { readonly ticks: number; readonly counted: boolean }[],
  drafted: {
    readonly earliest: Int32Array;
    readonly latest: Int32Array;
    readonly arcs: readonly (readonly [number, number, number])[];
    readonly choices: readonly Choice[];
    readonly uses: readonly Drafted[];
    readonly capacity: readonly number[];
    readonly bars: readonly (readonly (readonly [number, number])[])[];
  },
): Model => {
  const { arcs, choices, uses, capacity, bars } = drafted;
  const lanes = capacity.length;
  const column = (list: readonly (readonly [number, number, number])[]) => ({
    from: Int32Array.from(list, (one) => one[0]),
    to: Int32Array.from(list, (one) => one[1]),
    lag: Int32Array.from(list, (one) => one[2]),
  });
  const taken = uses.filter(({ need }) => need.length > 0);
  const need = new Int32Array(taken.length * lanes);
  for (const [use, one] of taken.entries())
    for (const [lane, count] of one.need) need[use * lanes + lane] = (need[use * lanes + lane] ?? 0) + count;
  const bar = new Int32Array(items.length + 1);
  for (const [item, list] of bars.entries()) bar[item + 1] = (bar[item] ?? 0) + list.length;
  return {
    size: items.length,
    ticks: Int32Array.from(items, (one) => one.ticks),
    counted: Uint8Array.from(items, (one) => (one.counted ? 1 : 0)),
    earliest: drafted.earliest,
    latest: drafted.latest,
    arcs: column(arcs),
    either: column(choices.map((one) => one.either)),
    or: column(choices.map((one) => one.or)),
    lanes,
    capacity: Int32Array.from(capacity),
    uses: {
      first: Int32Array.from(taken, (one) => one.first),
      last: Int32Array.from(taken, (one) => one.last),
      head: Int32Array.from(taken, (one) => one.head),
      tail: Int32Array.from(taken, (one) => one.tail),
      need,
    },
    bar,
    barFrom: Int32Array.from(bars.flat(), (one) => one[0]),
    barUntil: Int32Array.from(bars.flat(), (one) => one[1]),
  };
};
