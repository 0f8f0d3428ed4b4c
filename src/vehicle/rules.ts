// Owns the rules of the vehicle file that a schema cannot say and that break the model: each a fault.

import type { Desk, Thing } from "./desk.ts";
import { checkFastening } from "./fastened-rules.ts";
import type { Connection, Hoist, Need, Part, Position, Refit, Task, Vehicle, Work } from "./model.ts";
import { checkSling } from "./rigged-rules.ts";

const byId = <T extends { readonly id: string }>(all: readonly T[]): ReadonlyMap<string, T> =>
  new Map(all.map((one) => [one.id, one]));

/** Every id that a need names as a step or part, with the need that names it. */
export function* namedIn(needs: readonly Need[]): Generator<{ readonly id: string; readonly need: Need }> {
  for (const need of needs) {
    if ("id" in need) yield { id: need.id, need };
    else if ("all" in need) yield* namedIn(need.all);
    else if ("any" in need) yield* namedIn(need.any);
  }
}

/** Whatever takes people to a position, with who it is and the object of the model that the file says it of. */
interface Step {
  readonly who: string;
  readonly made: Work;
}

export function checkRules(vehicle: Vehicle, desk: Desk): void {
  const positions = byId<Position>(vehicle.positions);
  const parts = byId<Part>(vehicle.parts);
  const tasks = byId<Task>(vehicle.tasks);
  const hoists = byId<Hoist>(vehicle.hoists);

  const things = (thing: Thing): number => [...desk.ids.values()].filter((known) => known.thing === thing).length;
  const hoistCount = things("hoist");

  // Not said when it may have been: a part or its fixed that was written wrong has its own fault, parts left out too.
  const unsaid = vehicle.parts.length === 0 && desk.nodeOf(vehicle, "parts") === desk.nodeOf(vehicle);
  const unread = things("part") > vehicle.parts.length;
  if (!unsaid && !unread && !vehicle.parts.some((part) => part.fixed || desk.isMisread(part, "fixed")))
    desk.fault(
      "no-fixed-part",
      desk.nodeOf(vehicle, "parts"),
      "no part is fixed, so nothing says what the assembly is freed from.",
      "Write fixed: true at the vehicle itself.",
    );

  const checkRoom = (who: string, at: string | undefined, people: number, made: object): void => {
    const position = at === undefined ? undefined : positions.get(at);
    if (position === undefined || people <= position.people) return;
    if (desk.isMisread(position, "people") || desk.isMisread(made, "people")) return;
    desk.fault(
      "no-room",
      desk.nodeOf(made, "people"),
      `${who} takes ${people} people at ${position.id}, where there is room for ${position.people}.`,
      `Lower people here, raise it at ${position.id}, or do it somewhere else.`,
      { owner: who, position: position.id, people, room: position.people },
      [desk.nodeOf(position, "people")],
    );
  };

  const refuseBack = (who: string, needs: readonly Need[]): void => {
    for (const { id, need } of namedIn(needs))
      if (tasks.get(id)?.phase === "back")
        desk.fault(
          "back-task-needed",
          desk.nodeOf(need),
          `${who} needs ${id}, and that is a task of the way back.`,
          `Call for it from a refit (then: [${id}]), or leave out its phase.`,
          { owner: who, id },
        );
  };

  const refuseLasting = (who: string, made: { readonly without: readonly string[] }): void => {
    for (const id of made.without) {
      const task = tasks.get(id);
      if (task !== undefined && task.undo === undefined)
        desk.fault(
          "without-no-undo",
          desk.nodeOf(made, "without"),
          `${who} is without ${id}, and that cannot be undone once it is done.`,
          `Give ${id} an undo, or leave it out here.`,
          { owner: who, id },
          [desk.nodeOf(task)],
        );
    }
  };

  const checkStep = ({ who, made }: Step, out: boolean): void => {
    checkRoom(who, made.at, made.people, made);
    refuseLasting(who, made);
    if (out) refuseBack(who, made.needs);
  };

  const checkRefit = (who: string, refit: Refit): void => {
    for (const id of refit.then) {
      const task = tasks.get(id);
      if (task !== undefined && task.phase !== "back")
        desk.fault(
          "then-not-back",
          desk.nodeOf(refit, "then"),
          `${who} calls for ${id} when it is refitted, and that is a task of the way out.`,
          `Write phase: back at ${id}, or name another task.`,
          { owner: who, id },
          [desk.nodeOf(task)],
        );
    }
  };

  for (const position of vehicle.positions) {
    refuseBack(position.id, position.needs);
    refuseLasting(position.id, position);
  }

  for (const part of vehicle.parts)
    for (const hang of part.hang) {
      checkStep({ who: hang.id, made: hang }, true);
      if (hang.to === part.id)
        desk.fault(
          "hung-to-itself",
          desk.nodeOf(hang, "to"),
          `${part.id} is hung to itself.`,
          "Name the part that is to carry it.",
          { owner: part.id },
        );
    }

  for (const connection of vehicle.connections) {
    checkTies(connection, desk);
    checkFastening(connection, desk);
    const { id } = connection;
    for (const way of connection.ways) {
      checkStep({ who: way.id, made: way }, true);
      if (way.refit !== undefined) checkRefit(way.id, way.refit);
      const refit = way.refit ?? connection.refit;
      if (refit.people !== undefined || refit.at !== undefined)
        checkRoom(`the refit of ${id}`, refit.at ?? way.at, refit.people ?? way.people, refit);
    }
    checkRefit(id, connection.refit);
  }

  for (const task of vehicle.tasks) {
    const { id } = task;
    checkStep({ who: id, made: task }, task.phase === "out");
    if (task.undo !== undefined) checkRoom(`the undo of ${id}`, task.at, task.undo.people, task.undo);
    if (task.back !== undefined) checkRoom(`the return of ${id}`, task.back.at ?? task.at, task.back.people, task.back);
    if (task.undo !== undefined && task.back !== undefined)
      desk.fault(
        "undo-and-back",
        desk.nodeOf(task, "back"),
        `${id} has an undo and a return of its own as well.`,
        "Keep undo for a state of the vehicle, back for what is done once on the way back.",
        { owner: id },
      );
    if (task.phase === "back") {
      for (const key of ["undo", "back", "supports", "lifts"] as const) {
        const value = task[key];
        if (value !== undefined && (!Array.isArray(value) || value.length > 0))
          desk.fault(
            "back-task-does",
            desk.nodeOf(task, key),
            `${id} belongs to the way back and has ${key}.`,
            `Leave out ${key}, or phase: back.`,
            { owner: id, key },
          );
      }
    } else if (task.after.length > 0)
      desk.fault(
        "after-on-way-out",
        desk.nodeOf(task, "after"),
        `${id} belongs to the way out and has after, which speaks of the way back.`,
        "Write needs, or phase: back, or put it under back.",
        { owner: id },
      );
    for (const lifted of task.lifts)
      if (parts.get(lifted)?.fixed)
        desk.fault(
          "lifts-fixed",
          desk.nodeOf(task, "lifts"),
          `${id} lifts ${lifted}, and that is fixed.`,
          "Name the part that the hoist takes hold of.",
          { owner: id, id: lifted },
        );
    if (task.lifts.length > 0) {
      if (hoistCount === 0)
        desk.fault(
          "no-hoist",
          desk.nodeOf(task, "lifts"),
          `${id} lifts ${task.lifts.join(", ")}, and the file has no hoist.`,
          "Describe one under lifting: hoists: shop-crane: { reach: [[1 m, 1000 kg]] }.",
          { owner: id },
        );
      const hoist =
        task.hoist === undefined
          ? vehicle.hoists.length === 1
            ? vehicle.hoists[0]
            : undefined
          : hoists.get(task.hoist);
      const end = hoist?.reach.at(-1)?.[0];
      if (
        hoist !== undefined &&
        !desk.isMisread(hoist, "reach") &&
        task.reach !== undefined &&
        end !== undefined &&
        task.reach > end
      )
        desk.fault(
          "beyond-reach",
          desk.nodeOf(task, "reach"),
          `${id} lifts at ${task.reach} m, and ${hoist.id} reaches to ${end} m.`,
          "Lower the reach, or give the hoist's limit there.",
          { owner: id, hoist: hoist.id, reach: task.reach, end },
          [desk.nodeOf(hoist, "reach")],
        );
    }
  }

  for (const job of vehicle.jobs) {
    refuseBack(job.id, job.needs);
    for (const work of job.work) checkStep({ who: job.id, made: work }, true);
  }

  for (const id of vehicle.first)
    if (tasks.get(id)?.phase === "back")
      desk.fault(
        "back-task-needed",
        desk.nodeOf(vehicle, "first"),
        `the file does ${id} first, and that is a task of the way back.`,
        "Name a connection or a task of the way out.",
        { owner: "the file", id },
      );

  checkSling(vehicle, desk);

  for (const hoist of vehicle.hoists) {
    if (desk.isMisread(hoist, "reach")) continue;
    const at = desk.nodeOf(hoist, "reach");
    if (hoist.reach.length === 0)
      desk.fault(
        "hoist-empty",
        at,
        `${hoist.id} has no reach.`,
        "Write pairs: reach: [[1.0 m, 1000 kg], [1.4 m, 500 kg]].",
        {
          owner: hoist.id,
        },
      );
    if (hoist.reach.some(([reach], i) => i > 0 && reach <= hoist.reach[i - 1]![0]))
      desk.fault(
        "hoist-not-rising",
        at,
        `the reach of ${hoist.id} does not rise from pair to pair.`,
        "Put the nearest reach first.",
        {
          owner: hoist.id,
        },
      );
  }
}

