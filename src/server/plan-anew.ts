// Owns the new plan of a run under way, and the question of who does what next: the vehicle as the run is pinned to it, what the ledger says is done, and the solver.

import { amend, briefOf, crewStanding, type Ledger, type Replan, replanRun } from "../ledger/index.ts";
import {
  type Crew,
  crewOfShop,
  type Earlier,
  type Plan,
  type Question,
  type Standing,
  translate,
  wholeJob,
} from "../plan/index.ts";
import { solve } from "../release/index.ts";
import { type Run, type Store, StoreFault } from "../store/index.ts";
import { readVehicleWhole, type Vehicle } from "../vehicle/index.ts";
import type { OrderBody, PlanBody } from "./order.ts";

/** What is left to do, and the plan to keep under this id; none where the plan in force stays. */
export const planAnew = async (
  store: Store,
  run: Run,
  { asked, people }: OrderBody,
  ledger: Ledger,
  id: string,
): Promise<{ readonly replan: Replan; readonly kept?: PlanBody }> => {
  const vehicle = await pinned(store, run);
  const make = (plan: Plan) =>
    briefOf(vehicle, plan, { run: run.id, order: run.order, plan: id, version: run.version, people });
  const replan = replanRun(vehicle, asked, ledger, make);
  if (replan.kind === "none" || replan.added.length + replan.dropped.length + replan.altered.length === 0)
    return { replan };
  return { replan, kept: { format: "unmoor/kept-plan/1", plan: replan.plan, brief: make(replan.plan) } };
};

/** The question of who does what next, for those of the order who are still there; and how the work stands for it. */
export interface WhoNext {
  readonly question: Question;
  readonly crew: Crew;
  readonly standing: Standing;
}

/**
 * Who does what next, as a question for the crew's search. Undefined where no plan, or no order of the way back, leads on from here.
 *
 * @param now milliseconds since 1970; minute 0 is when the run began.
 */
export const whoNext = async (
  store: Pick<Store, "vehicle">,
  run: Pick<Run, "opened" | "vehicle" | "version">,
  { asked, people, crew }: OrderBody,
  ledger: Ledger,
  now: number,
  told?: Earlier,
): Promise<WhoNext | undefined> => {
  const amended = amend(await pinned(store, run), { ...asked, people }, ledger);
  const there = amended.order.people;
  if (there === undefined || typeof there === "number") return undefined;
  const question = translate(amended.vehicle, amended.order);
  const answer = question.faults.length > 0 ? undefined : solve(question.problem).plan;
  const job = answer === undefined ? undefined : wholeJob(question, answer);
  if (job === undefined) return undefined;
  const ids = new Set(there.map(({ id }) => id));
  const began = new Date(run.opened);
  const whole: Crew =
    crew === undefined
      ? crewOfShop(people)
      : {
          ...crew,
          tools: new Map(crew.tools),
          systems: new Map(crew.systems),
          begins: began.getHours() * 60 + began.getMinutes(),
        };
  const minute = (at: number) => Math.max(0, Math.round((at - run.opened) / 60_000));
  return {
    question,
    crew: { ...whole, people: whole.people.filter(({ id }) => ids.has(id)) },
    standing: crewStanding(ledger, job, minute, now, told),
  };
};

const pinned = async (store: Pick<Store, "vehicle">, run: Pick<Run, "vehicle" | "version">): Promise<Vehicle> => {
  const kept = await store.vehicle(run.vehicle, run.version);
  const [main] = kept?.files ?? [];
  if (kept === undefined || main === undefined)
    throw new StoreFault("damaged", run.vehicle, "its vehicle file is gone", "Restore a backup.");
  const texts = new Map(kept.files.map(({ path, text }) => [path, text]));
  const { vehicle } = await readVehicleWhole(main.path, (path) => texts.get(path) ?? { missing: "no such file" });
  if (vehicle === undefined)
    throw new StoreFault("damaged", main.path, "this version cannot read it", "Use the version that took the order.");
  return vehicle;
};
