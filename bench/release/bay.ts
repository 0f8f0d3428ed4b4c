// Owns what a sub-assembly looks like: a heavy core on its mounts, covers, and satellites tied to core and frame by a few connections each.

import type { Need, Way } from "../../src/release/problem.ts";
import { addPart, type Bay, type Draft, drawMinutes, FIRST, FIXED, tie } from "./draft.ts";

const CORES = [
  "engine",
  "gearbox",
  "transfer-case",
  "hydraulic-set",
  "generator-set",
  "compressor-set",
  "fan-drive",
  "cooling-set",
  "retarder",
  "pump-drive",
];

/** Connections per sub-assembly; a bigger machine has more of them, not bigger ones. */
const BAY_SIZE = 75;

interface Slot {
  readonly draft: Draft;
  readonly bay: Bay;
  /** Connections that this bay may still have. */
  left: number;
  /** Extra ties that each satellite gets beside its own. */
  readonly extra: number;
  number: number;
}

export const countBays = (connections: number): number => Math.max(2, Math.round(connections / BAY_SIZE));

/** Half kilograms, as a parts list gives them. */
const drawMass = (draft: Draft, low: number, high: number): number => draft.chance.whole(low * 2, high * 2) / 2;

function placeNear(draft: Draft, bay: Bay, spread: number): readonly [number, number, number] {
  const draw = (middle: number): number => Math.round((middle + (draft.chance.next() - 0.5) * spread) * 100) / 100;
  return [draw(bay.at[0]), draw(bay.at[1]), draw(bay.at[2])];
}

/** Adds a core with two to four mounts: those of the first bay bear from below, so do half of the others. Gives its bay. */
export function addCore(draft: Draft, index: number): { bay: Bay; used: number } {
  const { chance } = draft;
  const at = [Math.round(index * 90) / 100, 0, 0.8] as const;
  const core = addPart(draft, `${CORES[index % CORES.length]}-${index + 1}`, chance.whole(80, 260), at);
  const bay: Bay = { index, core, at, covers: [], behind: [], blockers: [], satellites: [] };
  const mounts = index === 0 ? 4 : chance.whole(2, 3);
  const rests = index === 0 || chance.hit(0.5);
  for (let n = 0; n < mounts; n += 1) {
    const restsAt = [at[0] + (n % 2 === 0 ? 0.4 : -0.4), n < 2 ? 0.35 : -0.35, 0.5] as const;
    const labour = drawMinutes(chance, 14, 26);
    tie(draft, bay, {
      id: `${core}-mount-${n + 1}`,
      joins: [core, "frame"],
      labour,
      carrying: true,
      ...(rests && { restsAt }),
    });
  }
  return { bay, used: mounts };
}

function addCover(slot: Slot): void {
  const { draft, bay } = slot;
  const { chance } = draft;
  const cover = addPart(
    draft,
    `${bay.core}-cover-${bay.covers.length + 1}`,
    drawMass(draft, 1, 8),
    placeNear(draft, bay, 1),
  );
  const under = bay.covers.length > 0 && chance.hit(0.3) ? chance.pick(bay.covers) : undefined;
  const over = chance.hit(0.6) ? chance.pick(FIXED) : bay.core;
  const needs: Need[] = under === undefined ? [] : [{ released: under }];
  const id = `${cover}-fixings`;
  const plain = { without: [], entails: [] };
  const side = chance.pick(["left", "right", "front", "rear"]);
  const ways: Way[] = [
    {
      id: `${id}/1`,
      labour: drawMinutes(chance, 3, 14),
      position: side,
      needs: [{ released: FIRST }, ...needs],
      ...plain,
    },
  ];
  if (chance.hit(0.25)) {
    const raised: Need[] = [{ released: FIRST }, { done: "raise" }];
    ways.push({ id: `${id}/2`, labour: drawMinutes(chance, 2, 8), position: "under", needs: raised, ...plain });
  }
  draft.connections.push({ id, joins: [cover, over], carrying: false, rests: false, ways });
  bay.covers.push(id);
  slot.left -= 1;
}

interface Cord {
  readonly to: string;
  readonly kind: "hose" | "wire" | "line" | "clip";
  readonly fluid?: string;
}

