// Owns the steps of a plan in full: what each says besides its name, from the file, from where it stands in the order, and from its hazards.

import type { Step } from "../release/index.ts";
import type { Connection, Part, Task, Temporary, Vehicle, Way, Work } from "../vehicle/index.ts";
import type { BackStep } from "./back-step.ts";
import { cautionsFor, type Hazard } from "./cautions.ts";
import { tighteningOf } from "./hardware-step.ts";
import { sayConsumed } from "./hardware-text.ts";
import { labelOf } from "./labels.ts";
import type { Item, PlanStep } from "./plan.ts";
import type { Question, Source } from "./question.ts";
import { refitOf } from "./refit.ts";
import { statedLimits } from "./torque-limits.ts";

/** A step before it is numbered, with the position it is done at. */
export interface Draft extends Omit<PlanStep, "number"> {
  readonly position: string | undefined;
}

const items = (list: readonly Temporary[]): readonly Item[] => list.map(({ item, count }) => ({ item, count }));

const heaviest = (parts: readonly Part[]): number => Math.max(0, ...parts.map((part) => part.mass?.high ?? 0));

/** What changes from step to step: what is released, what is up, what carries. */
class Progress {
  private readonly vehicle: Vehicle;
  private readonly released: Set<string>;
  /** Straps: the part and what it hangs on. */
  private readonly hangs: (readonly [string, string])[] = [];
  readonly up = new Set<string>();

  constructor(question: Question) {
    this.vehicle = question.vehicle;
    this.released = new Set(question.problem.released);
  }

  release(id: string): void {
    this.released.add(id);
  }

  refit(id: string): void {
    this.released.delete(id);
  }

  hang(part: string, to: string): void {
    this.hangs.push([part, to]);
  }

  /** The parts of a connection that nothing holds any longer but the place where they are put. */
  off(connection: Connection): readonly Part[] {
    return this.vehicle.parts.filter(
      (part) =>
        connection.joins.includes(part.id) &&
        !part.fixed &&
        !this.up.has(part.id) &&
        !this.hangs.some(([hung]) => hung === part.id) &&
        this.vehicle.connections.every((one) => !one.joins.includes(part.id) || this.released.has(one.id)),
    );
  }

  /** Parts that some chain of carrying connections and straps still joins to a fixed part. */
  carried(): ReadonlySet<string> {
    const reached = new Set(this.vehicle.parts.filter((part) => part.fixed).map((part) => part.id));
    const carrying = this.vehicle.connections.filter((one) => one.carrying && !this.released.has(one.id));
    const made = [...carrying.map((one) => one.joins), ...this.hangs];
    for (let before = -1; before < reached.size; ) {
      before = reached.size;
      for (const joins of made)
        if (joins.some((part) => reached.has(part))) for (const part of joins) reached.add(part);
    }
    return reached;
  }
}

/** What a step is when it says nothing but its name. */
export const plain = (step: Pick<Draft, "action" | "id" | "label" | "minutes" | "people" | "position">): Draft => ({
  ...step,
  tools: [],
  cautions: [],
  putIn: [],
  takeOut: [],
  hardware: [],
  fresh: [],
  setAside: [],
  fetch: [],
  assumed: [],
});

const workOf = (
  work: Work,
): Pick<Draft, "minutes" | "people" | "tools" | "position"> & { readonly skill?: string } => ({
  minutes: work.time,
  people: work.people,
  tools: work.tools,
  position: work.at,
  ...(work.skill === undefined ? {} : { skill: work.skill }),
});

const given = <K extends string, V>(key: K, value: V | undefined): { readonly [key in K]?: V } =>
  (value === undefined ? {} : { [key]: value }) as { readonly [key in K]?: V };

const scrapOf = ({ hardware }: Connection, { loosen }: Way): number | undefined =>
  (!loosen && hardware.reduce((sum, { count, reuse }) => sum + (reuse ? 0 : count), 0)) || undefined;

const releaseStep = (connection: Connection, way: Way, label: string, off: readonly Part[]): Draft => ({
  ...plain({
    action: way.loosen ? "loosen" : "release",
    id: connection.id,
    label,
    minutes: 0,
    people: 0,
    position: way.at,
  }),
  ...workOf(way),
  way: way.id,
  ...given("mark", connection.mark),
  ...given("protect", connection.protect),
  ...given("catch", connection.catch),
  ...given("keep", connection.keep),
  ...given("note", connection.note),
  putIn: items([...connection.plug, ...connection.temporary]),
  hardware: way.loosen ? [] : connection.hardware.map(({ item, count }) => ({ item, count })),
  ...given("scrap", scrapOf(connection, way)),
  setAside: off.map((part) => part.id),
});

