// Owns the new plan of a run under way, and the question of who does what next: the vehicle as the run is pinned to it, what the ledger says is done, and the solver.

import {
  amend,
  type Brief,
  briefOf,
  crewStanding,
  type Entry,
  Ledger,
  type Replan,
  replanRun,
} from "../ledger/index.ts";
import {
  type Crew,
  crewOfShop,
  type Earlier,
  type Overseer,
  type Plan,
  type Question,
  type Standing,
  translate,
  wholeJob,
} from "../plan/index.ts";
import { solve } from "../release/index.ts";
import { type ModelFile, type Run, type Store, StoreFault } from "../store/index.ts";
import { readVehicleWhole, type Vehicle } from "../vehicle/index.ts";
import type { OrderBody, PlanBody } from "./order.ts";

/** What a new plan is made from: plain data, so that a thread may make it. */
export interface Anew {
  /** Of the vehicle as the run is pinned to it, the main one first. */
  readonly files: readonly ModelFile[];
  readonly run: { readonly id: string; readonly order: string; readonly version: number };
  readonly asked: OrderBody["asked"];
  readonly people: OrderBody["people"];
  /** Of the plan in force. */
  readonly brief: Brief;
  readonly entries: readonly Entry[];
  /** What the plan is called if it is kept. */
  readonly plan: string;
}

/** What is left to do, and the plan to keep; none where the plan in force stays. */
export interface Replanned {
  readonly replan: Replan;
  readonly kept?: PlanBody;
}

/** Makes a new plan; where there is none in time it says so. */
export type Replanner = (anew: Anew) => Promise<Replanned>;

/** @param overseer who is told how far it is, and who stops it; without one it ends with the proof */
export const planAnew = async (anew: Anew, overseer?: Overseer, milliseconds?: number): Promise<Replanned> => {
  const { run, asked, people, brief, entries, plan: id } = anew;
  const vehicle = await readPinned(run.id, anew.files);
  overseer?.report({ kind: "doing", what: "planning" });
  const make = (plan: Plan) =>
    briefOf(vehicle, plan, { run: run.id, order: run.order, plan: id, version: run.version, people });
  const limits = {
    ...(overseer === undefined ? {} : { stop: overseer.stop, now: overseer.now }),
    ...(milliseconds === undefined ? {} : { milliseconds }),
  };
  const replan = replanRun(vehicle, asked, new Ledger(brief, entries), make, limits);
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
  const amended = amend(await readPinned(run.vehicle, await pinnedFiles(store, run)), { ...asked, people }, ledger);
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

/** The files of the vehicle as a run is pinned to it. @throws StoreFault "damaged" */
export const pinnedFiles = async (
  store: Pick<Store, "vehicle">,
  { vehicle, version }: Pick<Run, "vehicle" | "version">,
): Promise<readonly ModelFile[]> => {
  const files = (await store.vehicle(vehicle, version))?.files ?? [];
  if (files.length > 0) return files;
  throw new StoreFault("damaged", vehicle, "its vehicle file is gone", "Restore a backup.");
};

const readPinned = async (name: string, files: readonly ModelFile[]): Promise<Vehicle> => {
  const texts = new Map(files.map(({ path, text }) => [path, text]));
  const main = files[0]?.path ?? "";
  const { vehicle } = await readVehicleWhole(main, (path) => texts.get(path) ?? { missing: "no such file" });
  if (vehicle !== undefined) return vehicle;
  throw new StoreFault(
    "damaged",
    name,
    "this version cannot read its vehicle file",
    "Use the version that took the order.",
  );
};
