// Owns a connection put as the question of a joint: thread and class from its hardware, aim and friction from its refit, wrenches from the shop.

import {
  type Aim,
  type Friction,
  findThread,
  findWrench,
  type Joint,
  PLAIN,
  readFriction,
  readStrength,
  STAINLESS_DRY,
  type Strength,
  type Thread,
  type Wrench,
} from "../fastening/index.ts";
import { newtons } from "../quantity/index.ts";
import type { Connection, Hardware, Rubbing, Vehicle, Way } from "../vehicle/index.ts";
import { type Fastened, refitOf } from "./refit.ts";

/** The joint of a connection with what was assumed of it, or why there is none to reckon. */
export type JointReading =
  | {
      readonly joint: Joint;
      readonly item: string;
      /** Fasteners of the joint, those of other lengths among them. */
      readonly count: number;
      readonly refit: Fastened;
      readonly assumed: readonly string[];
    }
  | { readonly what: string; readonly mend: string };

/**
 * The joint that a connection's torque is for: the first of its hardware that has a thread, and what lies beside it in other holes. Without
 * torque or preload in the file the joint asks for a proposal. Where the file does not say how its threads are, they are taken as common
 * practice has it: clean and dry.
 */
export function jointOf(vehicle: Vehicle, connection: Connection, way?: Way): JointReading {
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
  const chosen = way ?? connection.ways[0];
  // What is never released may still be asked about.
  const refit = chosen === undefined ? connection.refit : refitOf(connection, chosen);
  if (refit.torque === undefined && refit.preload === undefined && reading === undefined)
    return {
      what: `${connection.id} has neither a torque nor a class`,
      mend: "Write the torque of the maker's book under refit, or the class under hardware for a proposal.",
    };
  const count = fasteners(first, connection.hardware);
  // The wrench that the refit names is the one that will be in the hand; else any of the shop.
  const named = wrenchesAmong(refit.tools);
  const wrenches = named.length > 0 ? named : wrenchesAmong(vehicle.shop.tools);
  const threads = frictionOf(refit, reading?.strength, first.thread);
  const clamp = clampOf(refit);
  const ungripped = refit.turn !== undefined && refit.grip === undefined;
  return {
    joint: {
      thread: first.thread,
      ...(reading === undefined ? {} : { strength: reading.strength }),
      friction: threads.friction,
      ...(threads.meant === undefined ? {} : { statedFor: threads.meant }),
      aim: aimOf(refit),
      ...(refit.running === undefined ? {} : { prevailing: refit.running }),
      ...(clamp === undefined ? {} : { clamp: newtons(clamp / count) }),
      ...(wrenches.length === 0 ? {} : { wrenches }),
      ...(first.once === true ? { oneTime: true } : {}),
      ...(threaded.some(({ item }) => /lock ?nut|self-locking/i.test(item)) ? { locknut: "new" as const } : {}),
    },
    item:
      first.holes === undefined
        ? first.item
        : threaded.flatMap(({ item, holes }) => (holes === undefined ? [] : [item])).join(" and "),
    count,
    refit,
    assumed: [
      ...threads.assumed,
      ...(reading?.assumed === undefined ? [] : [reading.assumed]),
      ...(ungripped ? ["the turn is not reckoned: without a grip nobody knows what a degree brings"] : []),
    ],
  };
}

/** Bolts that are told apart by their holes are of one joint. */
const fasteners = (first: Hardware, all: readonly Hardware[]): number =>
  first.holes === undefined
    ? first.count
    : all.reduce((sum, { count, holes }) => sum + (holes === undefined ? 0 : count), 0);

function aimOf({ torque, preload, turn, grip }: Fastened): Aim {
  if (preload !== undefined) return { preload: newtons(preload) };
  if (torque === undefined) return { propose: "to come apart" };
  if (turn === undefined || grip === undefined) return { torque: torque.nominal };
  return { turn: { torque: torque.nominal, degrees: (turn * 180) / Math.PI, grip } };
}

/** What all fasteners must clamp: the force that is asked for, and what a pressure pushes against it. */
function clampOf({ clamp, pressure, bore }: Fastened): number | undefined {
  const push = pressure === undefined || bore === undefined ? undefined : (pressure * Math.PI * bore ** 2) / 4;
  return clamp === undefined ? push : clamp + (push ?? 0);
}

const measured = ({ kind, low, nominal, high }: Rubbing): Friction => {
  const span = { low, nominal, high };
  return kind === "nut factor" ? { factor: span } : { thread: span, head: span };
};

/** How the threads are, and how the torque wants them where that is another state. */
function frictionOf(
  { threads, meant, friction }: Fastened,
  strength: Strength | undefined,
  thread: Thread,
): { readonly friction: Friction; readonly meant?: Friction; readonly assumed: readonly string[] } {
  const named = (state: string | undefined): Friction | undefined => {
    const reading = state === undefined ? undefined : readFriction(state);
    return reading !== undefined && "friction" in reading ? reading.friction : undefined;
  };
  const wanted = named(meant);
  const stated = friction === undefined ? named(threads) : measured(friction);
  if (stated !== undefined)
    return { friction: stated, ...(wanted === undefined ? {} : { meant: wanted }), assumed: [] };
  if (wanted !== undefined)
    return { friction: wanted, assumed: [`threads ${meant}, as the torque is meant for, as the file does not say`] };
  return strength?.stainless === true
    ? {
        friction: STAINLESS_DRY,
        assumed: [`stainless ${thread.name} dry, as the file does not say; oil it against galling`],
      }
    : { friction: PLAIN, assumed: ["threads clean and dry, as the file does not say"] };
}

const wrenchesAmong = (tools: readonly string[]): readonly Wrench[] =>
  tools.flatMap((tool) => {
    const wrench = findWrench(tool);
    return wrench === undefined ? [] : [wrench];
  });
