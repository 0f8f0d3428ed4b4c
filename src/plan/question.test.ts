import { expect, test } from "vitest";
import {
  carrier,
  connection,
  frame,
  hang,
  job,
  part,
  point,
  position,
  refit,
  task,
  vehicle,
} from "../../test/small-vehicle.ts";
import { kilograms, metres } from "../quantity/index.ts";
import { check, solve } from "../release/index.ts";
import { hoistLimit } from "./lift.ts";
import { orderFor } from "./order.ts";
import { translate } from "./question.ts";
import { refitOf } from "./refit.ts";

const wayOf = (question: ReturnType<typeof translate>, id: string) =>
  question.problem.connections.flatMap((one) => one.ways).find((way) => way.id === id);
const taskOf = (question: ReturnType<typeof translate>, id: string) =>
  question.problem.tasks.find((one) => one.id === id);

test("a position's needs go to every step done there", () => {
  expect(wayOf(translate(carrier(), orderFor("clutch-plate")), "propeller-shaft/1")?.needs).toContainEqual({
    done: "raise",
  });
});

test("labour is people × minutes, release and refit; a refit figure left out is the release's, and said to be assumed", () => {
  const question = translate(carrier(), orderFor("clutch-plate"));
  expect(wayOf(question, "coolant-hose/1")?.labour).toBe(4 + 5);
  expect(wayOf(question, "mount-left/1")?.labour).toBe(6 + 6);
  expect(question.assumed).toContainEqual({ id: "mount-left/1", what: "refit time" });
  expect(question.assumed).not.toContainEqual({ id: "coolant-hose/1", what: "refit time" });
});

test("tools and skill of a refit stand in the place of the release's, which hold where the refit names none", () => {
  const { vehicle: file } = translate(carrier(), orderFor("clutch-plate"));
  const way = { ...file.connections[0]!.ways[0]!, tools: ["puller"], skill: "fitter" };
  const made = (given: Parameters<typeof refit>[0]) => refitOf({ ...file.connections[0]!, refit: refit(given) }, way);
  expect(made({})).toMatchObject({ tools: ["puller"], skill: "fitter" });
  expect(made({ tools: ["torque wrench"], skill: "rigger" })).toMatchObject({
    tools: ["torque wrench"],
    skill: "rigger",
  });
});

test("a task returns by its undo or its back, a lift or a support by itself mirrored, any other not at all", () => {
  const question = translate(carrier(), orderFor("clutch-plate"));
  expect(taskOf(question, "raise")).toMatchObject({ labour: 2 * 12 + 2 * 8, toggle: true });
  expect(taskOf(question, "drain-coolant")?.labour).toBe(2 + 6);
  expect(taskOf(question, "lift-out")?.labour).toBe(2 * 30);
  expect(question.assumed).toContainEqual({ id: "lift-out", what: "return" });
  const bare = translate(
    vehicle({ parts: [frame()], tasks: [task("cool", { time: 1 })], jobs: [job("look", {})] }),
    orderFor("look"),
  );
  expect(taskOf(bare, "cool")?.labour).toBe(1);
});

test("`out` is apart from every fixed part; a part is off when its every connection is released", () => {
  const file = vehicle({
    parts: [frame("front"), frame("rear"), part("axle", 80)],
    connections: [
      connection("bolts", ["axle", "front"], "bolted joint", [{}]),
      connection("rod", ["axle", "rear"], "rod", [{}]),
    ],
    jobs: [job("away", { needs: [{ out: "axle" }] }), job("off", { needs: ["axle"] })],
  });
  expect(taskOf(translate(file, orderFor("away")), "away/done")?.needs).toEqual([
    { apart: [["axle"], ["front", "rear"]] },
  ]);
  expect(taskOf(translate(file, orderFor("off")), "off/done")?.needs).toEqual([
    { all: [{ released: "bolts" }, { released: "rod" }] },
  ]);
});

