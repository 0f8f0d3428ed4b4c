// Owns how orders and runs stand as documents: what a command writes with --json and what the server answers are the same.

import {
  askGate,
  type BriefStep,
  GATES,
  type GateAnswer,
  type GateName,
  type Ledger,
  progressOf,
  shiftPage,
} from "../ledger/index.ts";
import type { Plan } from "../plan/index.ts";
import type { Order, Revised, Run, Store } from "../store/index.ts";
import { type Desk, type Reception, sayNotTaken } from "./desk/index.ts";
import type { OrderTaken } from "./order.ts";
import type {
  GateDocument,
  OrderDocument,
  RunDocument,
  RunListDocument,
  ShiftDocument,
  TakenInDocument,
} from "./run-documents.ts";

/** An order that was taken. */
export const describeTaken = (
  taken: OrderTaken,
  { status, figures }: Pick<Plan, "status" | "figures">,
): OrderDocument => ({
  format: "unmoor/order-taken/1",
  order: taken.id,
  plan: taken.plan,
  version: taken.version,
  labour: figures.labour,
  status,
  people: taken.brief.people.map(({ id, label, roles }) => ({ id, label, roles })),
  connections: taken.brief.joints.filter(({ planned }) => planned !== undefined).length,
  lifts: taken.brief.lifts.map(({ task, label, cut }) => ({ task, label, cut: cut.length })),
  differences: taken.differences,
});

/** Orders with how far each is. */
export const describeOrders = async (store: Store, orders: readonly Revised<Order>[]): Promise<RunListDocument> => ({
  format: "unmoor/runs/1",
  orders: await Promise.all(
    orders.map(async ({ value }) => {
      const run = await store.run(value.id);
      return {
        order: value.id,
        vehicle: value.vehicle,
        version: value.version,
        jobs: value.jobs,
        ...(value.machine === undefined ? {} : { machine: value.machine }),
        by: value.by,
        at: value.at,
        state: stateOf(run),
        entries: run?.length ?? 0,
      };
    }),
  ),
});

const stateOf = (run: Run | undefined): "ordered" | "running" | "closed" =>
  run === undefined ? "ordered" : run.closed === undefined ? "running" : "closed";

/** Person-minutes of steps. */
const labourOf = (steps: readonly Pick<BriefStep, "minutes" | "people">[]): number =>
  steps.reduce((sum, { minutes, people }) => sum + minutes * people, 0);

/** @param ledger of the desk's run, now or as it was at another moment. */
export const describeRun = (desk: Desk, ledger: Ledger = desk.ledger): RunDocument => {
  const progress = progressOf(ledger);
  return {
    format: "unmoor/run-standing/1",
    run: desk.run.id,
    vehicle: desk.brief.vehicle,
    jobs: desk.brief.jobs,
    plan: ledger.planInForce(),
    version: desk.run.version,
    entries: ledger.size,
    closed: desk.run.closed ?? null,
    planned: progress.planned,
    apart: progress.apart,
    loose: progress.loose,
    back: progress.back,
    labour: labourOf(progress.steps),
    left: labourOf(progress.steps.filter(({ done }) => !done)),
    lifts: desk.brief.lifts.map(({ task, label, cut }) => ({
      task,
      label,
      tied: cut.filter((id) => ledger.joint(id).state !== "loose"),
      cut: cut.length,
    })),
    joints: desk.brief.joints
      .filter(({ id }) => ledger.joint(id).last !== undefined)
      .map(({ id, label }) => ({ id, label, state: ledger.joint(id).state })),
    next: progress.next.map(({ number, action, id, label, minutes, position }) => ({
      number,
      action,
      id,
      label,
      minutes,
      ...(position === undefined ? {} : { position: position.label }),
    })),
    findings: ledger.findings().map(({ entry, author, found, state, end }) => ({
      entry,
      by: author,
      what: found.what,
      ...(found.about === undefined ? {} : { about: found.about }),
      text: found.text,
      state,
      ...(end === undefined ? {} : { end }),
    })),
    contradictions: ledger.contradictions().map((one) => ({ ...one, says: desk.sayContradiction(one) })),
    devices: [...new Set(desk.told.map(({ entry }) => entry.device))],
  };
};

/** @param gate all of them where none is named; @param lift only this one of the plan. */
export const describeGates = (
  desk: Desk,
  gate?: GateName,
  lift?: string,
): GateDocument & { readonly gates: readonly GateAnswer[] } => ({
  format: "unmoor/gates/1",
  run: desk.run.id,
  gates: (gate === undefined ? GATES : [gate]).flatMap((one) => askGate(desk.ledger, one, { decides: true }, lift)),
});

export const describeShift = (desk: Desk): ShiftDocument => ({
  format: "unmoor/shift/1",
  run: desk.run.id,
  vehicle: desk.brief.vehicle,
  ...shiftPage(desk.ledger),
});

export const describeReception = (desk: Desk, reception: Reception): TakenInDocument => ({
  format: "unmoor/taken-in/1",
  run: desk.run.id,
  taken: reception.taken,
  faults: [...new Set(reception.faults.map(sayNotTaken))],
  contradictions: reception.contradictions.map((one) => ({ ...one, says: desk.sayContradiction(one) })),
  wrongPasses: reception.wrongPasses.map((one) => ({ ...one, says: desk.sayContradiction(one) })),
});
