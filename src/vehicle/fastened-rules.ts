// Owns what cannot be or is dubious in how a joint is fastened: two aims, stages that do not rise, a hole that is not there, a torque for unknown threads.

import { type NewtonMetres, newtonMetres, writeQuantity } from "../quantity/index.ts";
import type { Desk } from "./desk.ts";
import { placeNames } from "./fastened.ts";
import type { Connection, Refit, ThreadState, Vehicle } from "./model.ts";
import { permissibleDeviation } from "./wrench-deviation.ts";

/** Of figures that were written as a share and read as limits. */
const ROUNDING = 1e-9;

/** States in which the same torque clamps a good deal harder than on dry threads. */
const WET: readonly ThreadState[] = ["oiled", "moly", "waxed", "anti-seize", "thread-lock", "phosphate and oil"];

/** The refits of a connection that say anything: its own and those of its ways. */
const refits = ({ id, refit, ways }: Connection): readonly (readonly [string, Refit])[] => [
  [id, refit],
  ...ways.flatMap((way) => (way.refit === undefined ? [] : [[way.id, way.refit] as const])),
];

/** The faults of one connection's fastening. */
export function checkFastening(connection: Connection, desk: Desk): void {
  for (const [who, refit] of refits(connection)) checkRefit(who, refit, connection.refit, desk);
  checkHardware(connection, desk);
}

const finely = (torque: NewtonMetres): string => writeQuantity(torque, "torque", "N·m", 2);
const told = (torque: NewtonMetres): string => writeQuantity(torque, "torque", "N·m", 1);

function checkRefit(who: string, refit: Refit, shared: Refit, desk: Desk): void {
  const { torque, preload, turn, stages = [], pressure, bore } = refit;
  const misread = (...keys: readonly string[]) => keys.some((key) => desk.isMisread(refit, key));
  if (torque !== undefined && preload !== undefined)
    desk.fault(
      "two-aims",
      desk.nodeOf(refit, "preload"),
      `${who} is given a torque and a preload, and one follows from the other.`,
      "Keep the one that its source gives.",
      { owner: who },
      [desk.nodeOf(refit, "torque")],
    );
  const full = (torque ?? shared.torque)?.nominal;
  if (turn !== undefined && full === undefined && !misread("torque"))
    desk.fault(
      "turn-alone",
      desk.nodeOf(refit, "turn"),
      `${who} is turned on by an angle, and no torque says from where.`,
      "Write the torque that comes before it: torque: 20 N·m.",
      { owner: who },
    );
  const rising = stages.every((stage, i) => i === 0 || stage > (stages[i - 1] as number));
  const last = stages.at(-1);
  if (
    last !== undefined &&
    !misread("stages", "torque") &&
    !(rising && full !== undefined && Math.abs(last / full - 1) < 1e-9)
  )
    desk.fault(
      "bad-stages",
      desk.nodeOf(refit, "stages"),
      rising
        ? `the stages of ${who} end at ${told(last)}, and its torque is ${full === undefined ? "not said" : told(full)}.`
        : `the stages of ${who} do not rise from one to the next.`,
      "Write them rising, the last one the full torque: torque: 48 N·m, stages: [15 N·m, 30 N·m, 48 N·m].",
      { owner: who },
    );
  if ((pressure === undefined) !== (bore === undefined) && !misread("pressure", "bore"))
    desk.fault(
      "half-pressure",
      desk.nodeOf(refit, pressure === undefined ? "bore" : "pressure"),
      `${who} has a ${pressure === undefined ? "bore" : "pressure"} and no ${pressure === undefined ? "pressure" : "bore"}.`,
      "Write both: pressure: 250 bar, bore: 22 mm.",
      { owner: who },
    );
}

