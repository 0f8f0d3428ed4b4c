// Owns the bench's machines: believable vehicles of a given size and family, as release problems, the same for the same seed.
//
// A machine has a frame and a row of sub-assemblies ("bays"): heavy cores bolted to each other, on mounts to the frame, with satellites and
// covers about them (bay.ts). It comes out in one lift, under a tilted cab, with the battery's earth off first. Every machine can
// be taken apart: the first way of each connection needs only what was drawn before it (witness.ts makes the plan). All invented.

import type { Need, Problem, Task, Way } from "../../src/release/problem.ts";
import { addCore, countBays, fillBay } from "./bay.ts";
import { type Chance, makeChance } from "./chance.ts";
import { addPart, type Bay, type Draft, type DraftConnection, drawMinutes, FIRST, FIXED, LIFT, tie } from "./draft.ts";
import { drawFates } from "./witness.ts";

/**
 * thin: needs run one way, one to four ties a satellite, as machines are. extra: two more ties on each satellite. loops: cheap ways that
 * need each other in a ring, beside the dearer one that needs nothing of the ring. dense: half of all ways need any of three covers drawn
 * from the whole machine.
 */
export const FAMILIES = ["thin", "extra", "loops", "dense"] as const;
export type Family = (typeof FAMILIES)[number];
export const HOISTS = ["loose", "tight"] as const;

export interface Recipe {
  readonly family: Family;
  /** Connections, exactly; at least 40. */
  readonly size: number;
  /** loose: the hoist takes everything. tight: it takes the cores and two fifths of what could be set aside. */
  readonly hoist: (typeof HOISTS)[number];
  readonly seed: number;
}

export interface Machine {
  readonly problem: Problem;
  /** The heavy parts that go up together in the sure plan. */
  readonly cores: ReadonlySet<string>;
}

const HAND_LIMIT = 25;
/** Metres: how far inside its rests a centre must lie. */
const MARGIN = 0.05;

const PLAIN = { without: [], entails: [], supports: [], toggle: false, back: false, must: false } as const;
const first: Need = { released: FIRST };

function addFluids(draft: Draft): void {
  for (const fluid of ["hydraulic", "coolant"]) {
    const needs: Need[] = fluid === "coolant" ? [first] : [first, { done: "raise" }];
    draft.tasks.push({
      ...PLAIN,
      id: `drain-${fluid}`,
      labour: 8,
      position: fluid === "coolant" ? "front" : "under",
      needs,
      entails: [`fill-${fluid}`],
    });
    draft.tasks.push({ ...PLAIN, id: `fill-${fluid}`, labour: 6, needs: [], back: true });
    draft.tasks.push({
      ...PLAIN,
      id: `bleed-${fluid}`,
      labour: fluid === "coolant" ? 10 : 18,
      needs: [],
      back: true,
      entails: ["leak-test"],
    });
  }
  draft.tasks.push({ ...PLAIN, id: "leak-test", labour: 12, needs: [], back: true });
}

/** The vehicle without its bays: battery, hatch, cab tilt, stands, sling, lift. */
function startDraft(chance: Chance): Draft {
  const draft: Draft = { chance, parts: FIXED.map((id) => ({ id, fixed: true, mass: 0 })), connections: [], tasks: [] };
  for (const [id, mass] of [
    ["battery", 24],
    ["hatch", 6],
    ["eye-cap", 1],
  ] as const)
    addPart(draft, id, mass, [-1, 0.6, 0.9]);
  const simple = (id: string, joins: string[], labour: number, carrying: boolean, needs: Need[]): void => {
    const ways: Way[] = [{ id: `${id}/1`, labour, position: "left", needs, without: [], entails: [] }];
    draft.connections.push({ id, joins, carrying, rests: false, ways });
  };
  simple(FIRST, ["battery", "frame"], 4, false, []);
  simple("battery-clamp", ["battery", "frame"], 8, true, [first]);
  simple("hatch-lid", ["hatch", "cab-floor"], 5, false, [first]);
  simple("eye-cap-fixings", ["eye-cap", "engine-1"], 3, false, [first]);
  draft.tasks.push(
    { ...PLAIN, id: "raise", labour: 40, needs: [first], toggle: true },
    { ...PLAIN, id: "tilt", labour: 6, position: "left", needs: [first], toggle: true },
    {
      ...PLAIN,
      id: "sling",
      labour: 16,
      position: "top",
      needs: [first, { done: "tilt" }, { released: "eye-cap-fixings" }],
      supports: ["engine-1"],
    },
  );
  addFluids(draft);
  return draft;
}

