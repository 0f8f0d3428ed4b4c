import { expect, test } from "vitest";
import { jobOf, MORNING, PEOPLE, playJob, TestDevice, writeJob } from "../../test/run.ts";
import { orderFor, type Plan } from "../plan/index.ts";
import { briefOf } from "./brief.ts";
import type { Body } from "./kinds.ts";
import { Ledger } from "./ledger.ts";
import { type Replan, replanRun } from "./replan.ts";

const scene = (name: string, job: string) => {
  const { brief, vehicle } = jobOf(name, job);
  const made = (plan: Plan) =>
    briefOf(vehicle, plan, { run: brief.run, order: brief.order, plan: "plan-2", version: 1, people: PEOPLE });
  const replan = (ledger: Ledger): Replan => replanRun(vehicle, { ...orderFor(job), people: PEOPLE }, ledger, made);
  /** The first `count` entries of the job, and then these. */
  const after = (count: number, ...found: readonly Body[]) => {
    const device = new TestDevice(1, brief.run);
    const entries = writeJob(playJob(brief).slice(0, count), device).map(({ entry }) => entry);
    for (const body of found) entries.push(device.write("emil", body, MORNING + 1e9).entry);
    return new Ledger(brief, entries);
  };
  return { brief, vehicle, replan, after };
};

test.each([
  ["bench-pump", "shaft-seal"],
  ["marten-t1", "swap-module"],
  ["plover-28", "clutch-plate"],
])(
  "%s: wherever the run stands with nothing found, the plan for what is left is the one that people were told",
  (name, job) => {
    const { brief, replan, after } = scene(name, job);
    const { length } = playJob(brief);
    for (const share of [0, 0.2, 0.5, 0.8]) {
      const found = replan(after(Math.floor(share * length)));
      if (found.kind !== "plan") throw new Error(`${share}: ${found.why}`);
      // States of the vehicle may be turned a time less or more in an order that is as good.
      const turns = (id: string) => brief.tasks.some((task) => task.id === id && task.toggles);
      expect(
        [...found.added, ...found.dropped, ...found.altered].filter(({ id }) => !turns(id)),
        `${share}`,
      ).toEqual([]);
      expect(found.left, `${share}`).toBeLessThanOrEqual(found.before);
    }
  },
);

test("what is done stays done: the new plan has it in its way back, and its labour is only what is left", () => {
  const { replan, after, brief } = scene("bench-pump", "shaft-seal");
  const count = playJob(brief).findIndex(({ body }) => body.kind === "released" && body.at === "coupling") + 1;
  const found = replan(after(count, { kind: "finding", what: "out of reach", about: "suction-hose", text: "no room" }));
  if (found.kind !== "plan") throw new Error(found.why);
  // The guard is off and the coupling open: they are refitted the way they were released. Round the back instead of past the coupling:
  // 4 + 4 min for 2 + 3 min, so 3 min more than before.
  expect(found.left - found.before).toBe(3);
  expect(found.altered.map(({ action, id, minutes }) => `${action} ${id} ${minutes}`)).toEqual([
    "release suction-hose 4",
    "refit suction-hose 4",
  ]);
  const steps = found.plan.back.flatMap((visit) => visit.steps).map(({ id }) => id);
  expect(steps).toContain("guard-screws");
});

test("seized with no other way, no tool, nobody with the skill: no plan, and the smallest conflict says why", () => {
  const { replan, after } = scene("bench-pump", "shaft-seal");
  const seized = replan(after(0, { kind: "finding", what: "seized", about: "case-drain", text: "will not turn" }));
  expect(seized).toMatchObject({
    kind: "none",
    because: [{ says: "will not turn: Case drain hose at the pump cannot be released that way" }],
  });
  if (seized.kind === "none")
    expect(seized.conflict?.rules.map(({ says }) => says).join(" ")).toContain("Case drain hose");
  const tool = replan(after(0, { kind: "finding", what: "tool missing", tool: "spanner 24", text: "lent out" }));
  expect(tool.kind).toBe("none");
});

test("seized, with the time that it takes: longer and the same way, where no other is shorter", () => {
  const { replan, after } = scene("bench-pump", "shaft-seal");
  const found = replan(
    after(0, { kind: "finding", what: "seized", about: "case-drain", takes: "15 min", text: "heat and soak" }),
  );
  expect(found).toMatchObject({ kind: "plan", altered: [{ action: "release", id: "case-drain", minutes: 17 }] });
});

test("a stud that shears when the joint is apart makes its refit longer", () => {
  const { replan, after, brief } = scene("bench-pump", "shaft-seal");
  const lifted = playJob(brief).findIndex(({ body }) => body.kind === "done" && body.task === "lift-off") + 1;
  const found = replan(
    after(lifted, { kind: "finding", what: "sheared", about: "flange-bolts", takes: "30 min", text: "stud" }),
  );
  expect(found).toMatchObject({ kind: "plan", altered: [{ action: "refit", id: "flange-bolts", minutes: 38 }] });
});

test("one person leaves: a plan for those who are there, or why there is none", () => {
  const gone = (name: string, job: string) => {
    const { replan, after, brief } = scene(name, job);
    return replan(
      after(playJob(brief).length / 10, { kind: "finding", what: "person gone", person: "emil", text: "went home" }),
    );
  };
  expect(gone("bench-pump", "shaft-seal")).toMatchObject({
    kind: "plan",
    because: [{ says: "went home: Emil is away" }],
  });
  // The carrier's lift takes three.
  const none = gone("plover-28", "clutch-plate");
  expect(none.kind === "none" ? none.conflict?.rules.map(({ says }) => says).join(" ") : "a plan").toContain("people");
});

test("a finding that is closed changes nothing", () => {
  const { brief, replan } = scene("bench-pump", "shaft-seal");
  const device = new TestDevice(1, brief.run);
  const found = device.write(
    "emil",
    { kind: "finding", what: "out of reach", about: "suction-hose", text: "no room" },
    MORNING,
  ).entry;
  const closed = device.write(
    "frida",
    { kind: "closed", finding: found.id, how: "moved the bench" },
    MORNING + 1,
  ).entry;
  expect(replan(new Ledger(brief, [found, closed]))).toMatchObject({
    kind: "plan",
    added: [],
    dropped: [],
    altered: [],
    because: [],
  });
});
