// Owns a connection put as the question of a joint: thread and class from its hardware, torque from its refit, wrenches from the shop.

import { findThread, findWrench, type Joint, PLAIN, readStrength, type Wrench } from "../fastening/index.ts";
import { newtonMetres } from "../quantity/index.ts";
import type { Connection, Vehicle } from "../vehicle/index.ts";
import { refitOf } from "./refit.ts";

/** The joint of a connection with what was assumed of it, or why there is none to reckon. */
export type JointReading =
  | {
      readonly joint: Joint;
      readonly item: string;
      readonly count: number;
      readonly pattern?: string;
      readonly assumed: readonly string[];
    }
  | { readonly what: string; readonly mend: string };

/**
 * The joint that a connection's torque is for: the first of its hardware that has a thread. Without a torque in the file the joint asks for a
 * proposal. The file does not say how its threads are, so they are taken as common practice has it: clean and dry.
 */
export function jointOf(vehicle: Vehicle, connection: Connection): JointReading {
  const threaded = connection.hardware.flatMap((hardware) => {
    const thread = findThread(hardware.item);
    return thread === undefined ? [] : [{ ...hardware, thread }];
  });
  const [first] = threaded;
  if (first === undefined)
    return {
      what: `${connection.id} has no hardware with a thread`,
      mend: "Write it under hardware, with its class: { item: bolt M10×45, class: 8.8, count: 4 }.",
    };
  const reading =
    first.class === undefined ? undefined : readStrength(first.class, first.thread, `${connection.id}/class`);
  if (reading !== undefined && "fault" in reading) return { what: reading.fault.what, mend: reading.fault.mend };
  const [way] = connection.ways;
  const refit = way === undefined ? undefined : refitOf(connection, way);
  const torque = refit === undefined ? connection.refit.torque : refit.torque;
  if (torque === undefined && reading === undefined)
    return {
      what: `${connection.id} has neither a torque nor a class`,
      mend: "Write the torque of the maker's book under refit, or the class under hardware for a proposal.",
    };
  const pattern = refit?.pattern ?? connection.refit.pattern;
  // The wrench that the refit names is the one that will be in the hand; else any of the shop.
  const named = wrenchesAmong(refit?.tools ?? connection.refit.tools);
  const wrenches = named.length > 0 ? named : wrenchesAmong(vehicle.shop.tools);
  return {
    joint: {
      thread: first.thread,
      ...(reading === undefined ? {} : { strength: reading.strength }),
      friction: PLAIN,
      aim: torque === undefined ? { propose: "to come apart" } : { torque: newtonMetres(torque) },
      ...(wrenches.length === 0 ? {} : { wrenches }),
      ...(first.reuse ? {} : { oneTime: true }),
      ...(threaded.some(({ item }) => /lock ?nut|self-locking/i.test(item)) ? { locknut: "new" as const } : {}),
    },
    item: first.item,
    count: first.count,
    ...(pattern === undefined ? {} : { pattern }),
    assumed: [
      "threads clean and dry, as the file does not say",
      ...(reading?.assumed === undefined ? [] : [reading.assumed]),
    ],
  };
}

const wrenchesAmong = (tools: readonly string[]): readonly Wrench[] =>
  tools.flatMap((tool) => {
    const wrench = findWrench(tool);
    return wrench === undefined ? [] : [wrench];
  });
