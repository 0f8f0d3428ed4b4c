// Owns the small hand-built vehicle that the tests of several rooms take to pieces, and the words to build others. All of it is invented.

import { kilograms, metres, minutes, newtonMetres } from "../src/quantity/index.ts";
import {
  CARRYING_KINDS,
  type Connection,
  type Hang,
  type Job,
  type JobWork,
  type Kind,
  type Need,
  type Part,
  type Point,
  type Position,
  type Refit,
  type Task,
  type Vehicle,
  type Way,
  type Work,
} from "../src/vehicle/index.ts";

export const point = (x: number, y: number, z: number): Point => [metres(x), metres(y), metres(z)];

/** A need as tests write it: an id, or the need itself. */
type Wish = string | Need;
/** A torque without a tolerance. */
const exactly = (value: number) => ({
  nominal: newtonMetres(value),
  low: newtonMetres(value),
  high: newtonMetres(value),
});
const needsOf = (wishes: readonly Wish[] | undefined): readonly Need[] =>
  (wishes ?? []).map((wish) => (typeof wish === "string" ? { id: wish } : wish));

/** Work as tests write it: plain minutes, ids for needs. */
interface Plain {
  readonly at?: string;
  readonly time?: number;
  readonly people?: number;
  readonly needs?: readonly Wish[];
  readonly without?: readonly string[];
  readonly tools?: readonly string[];
  readonly skill?: string;
}

const work = ({ at, time, people, needs, without, tools, skill }: Plain): Work => ({
  ...(at === undefined ? {} : { at }),
  time: minutes(time ?? 1),
  people: people ?? 1,
  needs: needsOf(needs),
  without: without ?? [],
  tools: tools ?? [],
  ...(skill === undefined ? {} : { skill }),
});

export const refit = (given: Partial<Omit<Refit, "time">> & { readonly time?: number } = {}): Refit => {
  const { time, ...rest } = given;
  return { after: [], tools: [], fresh: [], then: [], ...rest, ...(time === undefined ? {} : { time: minutes(time) }) };
};

export const part = (id: string, mass?: number, centre?: Point, hang: readonly Hang[] = []): Part => ({
  id,
  label: `The ${id}`,
  fixed: false,
  ...(mass === undefined ? {} : { mass: { nominal: kilograms(mass), low: kilograms(mass), high: kilograms(mass) } }),
  ...(centre === undefined ? {} : { centre }),
  hang,
});

export const frame = (id = "frame"): Part => ({ id, label: `The ${id}`, fixed: true, hang: [] });

export const hang = (
  id: string,
  to: string,
  moves: number,
  plain: Plain,
  undo?: { time: number; people: number },
): Hang => ({
  ...work(plain),
  id,
  to,
  moves: metres(moves),
  ...(undo === undefined ? {} : { undo: { time: minutes(undo.time), people: undo.people } }),
  temporary: [{ item: "strap", count: 1 }],
});

type PlainWay = Plain & { readonly loosen?: boolean; readonly refit?: Refit };

export const connection = (
  id: string,
  joins: readonly string[],
  kind: Kind,
  ways: readonly PlainWay[],
  more: Partial<Omit<Connection, "id" | "joins" | "kind" | "ways" | "slack">> & { readonly slack?: number } = {},
): Connection => {
  const { slack, ...rest } = more;
  return {
    id,
    label: id.replaceAll("-", " "),
    joins,
    kind,
    carrying: CARRYING_KINDS.includes(kind),
    rests: false,
    isolates: [],
    hidden: false,
    refit: refit(),
    hardware: [],
    plug: [],
    temporary: [],
    ...rest,
    slack: metres(slack ?? 0),
    ways: ways.map(
      (plain, index): Way => ({
        ...work(plain),
        id: `${id}/${index + 1}`,
        loosen: plain.loosen ?? false,
        ...(plain.refit === undefined ? {} : { refit: plain.refit }),
      }),
    ),
  };
};

type PlainTask = Omit<Partial<Task>, keyof Work | "id" | "undo" | "back" | "reach" | "wait"> & {
  readonly undo?: { readonly time: number; readonly people: number };
  readonly back?: {
    readonly label: string;
    readonly time: number;
    readonly people: number;
    readonly at?: string;
    readonly after?: readonly string[];
  };
  readonly reach?: number;
  readonly wait?: number;
};