test("`clear` is off, or hung aside with every tie released that is too short for the move", () => {
  const file = vehicle({
    parts: [frame(), part("engine", 200), part("pump", 9, point(0, 0, 0), [hang("pump/hang-1", "frame", 0.3, {})])],
    connections: [
      connection("bracket", ["pump", "engine"], "bracket", [{}]),
      connection("hose", ["pump", "frame"], "hose", [{}], { slack: 0.5 }),
      connection("wire", ["pump", "frame"], "wire", [{}], { slack: 0.1 }),
      connection("bolts", ["engine", "frame"], "mount", [{ needs: [{ clear: "pump" }] }]),
    ],
    jobs: [job("bolts", { needs: ["bolts"] })],
  });
  const question = translate(file, orderFor("bolts"));
  expect(taskOf(question, "pump/hang-1")?.hang).toEqual({ part: "pump", to: "frame", taut: ["bracket", "wire"] });
  expect(wayOf(question, "bolts/1")?.needs).toEqual([
    {
      any: [
        { all: [{ released: "bracket" }, { released: "hose" }, { released: "wire" }] },
        { all: [{ done: "pump/hang-1" }, { released: "bracket" }, { released: "wire" }] },
      ],
    },
  ]);
});

test("`first` comes before every step except what it may itself need, and in its own order", () => {
  const file = vehicle({
    first: ["earth", "supply"],
    positions: [position("cab", ["tilt"])],
    parts: [frame(), part("battery", 20), part("lid", 1), part("box", 4)],
    connections: [
      connection("earth", ["battery", "frame"], "cable", [
        { at: "cab", needs: [{ any: ["lid-off", "lid-screws"].map((id) => ({ id })) }] },
      ]),
      connection("supply", ["battery", "frame"], "cable", [{}]),
      connection("lid-screws", ["lid", "frame"], "cover fixing", [{}]),
      connection("box-bolts", ["box", "frame"], "bolted joint", [{}]),
    ],
    tasks: [task("tilt", {}, { undo: { time: 1, people: 1 } }), task("lid-off", {})],
    jobs: [job("box", { needs: ["box"] })],
  });
  const question = translate(file, orderFor("box"));
  const first = [{ released: "earth" }, { released: "supply" }];
  expect(wayOf(question, "box-bolts/1")?.needs).toEqual(first);
  expect(wayOf(question, "supply/1")?.needs).toEqual([{ released: "earth" }]);
  expect(wayOf(question, "lid-screws/1")?.needs).toEqual([]);
  expect(taskOf(question, "tilt")?.needs).toEqual([]);
  expect(taskOf(question, "lid-off")?.needs).toEqual([]);
  expect(question.access.get("box-bolts/1")).toEqual([]);
});

test("a job's work is one step after the other, each with the job's needs, and costs no labour of the plan", () => {
  const file = vehicle({
    positions: [position("bench", ["stand"])],
    parts: [frame(), part("box", 4)],
    connections: [connection("bolts", ["box", "frame"], "bolted joint", [{}])],
    tasks: [task("stand", {}, { undo: { time: 1, people: 1 } })],
    jobs: [
      job("mend", {
        needs: ["box"],
        work: [
          { label: "Open", at: "bench", time: 9 },
          { label: "Close", at: "bench", time: 9 },
        ],
      }),
    ],
  });
  const question = translate(file, orderFor("mend"));
  const box = { all: [{ released: "bolts" }] };
  expect(taskOf(question, "mend/work-1")).toMatchObject({ must: true, labour: 0, needs: [box, { done: "stand" }] });
  expect(taskOf(question, "mend/work-2")?.needs).toEqual([box, { done: "stand" }, { done: "mend/work-1" }]);
});

test("a swap releases what is not common to old and new, takes the old out, and lists what is carried over", () => {
  const question = translate(carrier(), orderFor("swap-engine"));
  expect(question.swaps).toEqual([
    {
      job: "swap-engine",
      parts: ["engine"],
      connections: [
        "battery-earth",
        "coolant-hose",
        "fuel-hose",
        "starter-cable",
        "mount-left",
        "mount-right",
        "bell-bolts",
        "clutch-cover",
      ],
      // The gearbox has a mount of its own and stays on the vehicle without the engine.
      carriedOver: ["clutch"],
    },
  ]);
  expect(taskOf(question, "swap-engine/done")?.needs).toContainEqual({ released: "bell-bolts" });
  expect(taskOf(question, "swap-engine/done")?.needs).toContainEqual({ apart: [["engine"], ["frame"]] });
});