/** Bolts a core to an earlier one. A core at the end of the row may also be parted in place, on a jack. */
function joinCore(draft: Draft, bay: Bay, parent: Bay, partable: boolean): number {
  const { chance } = draft;
  const id = `${bay.core}-joint`;
  const ways: Way[] = [
    {
      id: `${id}/1`,
      labour: drawMinutes(chance, 20, 44),
      position: "bench",
      needs: [first, { done: LIFT }],
      without: [],
      entails: [],
    },
  ];
  if (partable) {
    const jack = `jack-${bay.core}`;
    const raised: Need[] = [first, { done: "raise" }];
    draft.tasks.push({ ...PLAIN, id: jack, labour: 20, position: "under", needs: raised, supports: [bay.core] });
    ways.push({
      id: `${id}/2`,
      labour: drawMinutes(chance, 60, 90),
      position: "under",
      needs: [...raised, { done: jack }],
      without: [],
      entails: [],
    });
  }
  draft.connections.push({ id, joins: [bay.core, parent.core], carrying: true, rests: false, ways });
  tie(draft, bay, {
    id: `${bay.core}-coupling`,
    joins: [bay.core, parent.core],
    labour: drawMinutes(chance, 8, 20),
    bench: true,
  });
  return 2;
}

/** A heavy pack before a bay, too heavy for two hands: it stays, goes along, or is lifted off first, and some things are then easier. */
function addPack(draft: Draft, bay: Bay): number {
  const { chance } = draft;
  const pack = addPart(draft, `pack-${bay.index + 1}`, chance.whole(45, 90), [bay.at[0], 0.9, 0.9]);
  for (const n of [1, 2]) {
    const restsAt = [bay.at[0] + (n === 1 ? 0.3 : -0.3), 0.9, 0.5] as const;
    tie(draft, bay, {
      id: `${pack}-mount-${n}`,
      joins: [pack, "frame"],
      labour: drawMinutes(chance, 6, 12),
      carrying: true,
      restsAt,
    });
  }
  const coolant = { needs: [{ done: "drain-coolant" }], entails: ["bleed-coolant"] };
  for (const n of [1, 2])
    tie(draft, bay, {
      id: `${pack}-hose-${n}`,
      joins: [pack, bay.core],
      labour: drawMinutes(chance, 4, 9),
      ...coolant,
    });
  tie(draft, bay, { id: `${pack}-wire`, joins: [pack, "frame"], labour: drawMinutes(chance, 2, 4) });
  draft.tasks.push(
    { ...PLAIN, id: `sling-${pack}`, labour: 10, position: "left", needs: [first], supports: [pack] },
    {
      ...PLAIN,
      id: `lift-${pack}`,
      labour: 16,
      position: "left",
      needs: [first, { done: `sling-${pack}` }],
      lift: { parts: [pack], limit: 150 },
    },
  );
  for (let n = 1; n <= 5; n += 1) {
    const id = `${bay.core}-behind-${pack}-${n}`;
    const labour = drawMinutes(chance, 8, 16);
    tie(draft, bay, { id, joins: [bay.core, "frame"], labour });
    const easier = draft.connections.at(-1) as DraftConnection;
    const needs: Need[] = [first, { done: `lift-${pack}` }];
    easier.ways.push({
      id: `${id}/${easier.ways.length + 1}`,
      labour: Math.ceil(labour / 4),
      position: "front",
      needs,
      without: [],
      entails: [],
    });
  }
  return 10;
}

/** The work of a job inside a core, at the bench: its plate off, and for some the core parted from its neighbour. */
function addJob(draft: Draft, bay: Bay, parting: Need | undefined): number {
  const plate = addPart(draft, `${bay.core}-plate`, draft.chance.whole(2, 12), bay.at);
  const id = `${plate}-bolts`;
  tie(draft, bay, { id, joins: [plate, bay.core], labour: drawMinutes(draft.chance, 6, 20), bench: true });
  const needs: Need[] = [{ done: LIFT }, { released: id }, ...(parting ? [parting] : [])];
  draft.tasks.push({ ...PLAIN, id: `work-${bay.core}`, labour: 0, position: "bench", needs, must: true });
  return 1;
}

/** Rings of two to four connections of one bay, each with a cheap way that needs the next: cheap all round, and impossible. */
function addLoops(draft: Draft, bays: readonly Bay[]): void {
  const { chance } = draft;
  const known = new Map(draft.connections.map((c) => [c.id, c]));
  for (const bay of bays) {
    for (let n = Math.floor(bay.behind.length / 8); n > 0; n -= 1) {
      // Every fourth ring runs through the whole machine, the others stay among neighbours.
      const around = n % 4 === 0 ? bays.map((each) => chance.pick(each.behind)) : bay.behind;
      const ring = chance.some(around, chance.whole(2, 4));
      for (const [place, id] of ring.entries()) {
        const connection = known.get(id) as DraftConnection;
        const labour = Math.max(1, Math.floor((connection.ways[0]?.labour ?? 1) * 0.4));
        const next: Need = { released: ring[(place + 1) % ring.length] as string };
        if (ring.length < 2) continue;
        const way = `${id}/${connection.ways.length + 1}`;
        connection.ways.push({
          id: way,
          labour,
          position: chance.pick(["left", "right"]),
          needs: [first, next],
          without: [],
          entails: [],
        });
      }
    }
  }
}