const refitStep = (
  vehicle: Vehicle,
  connection: Connection,
  way: Way,
  label: string,
  fetched: readonly Part[],
): Draft => {
  const refit = refitOf(connection, way);
  const tightening = tighteningOf(vehicle, connection, way);
  return {
    ...plain({
      action: way.loosen ? "tighten" : "refit",
      id: connection.id,
      label,
      minutes: refit.time,
      people: refit.people,
      position: refit.at,
    }),
    way: way.id,
    tools: refit.tools,
    ...given("skill", refit.skill),
    ...given("mark", connection.mark),
    ...given("keep", connection.keep),
    ...given("torque", refit.torque?.nominal),
    ...given("torqueLimits", statedLimits(refit.torque, tightening?.seat === undefined ? 0 : refit.running)),
    ...given("pattern", refit.pattern),
    ...given("tightening", tightening),
    ...given("uses", refit.consumes?.map(sayConsumed)),
    ...given("check", refit.check),
    takeOut: items([...connection.plug, ...connection.temporary]),
    hardware: way.loosen ? [] : connection.hardware.map(({ item, count }) => ({ item, count })),
    ...given("scrap", scrapOf(connection, way)),
    fresh: [
      ...refit.fresh,
      ...connection.hardware.flatMap(({ item, count, reuse }) =>
        reuse || refit.fresh.some((one) => one.includes(item)) ? [] : [`${count} × ${item}`],
      ),
    ],
    fetch: fetched.map((part) => part.id),
    assumed: refit.assumed,
  };
};

const taskStep = (action: "do" | "undo" | "perform", task: Task): Draft => {
  const undo = action === "undo" ? task.undo : undefined;
  const label = undo === undefined ? task.label : (undo.label ?? `${task.label}: undo`);
  return {
    ...plain({ action, id: task.id, label, minutes: 0, people: 0, position: task.at }),
    ...workOf(task),
    ...(undo === undefined ? {} : { minutes: undo.time, people: undo.people }),
    ...given("wait", undo === undefined ? task.wait : undefined),
    ...given("note", undo === undefined ? task.note : undefined),
    putIn: undo === undefined ? items(task.temporary) : [],
    takeOut: undo === undefined ? [] : items(task.temporary),
  };
};

const returnStep = (task: Task): Draft => {
  const mirrored = task.lifts.length > 0 || task.supports.length > 0;
  const minutes = task.back?.time ?? (mirrored ? task.time : 0);
  const label = task.back?.label ?? (mirrored ? `${task.label}: the same backwards` : `${task.label}: take out again`);
  return {
    ...plain({
      action: "return",
      id: task.id,
      label,
      minutes,
      people: task.back?.people ?? task.people,
      position: task.back?.at ?? task.at,
    }),
    tools: task.tools,
    ...given("skill", task.skill),
    takeOut: items(task.temporary),
    assumed: task.back === undefined && mirrored ? ["time", "people"] : [],
  };
};

/**
 * A hang is there before the last of what carries its part is released, and until the first of it is made again.
 *
 * @param borne whether something other than the strap carries the part.
 */
const hangStep = (
  { part, hang }: Extract<Source, { kind: "hang" }>,
  to: string,
  back: boolean,
  borne: boolean,
): Draft => {
  const tied = `${part.label}, to hang aside on ${to}`;
  const label = back ? `Untie: ${part.label} from ${to}` : `Tie up: ${tied}${borne ? " once it is free" : ""}`;
  return {
    ...plain({
      action: back ? "return" : "do",
      id: hang.id,
      label,
      minutes: 0,
      people: 0,
      position: hang.at,
    }),
    ...workOf(hang),
    ...(back && hang.undo !== undefined ? { minutes: hang.undo.time, people: hang.undo.people } : {}),
    putIn: back ? [] : items(hang.temporary),
    takeOut: back ? items(hang.temporary) : [],
    assumed: back && hang.undo === undefined ? ["time", "people"] : [],
  };
};

const hazardOf = (question: Question, phase: Hazard["phase"], draft: Draft, more: Partial<Hazard>): Hazard => {
  const position = draft.position === undefined ? undefined : question.positions.get(draft.position);
  const hoist = more.task === undefined ? undefined : question.lifts.get(more.task.id)?.hoist?.id;
  return {
    vehicle: question.vehicle,
    phase,
    ...(position === undefined ? {} : { position }),
    ...(hoist === undefined ? {} : { hoist: labelOf(question, hoist) }),
    ...more,
  };
};

/**
 * The steps out and of the work, in full. Goals without work are nothing that anybody does, and are left out.
 *
 * @param lifts what goes up with each lift, by the checker's replay.
 */
