// Owns small random vehicles, the same for the same seed, for what must hold on any.

import type { Kind, Need, Vehicle } from "../src/vehicle/index.ts";
import { connection, frame, hang, job, part, point, position, refit, task, vehicle } from "./small-vehicle.ts";

/** Mulberry32: a small seeded source of chance. */
export const chance = (seed: number) => {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t ^= t + Math.imul(t ^ (t >>> 7), 61 | t);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

/** A small random vehicle in which needs run one way, so that most orders on it can be carried out. */
export const randomVehicle = (seed: number): Vehicle => {
  const next = chance(seed);
  const below = (n: number) => Math.floor(next() * n);
  const pick = <T>(list: readonly T[]): T => list[below(list.length)]!;
  const may = (p: number) => next() < p;
  const positions = ["left", "right", "under"];
  const masses = [2, 9, 40, 120];
  const parts = Array.from({ length: 2 + below(4) }, (_, n) => `p${n}`);
  const kinds: readonly Kind[] = ["hose", "cable", "mount", "bolted joint", "clip", "linkage"];
  const fluids = ["oil", "coolant"];
  const ids = Array.from({ length: 4 + below(7) }, (_, n) => `c${n}`);
  const connections = ids.map((id, n) => {
    const needs: Need[] = [];
    // Only what comes earlier in the file is needed: no circles.
    for (let k = 0; k < 2; k++) {
      if (n > 0 && may(0.35)) needs.push({ id: pick(ids.slice(0, n)) });
      if (n > 1 && may(0.1)) needs.push({ any: [{ id: pick(ids.slice(0, n)) }, { id: pick(ids.slice(0, n)) }] });
    }
    const fluid = may(0.3) ? pick(fluids) : undefined;
    if (fluid !== undefined && may(0.7)) needs.push({ id: `drain-${fluid}` });
    const kind = pick(kinds);
    const ways = Array.from({ length: 1 + below(2) }, () => ({
      at: pick(positions),
      time: 1 + below(9),
      needs,
      ...(may(0.15) ? { without: ["raise"] } : {}),
    })).map((way) => (way.without !== undefined && way.at === "under" ? { ...way, at: "left" } : way));
    return connection(id, [pick(parts), may(0.5) ? "frame" : pick(parts)], kind, ways, {
      ...(fluid === undefined ? {} : { holds: { fluid } }),
      slack: may(0.5) ? 0.5 : 0,
      rests: kind === "mount" && may(0.5),
      at: point(next() * 2 - 1, next() * 2 - 1, 0),
      hidden: may(0.2),
      plug: may(0.3) ? [{ item: "plug", count: 1 }] : [],
      temporary: may(0.2) ? [{ item: "strap", count: 1 }] : [],
      refit: refit({
        ...(may(0.5) ? { time: 1 + below(9) } : {}),
        ...(may(0.15) ? { at: pick(positions) } : {}),
        ...(may(0.2) ? Object.fromEntries([["then", [pick(["bleed", "test"])]]]) : {}),
      }),
    });
  });
  // Something that carries nothing is fitted after something later in the file, where that is not itself covered by it.
  const needed = (id: string): readonly string[] => {
    const own =
      connections.find((one) => one.id === id)?.ways.flatMap((way) => JSON.stringify(way.needs).match(/c\d+/g) ?? []) ??
      [];
    return [...own, ...own.flatMap(needed)];
  };
  const followed = connections.map((one, n) => {
    const later = ids[n + 1];
    const after = later !== undefined && may(0.3) && !one.carrying && !needed(later).includes(one.id) ? [later] : [];
    return { ...one, refit: { ...one.refit, after } };
  });
  const held = pick(parts);
  return vehicle({
    first: may(0.5) ? ["c0"] : [],
    positions: [position("left"), position("right"), position("under", may(0.7) ? ["raise"] : [])],
    parts: [
      frame(),
      ...parts.map((id) =>
        part(
          id,
          pick(masses),
          point(next() - 0.5, next() - 0.5, 0.5),
          may(0.2) ? [hang(`${id}/hang-1`, "frame", 0.3, { at: pick(positions), time: 2 })] : [],
        ),
      ),
    ],
    connections: followed,
    tasks: [
      task("raise", { at: may(0.5) ? "left" : undefined!, time: 3 }, { undo: { time: 2, people: 1 } }),
      task(
        "drain-oil",
        { at: pick(["left", "right"]), time: 2 },
        { drains: ["oil"], ...(may(0.7) ? { back: { label: "Fill oil", time: 3, people: 1 } } : {}) },
      ),
      task(
        "drain-coolant",
        { at: pick(["left", "right"]), time: 2 },
        { drains: ["coolant"], back: { label: "Fill coolant", time: 3, people: 1, at: pick(["left", "right"]) } },
      ),
      task("sling", { at: "left", time: 4 }, { supports: [held] }),
      task("jack", { at: "right", time: 2 }, { supports: [pick(parts)], undo: { time: 2, people: 1 } }),
      task("lift", { time: 5, needs: ["sling"], without: ["raise"] }, { lifts: [held], empties: ["under"] }),
      task("bleed", { at: pick(positions), time: 4 }, { phase: "back", after: may(0.5) ? ["drain-oil"] : [] }),
      task(
        "test",
        { at: pick(["left", "right"]), time: 4, needs: ["bleed"] },
        { phase: "back", after: may(0.5) ? ["c0"] : [] },
      ),
    ],
    jobs: [
      job("one", { needs: [ids.at(-1)!], work: may(0.5) ? [{ label: "Renew it", at: pick(positions), time: 5 }] : [] }),
      job("two", { needs: [may(0.5) ? held : { out: held }] }),
      job("three", { needs: [{ apart: [parts[0]!, parts[1]!] }], swap: may(0.3) ? [held] : [] }),
    ],
  });
};