/** A tie that carries nothing; one that holds a fluid waits for its drain and calls for bleeding. */
function addCord(slot: Slot, part: string, { to, kind, fluid }: Cord): string {
  const { draft, bay } = slot;
  const { chance } = draft;
  slot.number += 1;
  const [low, high] = { hose: [4, 11], wire: [2, 5], line: [6, 14], clip: [1, 3] }[kind] as [number, number];
  // Now and then a clip takes in a third thing that runs past.
  const third = kind === "clip" && bay.satellites.length > 0 && chance.hit(0.08) ? [chance.pick(bay.satellites)] : [];
  const joins = [part, to, ...third.filter((id) => id !== part && id !== to)];
  const id = tie(draft, bay, {
    id: `${part}-${kind}-${slot.number}`,
    joins,
    labour: drawMinutes(chance, low, high),
    ...(fluid !== undefined && { needs: [{ done: `drain-${fluid}` }], entails: [`bleed-${fluid}`] }),
    bench: joins.includes(bay.core) || bay.satellites.includes(to),
  });
  bay.behind.push(id);
  slot.left -= 1;
  return id;
}

function addMount(slot: Slot, part: string, to: string, low: number, high: number): void {
  slot.number += 1;
  const bench = to === slot.bay.core;
  const labour = drawMinutes(slot.draft.chance, low, high);
  tie(slot.draft, slot.bay, { id: `${part}-mount-${slot.number}`, joins: [part, to], labour, carrying: true, bench });
  slot.left -= 1;
}

const newPart = (slot: Slot, word: string, low: number, high: number): string => {
  slot.number += 1;
  return addPart(
    slot.draft,
    `${slot.bay.core}-${word}-${slot.number}`,
    drawMass(slot.draft, low, high),
    placeNear(slot.draft, slot.bay, 1.2),
  );
};

/** The frame or something on it: where a cord away from the core ends. */
const anyFixed = (slot: Slot): string => slot.draft.chance.pick(FIXED);

/** One satellite: what it is called, how often it is met, how many connections it has at most, and how it is tied. */
interface Satellite {
  readonly share: number;
  readonly most: number;
  readonly add: (slot: Slot) => string | undefined;
}