test("carried over is what hangs on the old assembly, not what it was only tied to", () => {
  const file = vehicle({
    parts: ["engine", "pump", "radiator", "duct", "shield"].map((id) => part(id, 5)).concat(frame()),
    connections: [
      connection("mount", ["engine", "frame"], "mount", [{}]),
      connection("pump-bolts", ["pump", "engine"], "bolted joint", [{}]),
      connection("pump-hose", ["pump", "frame"], "hose", [{}]),
      connection("feet", ["radiator", "frame"], "mount", [{}]),
      connection("top-hose", ["radiator", "engine"], "hose", [{}]),
      connection("duct-front", ["duct", "frame"], "clip", [{}]),
      connection("duct-rear", ["duct", "engine"], "clip", [{}]),
      connection("shield-clip", ["shield", "engine"], "clip", [{}]),
    ],
    jobs: [job("swap", { swap: ["engine"] })],
  });
  const [swap] = translate(file, orderFor("swap")).swaps;
  expect(swap?.carriedOver).toEqual(["pump", "shield"]);
  expect(swap?.connections).toEqual(["mount", "pump-bolts", "top-hose", "duct-rear", "shield-clip"]);
});

test("a step that wants a tool, a skill, people or a reach that the order lacks is left out, with what it lacks", () => {
  const question = translate(carrier(), { ...orderFor("clutch-plate"), people: 2, tools: [] });
  expect(wayOf(question, "battery-earth/1")).toBeUndefined();
  expect(question.removed).toEqual([
    { id: "battery-earth/1", of: "battery-earth", phase: "out", why: { lack: "tool", tool: "spanner 13" } },
    { id: "lift-out", of: "lift-out", phase: "out", why: { lack: "people", wanted: 3, have: 2 } },
  ]);
  expect(wayOf(question, "pump-bolts/2")?.needs).toContainEqual({ any: [] });
  const file = carrier();
  const far = {
    ...file,
    tasks: file.tasks.map((one) => (one.id === "lift-out" ? { ...one, reach: metres(2), skill: "rigger" } : one)),
  };
  expect(translate(far, { ...orderFor("clutch-plate"), people: 3 }).removed).toEqual([
    {
      id: "lift-out",
      of: "lift-out",
      phase: "out",
      why: { lack: "reach", reach: 2, hoists: [{ id: "crane", from: 1, to: 1.4 }] },
    },
  ]);
  const unskilled = ["a", "b", "c"].map((id) => ({ id, skills: [] }));
  expect(translate(far, { ...orderFor("clutch-plate"), people: unskilled }).removed).toEqual([
    { id: "lift-out", of: "lift-out", phase: "out", why: { lack: "skill", skill: "rigger" } },
  ]);
});

test("what calls for a task of the way back that the order cannot do is left out with it", () => {
  const file = carrier();
  const skilled = {
    ...file,
    tasks: file.tasks.map((one) => (one.id === "bleed-fuel" ? { ...one, skill: "fuel fitter" } : one)),
  };
  const people = ["a", "b", "c"].map((id) => ({ id, skills: [] }));
  const question = translate(skilled, { ...orderFor("clutch-plate"), people });
  const why = { lack: "skill", skill: "fuel fitter" };
  const calling = file.connections.flatMap(({ id, ways, refit }) =>
    refit.then.includes("bleed-fuel") ? ways.map((way) => ({ id: way.id, of: id, phase: "back", why })) : [],
  );
  expect(calling.length).toBeGreaterThan(0);
  expect(question.removed).toEqual([{ id: "bleed-fuel", of: "bleed-fuel", phase: "out", why }, ...calling]);
  expect(question.problem.connections.flatMap(({ ways }) => ways.flatMap(({ entails }) => entails))).not.toContain(
    "bleed-fuel",
  );
  // Its hose then stays on, and the plan is another one.
  const { plan } = solve(question.problem);
  expect(plan?.tasks).not.toContain("bleed-fuel");
  expect(plan?.releases.map(({ id }) => id)).not.toEqual(expect.arrayContaining(calling.map(({ of }) => of)));
});

