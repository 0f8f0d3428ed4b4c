// Owns what a step of the plan asks to be entered: each act in its order, what it says, what is still to be filled in, and whether it is done.

import type { Brief, BriefJoint } from "./brief.ts";
import type { GateName } from "./gate.ts";
import type { Joint } from "./joint.ts";
import type { JointState } from "./joint-table.ts";
import type { Body } from "./kinds.ts";
import type { Ledger } from "./ledger.ts";
import { progressOf, type StepStanding } from "./progress.ts";

/** One entry that a step asks for. */
export interface Act {
  /** Whole, but for the fields that are asked: these hold what is usual, or nothing. */
  readonly body: Body;
  /** What whoever enters it has to say himself. */
  readonly asks?: "torque" | "amounts" | "place" | "reading" | "proof";
  readonly done: boolean;
  /** Only by somebody who had no hand in it. */
  readonly second?: true;
}

/** A gate that stands before a step, or after the last of what comes first. */
export interface GateAct {
  readonly gate: GateName;
  readonly lift?: string;
  readonly done: boolean;
}

export interface StepActs {
  readonly step: StepStanding;
  /** To be passed before the step. */
  readonly gate?: GateAct;
  readonly acts: readonly Act[];
  /** Nothing is left to enter. */
  readonly over: boolean;
}

/** The tool of a torque, where the plan names one. */
const WRENCH = "torque wrench";

/** By step of the plan in force what it asks. */
export const actsOf = (ledger: Ledger): readonly StepActs[] => {
  const { brief } = ledger;
  const passed = ledger.list("gates", "passed");
  const { steps } = progressOf(ledger);
  const lastFirst = brief.first.at(-1);
  let beforeFirst = lastFirst !== undefined || brief.energies.length > 0;
  return steps.map((step, place): StepActs => {
    const lift = brief.lifts.find(({ task }) => task === step.id && step.action === "do");
    // The isolation gate stands before the first step that is no isolation itself.
    const isIsolation = brief.first.includes(step.id) || brief.energies.some(({ by }) => by === step.id);
    const isGated = beforeFirst && !isIsolation && step.phase === "out" && restIsolates(brief, steps, place) === false;
    if (isGated) beforeFirst = false;
    const gate: Omit<GateAct, "done"> | undefined =
      lift === undefined ? (isGated ? { gate: "isolation" } : undefined) : { gate: "lift", lift: lift.task };
    const isPassed =
      gate !== undefined &&
      (passed.some(({ body }) => body.gate === gate.gate && (lift === undefined || body.lift === lift.task)) ||
        // Who has gone on without it is told so by the gates; here it stands in nobody's way any more.
        step.done);
    const acts = actsOfStep(ledger, step);
    return {
      step,
      ...(gate === undefined ? {} : { gate: { ...gate, done: isPassed } }),
      acts,
      over: acts.every(({ done }) => done),
    };
  });
};

/** Whether a later step still isolates: then the gate is not yet due. */
const restIsolates = (brief: Brief, steps: readonly StepStanding[], place: number): boolean =>
  steps
    .slice(place)
    .some(
      ({ id, phase }) => phase === "out" && (brief.first.includes(id) || brief.energies.some(({ by }) => by === id)),
    );

const actsOfStep = (ledger: Ledger, step: StepStanding): readonly Act[] => {
  const joint = ledger.brief.joints.find(({ id }) => id === step.id);
  return [
    ...step.fetch.map(
      (part): Act => ({ body: { kind: "brought back", part }, done: ledger.part(part).away === undefined }),
    ),
    ...(joint === undefined ? taskActs(ledger, step) : jointActs(ledger, step, joint)),
    ...energyActs(ledger, step),
    ...step.putIn.map(
      ({ item, count }): Act => ({
        body: { kind: "put in", item, count, at: step.id },
        done: ledger.things().some((one) => one.item === item && one.at === step.id),
      }),
    ),
    ...step.takeOut.map(({ item, count }): Act => takeOut(ledger, step, item, count)),
    ...step.setAside.map(
      (part): Act => ({
        body: { kind: "set aside", part, place: "" },
        asks: "place",
        done: ledger.part(part).awayTimes > 0,
      }),
    ),
  ];
};

/** It comes out of where it was put in: at this very step, or at another that the plan pairs it with. */
const takeOut = (ledger: Ledger, step: StepStanding, item: string, count: number): Act => {
  const put = ledger.things().filter((one) => one.item === item);
  const own = put.find((one) => one.at === step.id) ?? put.find(({ there }) => there > 0) ?? put[0];
  return {
    body: { kind: "taken out", item, count, at: own?.at ?? step.id },
    done: own !== undefined && own.there <= 0,
  };
};

const CLOSED = new Set<JointState>(["tied", "loosened"]);
const OPEN = new Set<JointState>(["released", "loose", "loosened"]);