function checkHardware(connection: Connection, desk: Desk): void {
  const { id, hardware, layout } = connection;
  const known = layout === undefined ? undefined : new Set(placeNames(layout));
  const taken = new Map<string, object>();
  for (const one of hardware) {
    if (one.once === true && one.reuse)
      desk.fault(
        "once-again",
        desk.nodeOf(one, "reuse"),
        `${one.item} of ${id} may be tightened once only, and is to be used again.`,
        "Leave out reuse: true, or once.",
        { owner: id, item: one.item },
      );
    if (desk.isMisread(connection, "layout") || desk.isMisread(one, "holes") || one.holes === undefined) continue;
    const at = desk.nodeOf(one, "holes");
    const bad = (what: string, mend: string, other?: object) =>
      desk.fault(
        "bad-hole",
        at,
        what,
        mend,
        { owner: id, item: one.item },
        other === undefined ? [] : [desk.nodeOf(other)],
      );
    for (const hole of one.holes) {
      const earlier = taken.get(hole);
      if (known === undefined) {
        bad(`${id} has no layout, so nothing says where hole ${hole} is.`, "Write layout: circle of 8, or another.");
        break;
      }
      if (!known.has(hole))
        bad(
          `${id} has no hole ${hole} for ${one.item}.`,
          `Its layout has ${known.size}: ${[...known].slice(0, 3).join(", ")} to ${[...known].at(-1)}.`,
        );
      else if (earlier !== undefined)
        bad(`hole ${hole} of ${id} is given to two items.`, "Name each hole once: one bolt goes in.", earlier);
      taken.set(hole, one);
    }
    if (known !== undefined && one.holes.length !== one.count && !desk.isMisread(one, "count"))
      bad(
        `${id} has ${one.count} × ${one.item} for ${one.holes.length} holes.`,
        "Count again: as many holes as pieces, or holes left out.",
      );
  }
}

/** A tolerance that a wrench in order need not keep; no class of a wrench is in its name, so the deviation of its kind counts. */
function doubtTolerance(who: string, refit: Refit, desk: Desk): void {
  const { torque } = refit;
  if (torque === undefined || torque.low === torque.high) return;
  const { nominal, low, high } = torque;
  const off = newtonMetres(permissibleDeviation(nominal) * nominal);
  const least = newtonMetres(Math.min(nominal - low, high - nominal));
  if (least >= off * (1 - ROUNDING)) return;
  desk.warn(
    "fine-torque",
    desk.nodeOf(refit, "torque"),
    `${who} allows ${finely(least)} either way, and a wrench in order may be off by ${finely(off)} there (ISO 6789:2003).`,
    "See whether its source wants it so; then it takes a wrench whose certificate is better, and whoever lays out the kit must know.",
    { owner: who, torque: told(nominal) },
  );
}

/** Torques that hang in the air: for threads in a state that changes them, and layouts that nothing fills. */
export function doubtFastening(vehicle: Vehicle, desk: Desk): void {
  for (const connection of vehicle.connections) {
    const { id, hardware, layout } = connection;
    for (const [who, refit] of refits(connection)) {
      doubtTolerance(who, refit, desk);
      if (
        refit.threads !== undefined &&
        WET.includes(refit.threads) &&
        refit.torque !== undefined &&
        refit.meant === undefined
      )
        desk.warn(
          "torque-for-which",
          desk.nodeOf(refit, "threads"),
          `${who} goes in with ${refit.threads} threads, and nothing says what threads its torque is meant for.`,
          `Write what its source says: meant: ${refit.threads}, or meant: dry; the difference is then reckoned.`,
          { owner: who, threads: refit.threads },
        );
    }
    if (layout === undefined) continue;
    const places = placeNames(layout).length;
    const pinned = hardware.reduce((sum, { holes = [] }) => sum + holes.length, 0);
    if (pinned === places || hardware.some(({ count, holes }) => holes === undefined && count === places)) continue;
    desk.warn(
      "layout-count",
      desk.nodeOf(connection, "layout"),
      `the layout of ${id} has ${places} places, and no item of its hardware fills them.`,
      "Count again; or say with holes which item belongs in which place.",
      { owner: id, places },
    );
  }
}