export const task = (id: string, plain: Plain, more: PlainTask = {}): Task => {
  const { undo, back, reach, wait, ...rest } = more;
  return {
    id,
    label: id.replaceAll("-", " "),
    phase: "out",
    after: [],
    supports: [],
    lifts: [],
    empties: [],
    drains: [],
    isolates: [],
    temporary: [],
    ...rest,
    ...work(plain),
    ...(undo === undefined ? {} : { undo: { time: minutes(undo.time), people: undo.people } }),
    ...(back === undefined ? {} : { back: { ...back, time: minutes(back.time), after: back.after ?? [] } }),
    ...(reach === undefined ? {} : { reach: metres(reach) }),
    ...(wait === undefined ? {} : { wait: minutes(wait) }),
  };
};

export const position = (id: string, needs: readonly Wish[] = [], people = 2): Position => ({
  id,
  label: `At the ${id}`,
  people,
  needs: needsOf(needs),
  without: [],
});

type PlainJob = {
  readonly needs?: readonly Wish[];
  readonly work?: readonly (Plain & { readonly label: string; readonly check?: string })[];
  readonly swap?: readonly string[];
};

export const job = (id: string, plain: PlainJob): Job => ({
  id,
  label: id.replaceAll("-", " "),
  needs: needsOf(plain.needs),
  work: (plain.work ?? []).map(
    (one): JobWork => ({
      ...work(one),
      label: one.label,
      ...(one.check === undefined ? {} : { check: one.check }),
    }),
  ),
  swap: plain.swap ?? [],
});

export const vehicle = (given: Partial<Vehicle>): Vehicle => ({
  name: "Invented",
  limits: { hand: kilograms(25), handIsDefault: true, margin: metres(0.05), marginIsDefault: true },
  first: [],
  positions: [],
  parts: [],
  connections: [],
  tasks: [],
  jobs: [],
  eyes: [],
  hoists: [],
  shop: { people: [], tools: [] },
  ...given,
});

/**
 * A carrier's power unit: engine and gearbox on three mounts, a pump on the gearbox, hoses, a cable and a propeller shaft.
 * The clutch between engine and gearbox is reached at the bench once both are out, or underneath with the gearbox alone let down on a jack.
 */