test("a lift's limit is the least of the hoist at its reach and twice the weakest of the eyes", () => {
  const question = translate(carrier(), orderFor("clutch-plate"));
  // The crane at 1.2 m, half way from 1.0 m (1000 kg) to 1.4 m (500 kg): 750 kg. The eyes: 2 × 250 kg.
  expect(question.lifts.get("lift-out")).toEqual({
    limit: 500,
    hoist: { id: "crane", limit: expect.closeTo(750, 9), reach: 1.2 },
    eyes: { ids: ["front-eye", "rear-eye"], limit: 500 },
  });
  expect(taskOf(question, "lift-out")?.lift).toEqual({ parts: ["engine"], limit: 500 });
});

test("a hoist has no figure outside its listed reaches, and without a reach its least counts", () => {
  const crane = {
    id: "crane",
    label: "",
    reach: [
      [metres(1), kilograms(1000)],
      [metres(1.4), kilograms(500)],
    ] as const,
  };
  expect(hoistLimit(crane, 0.9)).toBeUndefined();
  expect(hoistLimit(crane, 1)).toBe(1000);
  expect(hoistLimit(crane, 1.5)).toBeUndefined();
  expect(hoistLimit(crane, undefined)).toBe(500);
});

test("a task of the way back is called for by the refit and by whoever needs it, and what it needs open is opened", () => {
  const file = vehicle({
    parts: [frame(), part("box", 4), part("lid", 1)],
    connections: [
      connection("bolts", ["box", "frame"], "bolted joint", [{}], {
        refit: { after: [], tools: [], fresh: [], then: ["adjust"] },
      }),
      connection("lid-screws", ["lid", "frame"], "cover fixing", [{}]),
    ],
    tasks: [
      task("adjust", { time: 5, needs: ["lid-screws", "test"] }, { phase: "back" }),
      task("test", { time: 3 }, { phase: "back" }),
    ],
    jobs: [job("box", { needs: ["box"] }), job("tested", { needs: ["test"] })],
  });
  const question = translate(file, orderFor("box", "tested"));
  expect(wayOf(question, "bolts/1")).toMatchObject({ entails: ["adjust"], needs: [{ released: "lid-screws" }] });
  expect(taskOf(question, "adjust")).toMatchObject({ back: true, entails: ["test"] });
  expect(taskOf(question, "tested/done")).toMatchObject({ needs: [], entails: ["test"] });
});

test("a state of the vehicle that empties a position keeps every step there out of it", () => {
  const file = vehicle({
    positions: [position("under")],
    parts: [frame(), part("box", 4)],
    connections: [connection("bolts", ["box", "frame"], "bolted joint", [{ at: "under" }])],
    tasks: [task("hoist-up", {}, { undo: { time: 1, people: 1 }, empties: ["under"] })],
    jobs: [job("box", { needs: ["box"] })],
  });
  expect(wayOf(translate(file, orderFor("box")), "bolts/1")?.without).toEqual(["hoist-up"]);
});

test("what is wrong with an order is told as data, all at once, with the nearest names", () => {
  const { faults } = translate(carrier(), {
    ...orderFor("clutch-plat"),
    keep: ["pump"],
    take: ["pump", "frame"],
    hoist: "crane",
    released: ["x"],
    people: 0,
  });
  expect(faults.map(({ at, value }) => ({ at, value }))).toEqual([
    { at: "jobs[0]", value: "clutch-plat" },
    { at: "take[1]", value: "frame" },
    { at: "released[0]", value: "x" },
    { at: "take", value: "pump" },
    { at: "people", value: undefined },
  ]);
  expect(faults[0]?.nearest).toBe("clutch-plate");
});

test("nothing carries on a hose, a wire or a cable: a pump off its bracket drops, hung aside first it does not", () => {
  const { problem } = translate(carrier(), orderFor("clutch-plate"));
  const bolts = { release: "pump-bolts", way: "pump-bolts/1" };
  const first = { release: "battery-earth", way: "battery-earth/1" };
  expect(check(problem, [first, bolts]).faults.map((fault) => fault.rule)).toContain("R5");
  const hung = check(problem, [first, { do: "pump/hang-1" }, bolts]).faults.map((fault) => fault.rule);
  expect(hung).not.toContain("R5");
});