/** What a connection joins and how it bears. A key that was written wrong has its own fault. */
function checkTies(connection: Connection, desk: Desk): void {
  const { id, joins } = connection;
  const misread = (key: string): boolean => desk.isMisread(connection, key);
  const different = new Set(joins).size;
  if (different < 2 && !misread("joins"))
    desk.fault(
      "joins-too-few",
      desk.nodeOf(connection, "joins"),
      `${id} joins ${joins.length === 0 ? "nothing" : `only ${joins[0]}`}.`,
      "Name the two or more parts that it ties together.",
      { owner: id, joins },
    );
  else if (different < joins.length && !misread("joins"))
    desk.fault(
      "joins-twice",
      desk.nodeOf(connection, "joins"),
      `${id} joins the same part twice.`,
      "Name each part once.",
      { owner: id, joins },
    );
  if (connection.rests && !connection.carrying && !misread("kind") && !misread("carrying"))
    desk.fault(
      "rests-not-carrying",
      desk.nodeOf(connection, "rests"),
      `${id} rests and does not carry.`,
      "Write carrying: true, or leave out rests.",
      { owner: id },
    );
  if (connection.rests && connection.at === undefined && !misread("at"))
    desk.fault(
      "rests-nowhere",
      desk.nodeOf(connection, "rests"),
      `${id} rests, and nothing says where.`,
      "Write at: [x, y, z], where it bears.",
      { owner: id },
    );
}