const jointActs = (ledger: Ledger, step: StepStanding, joint: BriefJoint): readonly Act[] => {
  const at = joint.id;
  const standing = ledger.joint(at);
  const isBack = step.action === "refit" || step.action === "tighten";
  if (step.action === "verify") return lookActs(ledger, step);
  if (isBack) return backActs(joint, standing, step);
  // Made again since: what was done at its release is behind it.
  const past =
    standing.opened && !["released", "loose"].includes(standing.state) && step.done && standing.state !== "loosened";
  const act = (body: Body, done: boolean): Act => ({ body, done: past || done });
  return [
    ...(joint.matchMark === undefined ? [] : [act({ kind: "match marked", at }, standing.matchMarked)]),
    act(
      {
        kind: step.action === "loosen" ? "loosened" : "released",
        at,
        ...(joint.way === undefined ? {} : { way: joint.way }),
      },
      step.action === "loosen" ? standing.state !== "tied" : !CLOSED.has(standing.state),
    ),
    ...joint.hardware.map(({ item, count }) =>
      act({ kind: "counted", at, item, count, way: "out" }, (standing.counts.get(item)?.out ?? 0) > 0),
    ),
    ...(joint.plugs > 0 ? [act({ kind: "plugged", at }, standing.wasPlugged)] : []),
  ];
};

const backActs = (joint: BriefJoint, standing: Joint, { done, action }: StepStanding): readonly Act[] => {
  const at = joint.id;
  const { torque } = joint;
  const first = standing.torques.findLast(({ second }) => !second);
  const act = (body: Body, isDone: boolean, more: Pick<Act, "asks" | "second"> = {}): Act => ({
    body,
    ...more,
    done: isDone,
  });
  return [
    ...(joint.plugs > 0 && action === "refit" ? [act({ kind: "unplugged", at }, !standing.plugged)] : []),
    // What has no torque is put together before it is locked.
    ...(torque === undefined
      ? joint.locks
        ? [act({ kind: "in place", at }, !OPEN.has(standing.state))]
        : []
      : [
          act({ kind: "torqued", at, torque: torque.written, tool: WRENCH }, first !== undefined, { asks: "torque" }),
          ...(joint.critical
            ? [
                act(
                  { kind: "torque value", at, torque: "", tool: WRENCH },
                  standing.torques.some(({ second, author }) => second && author !== first?.author),
                  { asks: "torque", second: true },
                ),
              ]
            : []),
        ]),
    ...(joint.locks ? [act({ kind: "locked", at }, standing.locked)] : []),
    ...(action === "refit" ? joint.hardware : []).map(({ item, count }) => {
      const { out, in: back } = standing.counts.get(item) ?? { out: 0, in: 0 };
      return act(
        { kind: "counted", at, item, count: Math.max(1, out - back || count), way: "in" },
        back > 0 && back >= out,
      );
    }),
    act({ kind: "refitted", at }, done),
  ];
};

const lookActs = (ledger: Ledger, step: StepStanding): readonly Act[] =>
  step.verify.map((at): Act => {
    const { state, verified } = ledger.joint(at);
    // What was left tied after all has nothing to be looked at.
    return {
      body: { kind: "verified", at, found: "made" },
      done: state === "proved" || (state === "tied" && verified === undefined),
      second: true,
    };
  });

const taskActs = (ledger: Ledger, step: StepStanding): readonly Act[] => {
  const { id, action, done } = step;
  if (action === "verify") return lookActs(ledger, step);
  const task = ledger.brief.tasks.find((one) => one.id === id);
  const hang = ledger.brief.hangs.find((one) => one.id === id);
  const comesBack = action === "undo" || action === "return";
  if (hang !== undefined)
    return [
      {
        body: comesBack
          ? { kind: "brought back", part: hang.part }
          : { kind: "hung aside", part: hang.part, to: hang.to },
        done,
      },
    ];
  if (action === "work" || action === "perform") return [{ body: { kind: "done", task: id }, asks: "reading", done }];
  const fluids = task?.drains ?? [];
  if (fluids.length === 0) return [{ body: { kind: comesBack ? "undone" : "done", task: id }, done }];
  if (action === "undo") return [{ body: { kind: "undone", task: id }, done }];
  // As much as came out goes in again, unless whoever fills it reads otherwise.
  const { drained } = ledger.task(id);
  const amounts = Object.fromEntries(fluids.map((fluid) => [fluid, comesBack ? (drained[fluid] ?? "") : ""]));
  return [{ body: { kind: comesBack ? "filled" : "drained", task: id, amounts }, asks: "amounts", done }];
};

const energyActs = (ledger: Ledger, step: StepStanding): readonly Act[] => {
  const isOut = step.action === "release" || step.action === "loosen" || step.action === "do";
  return ledger.brief.energies
    .filter(({ by }) => by === step.id && step.action !== "verify" && step.action !== "work")
    .map(({ energy }): Act => {
      const { off, restored } = ledger.energy(energy);
      return isOut
        ? {
            body: { kind: "isolated", energy, key: "" },
            asks: "proof",
            done: off !== undefined || restored !== undefined,
          }
        : { body: { kind: "restored", energy }, done: restored !== undefined };
    });
};