export const draftOut = (
  question: Question,
  order: readonly Step[],
  lifts: readonly { readonly task: string; readonly parts: readonly string[] }[],
): readonly Draft[] => {
  const progress = new Progress(question);
  const connections = new Map(question.vehicle.connections.map((one) => [one.id, one]));
  const firstWork = order.findIndex((step) => "do" in step && question.sources.get(step.do)?.kind === "work");
  return order.flatMap((step, index): readonly Draft[] => {
    const phase = firstWork >= 0 && index >= firstWork ? "work" : "out";
    const caution = (draft: Draft, more: Partial<Hazard>): Draft => ({
      ...draft,
      cautions: cautionsFor(hazardOf(question, phase, draft, more)),
    });
    if ("release" in step) {
      const source = question.sources.get(step.way);
      const connection = connections.get(step.release);
      if (source?.kind !== "way" || connection === undefined) return [];
      const onLoad = connection.joins.some((part) => progress.up.has(part));
      const carriedBefore = connection.carrying ? progress.carried() : new Set<string>();
      progress.release(connection.id);
      const carriedAfter = connection.carrying ? progress.carried() : carriedBefore;
      const off = progress.off(connection);
      const bared = question.vehicle.parts.filter((part) => carriedBefore.has(part.id) && !carriedAfter.has(part.id));
      const lastCarrier = bared.some(
        (part) => !(off.includes(part) && (part.mass?.high ?? 0) <= question.vehicle.limits.hand),
      );
      const draft = releaseStep(connection, source.way, labelOf(question, step.way), off);
      return [caution(draft, { connection, lastCarrier, onLoad, byHand: heaviest(off) })];
    }
    const source = question.sources.get("do" in step ? step.do : step.undo);
    if (source?.kind === "task") {
      const lift = "do" in step ? lifts.find((one) => one.task === step.do) : undefined;
      for (const part of lift?.parts ?? []) progress.up.add(part);
      return [caution(taskStep("do" in step ? "do" : "undo", source.task), { task: source.task })];
    }
    if (source?.kind === "hang") {
      const borne = progress.carried().has(source.part.id);
      progress.hang(source.part.id, source.hang.to);
      return [caution(hangStep(source, labelOf(question, source.hang.to), false, borne), {})];
    }
    if (source?.kind !== "work") return [];
    const { work } = source;
    const label = labelOf(question, `${source.job.id}/work-${source.index + 1}`);
    const draft = plain({ action: "work", id: source.job.id, label, minutes: 0, people: 0, position: work.at });
    return [caution({ ...draft, ...workOf(work), ...given("check", work.check) }, {})];
  });
};

/** The steps of the way back, in full and one for one. */
export const draftBack = (
  question: Question,
  out: readonly Step[],
  lifts: readonly { readonly task: string; readonly parts: readonly string[] }[],
  back: readonly BackStep[],
): readonly Draft[] => {
  const progress = new Progress(question);
  for (const step of out) {
    if ("release" in step) progress.release(step.release);
    const hung = "do" in step ? question.sources.get(step.do) : undefined;
    if (hung?.kind === "hang") progress.hang(hung.part.id, hung.hang.to);
  }
  for (const { parts } of lifts) for (const part of parts) progress.up.add(part);
  const connections = new Map(question.vehicle.connections.map((one) => [one.id, one]));
  return back.map((step): Draft => {
    const caution = (draft: Draft, more: Partial<Hazard>): Draft => ({
      ...draft,
      cautions: cautionsFor(hazardOf(question, "back", draft, more)),
    });
    if ("refit" in step) {
      const source = question.sources.get(step.way);
      const connection = connections.get(step.refit);
      if (source?.kind !== "way" || connection === undefined)
        return plain({
          action: "refit",
          id: step.refit,
          label: step.refit,
          minutes: 0,
          people: 0,
          position: undefined,
        });
      const fetched = progress.off(connection);
      const onLoad = connection.joins.some((part) => progress.up.has(part));
      progress.refit(connection.id);
      return caution(refitStep(question.vehicle, connection, source.way, labelOf(question, step.way), fetched), {
        connection,
        onLoad,
        byHand: heaviest(fetched),
      });
    }
    const id = "return" in step ? step.return : "perform" in step ? step.perform : "do" in step ? step.do : step.undo;
    const source = question.sources.get(id);
    if (source?.kind === "hang") return caution(hangStep(source, labelOf(question, source.hang.to), true, true), {});
    if (source?.kind !== "task")
      return plain({ action: "return", id, label: id, minutes: 0, people: 0, position: undefined });
    const { task } = source;
    if (!("return" in step))
      return caution(taskStep("perform" in step ? "perform" : "do" in step ? "do" : "undo", task), { task });
    for (const part of lifts.find((one) => one.task === id)?.parts ?? []) progress.up.delete(part);
    return caution(returnStep(task), { task });
  });
};