const SATELLITES: readonly Satellite[] = [
  {
    // Bolted to the core, its wires and hoses run to the frame: goes up with the core unless it is set aside.
    share: 0.2,
    most: 3,
    add(slot) {
      const { chance } = slot.draft;
      const part = newPart(slot, chance.pick(["starter", "generator", "filter", "valve", "sensor-box"]), 3, 34);
      addMount(slot, part, slot.bay.core, 6, 18);
      for (let n = chance.whole(1, 2); n > 0; n -= 1)
        addCord(slot, part, { to: anyFixed(slot), kind: chance.pick(["wire", "hose"] as const) });
      return part;
    },
  },
  {
    // Stands on the frame, tied to the core by hoses: stays unless something wants it away.
    share: 0.17,
    most: 3,
    add(slot) {
      const { chance } = slot.draft;
      const part = newPart(slot, chance.pick(["reservoir", "air-cleaner", "fuel-filter", "relay-box"]), 2, 18);
      addMount(slot, part, anyFixed(slot), 5, 14);
      for (let n = chance.whole(1, 2); n > 0; n -= 1)
        addCord(slot, part, { to: slot.bay.core, kind: chance.pick(["hose", "line", "wire"] as const) });
      return part;
    },
  },
  {
    // Bridges core and frame: either end may come off.
    share: 0.15,
    most: 4,
    add(slot) {
      const { chance } = slot.draft;
      const part = newPart(slot, chance.pick(["bracket", "pipe", "stay", "exhaust-pipe"]), 1, 12);
      addMount(slot, part, slot.bay.core, 5, 16);
      addMount(slot, part, anyFixed(slot), 5, 16);
      for (let n = chance.whole(0, 2); n > 0; n -= 1) {
        addCord(slot, part, {
          to: chance.hit(0.5) ? slot.bay.core : anyFixed(slot),
          kind: chance.pick(["clip", "hose"] as const),
        });
      }
      return part;
    },
  },
  {
    // A pump: hydraulic hoses to the frame that are dear to open, so that hanging it aside is worth a thought.
    share: 0.09,
    most: 4,
    add(slot) {
      const { draft, bay } = slot;
      const { chance } = draft;
      const part = newPart(slot, "pump", 9, 32);
      addMount(slot, part, bay.core, 10, 22);
      const hoses: string[] = [];
      for (let n = chance.whole(2, 3); n > 0; n -= 1)
        hoses.push(addCord(slot, part, { to: anyFixed(slot), kind: "hose", fluid: "hydraulic" }));
      draft.tasks.push({
        id: `hang-${part}`,
        labour: drawMinutes(chance, 10, 18),
        position: chance.pick(["left", "right"]),
        needs: [{ released: FIRST }, ...(bay.covers.length > 0 ? [{ released: chance.pick(bay.covers) }] : [])],
        without: [],
        entails: [],
        toggle: false,
        back: false,
        must: false,
        supports: [],
        hang: { part, to: "frame", taut: chance.hit(0.4) ? [chance.pick(hoses)] : [] },
      });
      return part;
    },
  },
  {
    // A heat exchanger on the frame: coolant hoses to the core, another to a neighbour.
    share: 0.08,
    most: 4,
    add(slot) {
      const { chance } = slot.draft;
      const part = newPart(slot, "heat-exchanger", 6, 24);
      addMount(slot, part, anyFixed(slot), 8, 20);
      for (let n = 2; n > 0; n -= 1) addCord(slot, part, { to: slot.bay.core, kind: "hose", fluid: "coolant" });
      if (slot.bay.satellites.length > 0) addCord(slot, part, { to: chance.pick(slot.bay.satellites), kind: "line" });
      return part;
    },
  },
  {
    // A harness: clips and plugs on everything around, carried by nothing.
    share: 0.12,
    most: 5,
    add(slot) {
      const { chance } = slot.draft;
      const part = newPart(slot, "harness", 1, 3);
      addCord(slot, part, { to: slot.bay.core, kind: "clip" });
      addCord(slot, part, { to: anyFixed(slot), kind: "clip" });
      for (const to of chance.some(slot.bay.satellites, chance.whole(1, 3))) addCord(slot, part, { to, kind: "wire" });
      return part;
    },
  },
  {
    // A light thing on a satellite, tied back to the core.
    share: 0.05,
    most: 2,
    add(slot) {
      const { chance } = slot.draft;
      if (slot.bay.satellites.length === 0) return undefined;
      const host = chance.pick(slot.bay.satellites);
      const part = newPart(slot, "switch", 1, 5);
      addMount(slot, part, host, 3, 8);
      addCord(slot, part, { to: slot.bay.core, kind: "wire" });
      return part;
    },
  },
  {
    // Straight from core to frame: strap, linkage, cable.
    share: 0.14,
    most: 1,
    add(slot) {
      addCord(slot, slot.bay.core, {
        to: anyFixed(slot),
        kind: slot.draft.chance.pick(["line", "wire", "hose"] as const),
      });
      return undefined;
    },
  },
];
const STRAIGHT = SATELLITES[SATELLITES.length - 1] as Satellite;

function drawSatellite(slot: Slot): Satellite {
  let left = slot.draft.chance.next();
  for (const satellite of SATELLITES) {
    left -= satellite.share;
    if (left < 0 && satellite.most + slot.extra <= slot.left) return satellite;
  }
  return STRAIGHT;
}

/** Fills a bay with covers and satellites until it has exactly `room` more connections. */
export function fillBay(draft: Draft, bay: Bay, room: number, extra: number): void {
  const { chance } = draft;
  const slot: Slot = { draft, bay, left: room, extra, number: 0 };
  for (let n = Math.min(chance.whole(2, 4), room); n > 0; n -= 1) addCover(slot);
  while (slot.left > 0) {
    if (chance.hit(0.06)) {
      addCover(slot);
      continue;
    }
    const part = drawSatellite(slot).add(slot);
    if (part === undefined) continue;
    for (let n = 0; n < extra; n += 1) {
      const others = [bay.core, "frame", ...bay.satellites];
      addCord(slot, part, { to: chance.pick(others), kind: chance.pick(["clip", "wire", "hose"] as const) });
    }
    // A light one that nothing will be tied to may stand in the way of what comes later.
    const mass = draft.parts[draft.parts.length - 1]?.mass ?? 0;
    if (mass <= 25 && chance.hit(0.08)) bay.blockers.push(part);
    else bay.satellites.push(part);
  }
}