/** Half of all ways need any of three covers of the whole machine; a cover only ever earlier ones, so that no ring arises. */
function addDenseAccess(draft: Draft, bays: readonly Bay[]): void {
  const { chance } = draft;
  const covers = bays.flatMap((bay) => bay.covers);
  const rank = new Map(covers.map((id, place) => [id, place]));
  for (const connection of draft.connections) {
    if (connection.id === FIRST || connection.id === "hatch-lid") continue;
    const choices = covers.slice(0, rank.get(connection.id) ?? covers.length);
    if (choices.length < 3) continue;
    for (const [place, way] of connection.ways.entries()) {
      if (!chance.hit(0.5)) continue;
      const any = Array.from({ length: 3 }, (): Need => ({ released: chance.pick(choices) }));
      connection.ways[place] = { ...way, needs: [...way.needs, { any }] };
    }
  }
}

/**
 * A machine of exactly `size` connections, feasible by construction.
 *
 * @throws RangeError when the size is below 40.
 */
export function generateMachine({ family, size, hoist, seed }: Recipe): Machine {
  if (size < 40) throw new RangeError(`a machine has at least 40 connections, not ${size}`);
  const chance = makeChance(seed);
  const draft = startDraft(chance);
  const bays: Bay[] = [];
  const parents: number[] = [];
  for (let index = 0; index < countBays(size); index += 1) {
    bays.push(addCore(draft, index).bay);
    if (index > 0) parents.push(Math.max(0, index - (chance.hit(0.75) ? 1 : chance.whole(1, 3))));
  }
  const take: string[] = [(bays[0] as Bay).core];
  for (const [place, parent] of parents.entries()) {
    const bay = bays[place + 1] as Bay;
    const partable = !parents.includes(place + 1) && chance.hit(0.6);
    joinCore(draft, bay, bays[parent] as Bay, partable);
    if (!partable) take.push(bay.core);
  }
  for (const bay of chance.some(bays, Math.min(3, Math.floor(size / 400)))) addPack(draft, bay);
  const jobs = chance.some(bays.slice(1), Math.max(1, Math.round(bays.length / 3)));
  for (const [n, bay] of jobs.entries()) {
    const parent = bays[parents[bay.index - 1] as number] as Bay;
    const parting: Need = n === 0 ? { apart: [[bay.core], [parent.core]] } : { released: `${bay.core}-joint` };
    addJob(draft, bay, n === 0 || chance.hit(0.5) ? parting : undefined);
  }
  // Neighbours also share a cable or a line; then each bay is filled to its share of what is left.
  const shared = bays.length - 1;
  const room = size - draft.connections.length - shared;
  for (const bay of bays) {
    const share = Math.floor((room * (bay.index + 1)) / bays.length) - Math.floor((room * bay.index) / bays.length);
    fillBay(draft, bay, share, family === "extra" ? 2 : 0);
  }
  for (let index = 1; index < bays.length; index += 1) {
    const [bay, before] = [bays[index] as Bay, bays[index - 1] as Bay];
    const ends = [chance.pick([bay.core, ...bay.satellites]), chance.pick([before.core, ...before.satellites])];
    tie(draft, bay, { id: `${bay.core}-shared-line`, joins: ends, labour: drawMinutes(chance, 3, 9), bench: true });
  }
  if (family === "loops") addLoops(draft, bays);
  if (family === "dense") addDenseAccess(draft, bays);

  const cores = new Set(bays.map((bay) => bay.core));
  const fates = drawFates({ ...draft, handLimit: HAND_LIMIT }, cores);
  const massOf = (fate: string): number =>
    draft.parts.reduce((sum, part) => sum + (fates.get(part.id) === fate ? part.mass : 0), 0);
  const limit = Math.ceil(
    hoist === "tight" ? massOf("up") + 0.4 * massOf("aside") : massOf("up") + massOf("aside") + massOf("stays"),
  );
  const lift: Task = {
    ...PLAIN,
    id: LIFT,
    labour: 30,
    position: "left",
    needs: [first, { done: "tilt" }, { done: "sling" }],
    without: ["raise"],
    lift: { parts: ["engine-1"], limit },
  };
  const stay = draft.parts.filter((part) => !part.fixed && fates.get(part.id) === "stays" && part.mass >= 2);
  const problem: Problem = {
    parts: draft.parts,
    connections: draft.connections,
    tasks: [...draft.tasks, lift],
    handLimit: HAND_LIMIT,
    margin: MARGIN,
    keep: chance.some(stay, Math.ceil(stay.length / 100)).map((part) => part.id),
    take,
    released: [],
  };
  return { problem, cores };
}
