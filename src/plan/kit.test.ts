// Owns the checks of the bridge to fastening: the kit of every demo job comes out even, every torque of the demos is one that its bolt bears.

import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { tighten } from "../fastening/index.ts";
import { solve } from "../release/index.ts";
import { readVehicle, type Vehicle } from "../vehicle/index.ts";
import { jointOf } from "./joint.ts";
import { bagsOf, kitOf } from "./kit.ts";
import { makePlan } from "./make-plan.ts";
import { orderFor } from "./order.ts";
import type { Plan } from "./plan.ts";
import { translate } from "./question.ts";

const demo = (name: string): Vehicle => {
  const { vehicle } = readVehicle(`demo/${name}.vehicle.yaml`, (file) => readFileSync(file, "utf8"));
  if (vehicle === undefined) throw new Error(`demo/${name}.vehicle.yaml has faults`);
  return vehicle;
};
const planned = (vehicle: Vehicle, job: string): Plan => {
  const question = translate(vehicle, orderFor(job));
  const plan = makePlan(question, solve(question.problem));
  if (plan === undefined) throw new Error(`no plan for ${job}`);
  return plan;
};
const stepsOf = (plan: Plan) => [...plan.out, ...plan.work, ...plan.back].flatMap(({ steps }) => steps);

describe.each(["plover-28", "marten-t1", "bench-pump"])("%s", (name) => {
  const vehicle = demo(name);
  const [job] = vehicle.jobs;
  const plan = planned(vehicle, job?.id ?? "");
  const kit = kitOf(plan, vehicle);

  test("the kit comes out even: every bag is emptied, every plug and strap taken out", () => {
    expect(kit.uneven).toEqual([]);
    expect(kit.bags.length).toBeGreaterThan(0);
    for (const bag of kit.bags) expect(bag.in).toBeGreaterThan(bag.out);
  });

  test("it says the same pieces as the plan's steps", () => {
    const taken = stepsOf(plan).filter(({ action, hardware }) => action === "release" && hardware.length > 0);
    expect(kit.bags.map(({ connection }) => connection)).toEqual(taken.map(({ id }) => id));
    const pieces = (list: readonly { readonly count: number }[]) => list.reduce((sum, { count }) => sum + count, 0);
    expect(pieces(kit.bags.flatMap(({ hardware }) => hardware))).toBe(
      pieces(taken.flatMap(({ hardware }) => hardware)),
    );
    expect(bagsOf(plan, vehicle).map(({ connection }) => connection)).toEqual(taken.map(({ id }) => id));
  });

  test("nothing that a step puts in is missing from the lists, and every tool is at its position", () => {
    const listed = new Set([...kit.plugs, ...kit.temporary].map(({ item }) => item));
    for (const { putIn } of stepsOf(plan)) for (const { item } of putIn) expect(listed).toContain(item);
    const tools = new Set(kit.tools.flatMap((place) => place.tools.map(({ tool }) => tool)));
    for (const step of stepsOf(plan)) for (const tool of step.tools) expect(tools).toContain(tool);
    expect(JSON.parse(JSON.stringify(kit))).toEqual(kit);
  });

  test("no torque of the file is beyond the proof load of its bolt", () => {
    let reckoned = 0;
    for (const connection of vehicle.connections) {
      const reading = jointOf(vehicle, connection);
      if (!("joint" in reading)) continue;
      const answer = tighten(reading.joint);
      if ("faults" in answer) throw new Error(`${connection.id}: ${answer.faults.map(({ what }) => what).join("; ")}`);
      const verdict = answer.answer.verdicts.find(({ rule }) => rule === "over-proof");
      expect(verdict?.standing, `${connection.id}: ${verdict?.what}`).not.toBe("fails");
      reckoned++;
    }
    expect(reckoned).toBeGreaterThan(3);
  });
});

test("a swap lists what goes over with its own hardware and seals", () => {
  const vehicle = demo("plover-28");
  const swap = vehicle.jobs.find((job) => job.swap.length > 0);
  if (swap === undefined) throw new Error("the demo has no swap");
  const plan = planned(vehicle, swap.id);
  const { transfers } = kitOf(plan, vehicle);
  expect(transfers.map(({ job }) => job)).toEqual([swap.id]);
  expect(transfers[0]?.parts.map(({ part }) => part)).toEqual(plan.swaps[0]?.carriedOver);
  const told = transfers.flatMap(({ parts }) => parts.flatMap(({ ties }) => ties.map(({ connection }) => connection)));
  expect(new Set(told).size).toBe(told.length);
  for (const id of told) expect(plan.swaps[0]?.connections).toContain(id);
});

describe("the joint of a connection", () => {
  const vehicle = demo("bench-pump");
  const connection = (id: string) => vehicle.connections.find((one) => one.id === id)!;

  test("has the thread and class of its hardware, its torque, and says what was assumed", () => {
    expect(jointOf(vehicle, connection("flange-bolts"))).toMatchObject({
      joint: { thread: { name: "M12×1.75" }, strength: { name: "8.8" }, aim: { torque: 80 } },
      item: "bolt M12×35",
      count: 4,
      refit: { pattern: "cross" },
      assumed: ["threads clean and dry, as the file does not say"],
    });
  });

  test("is tightened with the wrench that its refit names, else with any of the shop", () => {
    const flange = connection("flange-bolts");
    const named = { ...flange, ways: [], refit: { ...flange.refit, tools: ["torque wrench 5-25"] } };
    const bare = { ...flange, ways: [], refit: { ...flange.refit, tools: ["socket 19"] } };
    const shop = { ...vehicle, shop: { ...vehicle.shop, tools: ["torque wrench 20-100", "jack"] } };
    expect(jointOf(shop, named)).toMatchObject({ joint: { wrenches: [{ id: "torque wrench 5-25" }] } });
    expect(jointOf(shop, bare)).toMatchObject({ joint: { wrenches: [{ id: "torque wrench 20-100" }] } });
  });

  test("that has no thread, or neither torque nor class, is told with the mend", () => {
    const bare = { ...connection("flange-bolts"), hardware: [{ item: "hose clamp 16-27", count: 1, reuse: true }] };
    expect(jointOf(vehicle, bare)).toMatchObject({ what: "flange-bolts has no hardware with a thread" });
    const { torque: _, ...refit } = connection("flange-bolts").refit;
    const silent = { ...connection("flange-bolts"), refit, hardware: [{ item: "bolt M12×35", count: 4, reuse: true }] };
    expect(jointOf(vehicle, silent)).toMatchObject({ what: "flange-bolts has neither a torque nor a class" });
    const proposed = { ...connection("flange-bolts"), refit };
    expect(jointOf(vehicle, proposed)).toMatchObject({ joint: { aim: { propose: "to come apart" } } });
  });
});
