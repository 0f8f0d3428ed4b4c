// The sharing out of a plan: every step of it is somebody's, in the order in which the crew's schedule has it.
import { expect, test } from "vitest";
import { jobOf, MORNING, PEOPLE, TestDevice } from "../../test/run.ts";
import { orderFor, solveCrew } from "../plan/index.ts";
import { actsOf } from "./acts.ts";
import { Ledger } from "./ledger.ts";
import { restOf } from "./rest.ts";
import { shareOut, sharesOf } from "./share.ts";

const scheduled = (name: string, job: string, ledger: Ledger) => {
  const { vehicle } = jobOf(name, job);
  const people = PEOPLE.map(({ id, label }) => ({
    id,
    label,
    skills: vehicle.shop.people.flatMap(({ skills }) => skills),
  }));
  const rest = restOf(vehicle, ledger, {
    order: orderFor(job),
    crew: undefined,
    people,
    opened: MORNING,
    now: MORNING,
  });
  if (rest === undefined) throw new Error("nothing leads on");
  const overseer = { report: () => undefined, stop: () => false, now: () => performance.now() };
  return solveCrew({ what: "schedule", ...rest, seconds: 0.5, seed: 1 }, overseer).answer?.plan;
};

test.each([
  ["bench-pump", "shaft-seal"],
  ["plover-28", "clutch-plate"],
  ["marten-t1", "swap-module"],
])("of %s, %s every step is somebody's", (name, job) => {
  const { brief } = jobOf(name, job);
  const ledger = new Ledger(brief);
  const plan = scheduled(name, job, ledger);
  if (plan === undefined) throw new Error("no schedule");
  const shares = shareOut(brief, brief.plan, plan);
  const told = new Set(shares.flatMap(({ steps }) => steps));
  // A schedule groups changes of a state in its own way, so it may have fewer of them than the plan for one pair of hands.
  const free = new Set(["do", "undo", "verify"]);
  const left = brief.steps.filter(({ number, action }) => !told.has(number) && !free.has(action));
  expect(left.map(({ action, id }) => `${action} ${id}`)).toEqual([]);
  const device = new TestDevice(3, brief.run);
  for (const body of shares) ledger.add(device.write("frida", body, MORNING).entry);
  expect([...sharesOf(ledger)].map(([person, steps]) => [person, steps.length])).toEqual(
    shares.map(({ person, steps }) => [person, steps.length]),
  );
  expect(actsOf(ledger).length).toBe(brief.steps.length);
});