export const carrier = (): Vehicle =>
  vehicle({
    name: "Invented carrier",
    first: ["battery-earth"],
    positions: [position("left"), position("right"), position("under", ["raise"], 1), position("bench")],
    parts: [
      frame(),
      part("engine", 260, point(1.1, 0, 0.8)),
      part("gearbox", 90, point(1.9, 0, 0.7)),
      part("pump", 12, point(2.0, 0.3, 0.7), [
        hang("pump/hang-1", "frame", 0.3, { at: "left", time: 3, needs: [] }, { time: 2, people: 1 }),
      ]),
      part("clutch", 8, point(1.6, 0, 0.75)),
      part("duct", 3, point(0.8, 0.2, 1.1)),
      part("undertray", 9, point(1.5, 0, 0.3)),
    ],
    connections: [
      connection("battery-earth", ["engine", "frame"], "cable", [{ at: "left", time: 2, tools: ["spanner 13"] }], {
        isolates: ["24 V"],
      }),
      connection(
        "coolant-hose",
        ["engine", "frame"],
        "hose",
        [{ at: "left", time: 4, needs: ["drain-coolant", { clear: "duct" }] }],
        {
          holds: { fluid: "coolant" },
          hidden: true,
          plug: [{ item: "plug 32 mm", count: 2 }],
          catch: "0.4 L coolant",
          refit: refit({ time: 5, fresh: ["hose clip 32-50"], check: "no seep at pressure" }),
        },
      ),
      connection("fuel-hose", ["engine", "frame"], "hose", [{ at: "right", time: 5 }], {
        holds: { fluid: "fuel" },
        plug: [{ item: "cap 8 mm", count: 2 }],
        refit: refit({ then: ["bleed-fuel"] }),
      }),
      connection("starter-cable", ["engine", "frame"], "cable", [{ at: "under", time: 4 }], { live: "24 V" }),
      connection("pump-hose", ["pump", "frame"], "hose", [{ at: "left", time: 12, needs: ["drain-hydraulics"] }], {
        holds: { fluid: "hydraulic oil" },
        slack: 0.5,
      }),
      connection("pump-bolts", ["pump", "gearbox"], "bolted joint", [
        { at: "left", time: 9 },
        { at: "bench", time: 6, needs: ["lift-out"] },
      ]),
      connection("propeller-shaft", ["gearbox", "frame"], "shaft joint", [{ at: "under", time: 10 }], {
        mark: "flange to flange",
        refit: refit({ torque: exactly(70), time: 12 }),
      }),
      connection("duct-clips", ["duct", "frame"], "clip", [{ at: "left", time: 2 }], { carrying: true }),
      connection("tray-bolts", ["undertray", "frame"], "cover fixing", [{ at: "under", time: 6 }], { carrying: true }),
      connection("mount-left", ["engine", "frame"], "mount", [{ at: "left", time: 6 }], {
        rests: true,
        at: point(0.8, 0.4, 0.6),
      }),
      connection("mount-right", ["engine", "frame"], "mount", [{ at: "right", time: 6 }], {
        rests: true,
        at: point(0.8, -0.4, 0.6),
      }),
      connection("mount-rear", ["gearbox", "frame"], "mount", [{ at: "under", time: 8, needs: ["undertray"] }], {
        rests: true,
        at: point(2.1, 0, 0.5),
      }),
      connection(
        "bell-bolts",
        ["engine", "gearbox"],
        "bolted joint",
        [
          { at: "bench", time: 12, needs: ["lift-out"] },
          { at: "under", time: 130, people: 1, needs: ["gearbox-jack", "undertray"] },
        ],
        { refit: refit({ torque: exactly(48), pattern: "cross" }) },
      ),
      connection("clutch-cover", ["engine", "clutch"], "bolted joint", [
        { at: "bench", time: 8, needs: [{ apart: ["engine", "gearbox"] }] },
      ]),
    ],
    tasks: [
      task(
        "raise",
        { at: "left", time: 12, people: 2 },
        { undo: { time: 8, people: 2 }, temporary: [{ item: "axle stand", count: 4 }] },
      ),
      task(
        "drain-coolant",
        { at: "left", time: 2 },
        { wait: 15, drains: ["coolant"], back: { label: "Fill coolant", time: 6, people: 1 } },
      ),
      task(
        "drain-hydraulics",
        { at: "left", time: 5 },
        { wait: 20, drains: ["hydraulic oil"], back: { label: "Fill hydraulic oil", time: 10, people: 1 } },
      ),
      task("bleed-fuel", { at: "right", time: 7 }, { phase: "back" }),
      task("sling", { at: "left", time: 8, people: 2 }, { supports: ["engine", "gearbox"] }),
      task(
        "gearbox-jack",
        { at: "under", time: 10, people: 1 },
        { supports: ["gearbox"], temporary: [{ item: "gearbox jack", count: 1 }] },
      ),
      task(
        "lift-out",
        { time: 10, people: 3, needs: ["sling"], without: ["raise"] },
        { lifts: ["engine"], empties: ["under"], reach: 1.2 },
      ),
    ],
    jobs: [
      job("clutch-plate", {
        needs: ["clutch-cover"],
        work: [{ label: "Renew the clutch plate", at: "bench", time: 25, check: "plate centred" }],
      }),
      job("reseal-pump", {
        needs: ["pump-hose", "pump-bolts"],
        work: [{ label: "Reseal the pump", at: "bench", time: 40 }],
      }),
      job("swap-engine", { swap: ["engine"], needs: [] }),
    ],
    eyes: [
      { id: "front-eye", on: "engine", limit: kilograms(300) },
      { id: "rear-eye", on: "engine", limit: kilograms(250) },
    ],
    hoists: [
      {
        id: "crane",
        label: "Shop crane",
        reach: [
          [metres(1), kilograms(1000)],
          [metres(1.4), kilograms(500)],
        ],
      },
    ],
  });
