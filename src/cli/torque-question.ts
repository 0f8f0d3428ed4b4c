// Owns the joint of a call: thread, class and flags of `torque` put as the question of fastening.

import {
  type Aim,
  type Fault,
  type Friction,
  findWrench,
  type Joint,
  METHODS,
  type Method,
  PLAIN,
  readFriction,
  readStrength,
  readThread,
  STAINLESS_DRY,
  type Wrench,
} from "../fastening/index.ts";
import type { CallFault } from "./call.ts";
import type { Figures } from "./figures.ts";
import { mendWord } from "./words.ts";

/** The joint, what was assumed in reading it, and every fault of the call. */
export interface HandReading {
  readonly joint?: Joint;
  readonly assumed: readonly string[];
  readonly faults: readonly CallFault[];
}

/** What the flags say of any joint, of a file or by hand. */
export function readExtras(figures: Figures): Partial<Joint> {
  const method = methodOf(figures);
  const friction = frictionOf(figures);
  const statedFor = stateOf(figures, "stated-for");
  const prevailing = figures.quantity("running", "torque");
  const clamp = figures.quantity("clamp", "force");
  const length = figures.quantity("wrench-length", "length");
  const offset = figures.quantity("adapter", "length");
  const degrees = figures.degrees("adapter-angle") ?? 0;
  if ((length === undefined) !== (offset === undefined))
    figures.fail(
      length === undefined ? "wrench-length" : "adapter",
      "an adapter is reckoned from its own length and the wrench's",
      "Give --adapter 45mm --wrench-length 350mm, both to the square drive.",
    );
  const ratio = figures.text("multiplier") === undefined ? undefined : figures.range("multiplier")?.nominal;
  const efficiency = figures.share("efficiency");
  const wrenches = wrenchesOf(figures);
  return {
    ...(friction === undefined ? {} : { friction }),
    ...(statedFor === undefined ? {} : { statedFor }),
    ...(method === undefined ? {} : { method }),
    ...(prevailing === undefined ? {} : { prevailing }),
    ...(clamp === undefined ? {} : { clamp }),
    ...(length === undefined || offset === undefined ? {} : { adapter: { length, offset, degrees } }),
    ...(ratio === undefined ? {} : { multiplier: { ratio, ...(efficiency === undefined ? {} : { efficiency }) } }),
    ...(wrenches.length === 0 ? {} : { wrenches }),
    ...(figures.has("one-time") ? { oneTime: true } : {}),
    ...(figures.has("used") ? { used: true } : {}),
  };
}

/** Reads a joint given by hand. */
export function readByHand(thread: string, strength: string | undefined, figures: Figures): HandReading {
  const assumed: string[] = [];
  const reading = readThread(thread, "THREAD");
  if ("fault" in reading) figures.faults.push(placed(reading.fault));
  else if (reading.assumed !== undefined) assumed.push(reading.assumed);
  const bears =
    strength === undefined || "fault" in reading ? undefined : readStrength(strength, reading.thread, "CLASS");
  if (bears !== undefined && "fault" in bears) figures.faults.push(placed(bears.fault));
  else if (bears?.assumed !== undefined) assumed.push(bears.assumed);
  const stainless = bears !== undefined && "strength" in bears && bears.strength.stainless === true;
  if (!(figures.has("friction") || figures.has("nut-factor")))
    assumed.push(
      stainless ? "stainless threads, dry: they gall; oil them if the maker agrees" : "threads plain, clean and dry",
    );
  const aim = aimOf(figures);
  const face = figures.quantity("face", "length");
  const hole = figures.quantity("hole", "length");
  if ((face === undefined) !== (hole === undefined))
    figures.fail(
      face === undefined ? "face" : "hole",
      "the face that rubs lies between two circles",
      "Give --face 14.63mm --hole 11mm.",
    );
  const extras = readExtras(figures);
  if ("fault" in reading || figures.faults.length > 0) return { assumed, faults: figures.faults };
  const joint: Joint = {
    thread: reading.thread,
    friction: stainless ? STAINLESS_DRY : PLAIN,
    aim,
    ...(bears === undefined || "fault" in bears ? {} : { strength: bears.strength }),
    ...(face === undefined || hole === undefined ? {} : { bearing: { face, hole } }),
    ...extras,
  };
  return { joint, assumed, faults: [] };
}

/** A fault of fastening as one of the call: with its place. */
export const placed = ({ at, what, mend }: Fault): CallFault => ({ what: `${at}: ${what}`, mend });

function aimOf(figures: Figures): Aim {
  const torque = figures.quantity("torque", "torque");
  const preload = figures.quantity("preload", "force");
  const share = figures.share("share");
  const yields = figures.share("yield");
  const degrees = figures.degrees("turn");
  const grip = figures.quantity("grip", "length");
  const given = ["torque", "preload", "share", "yield"].filter((flag) => figures.has(flag));
  if (given.length > 1)
    figures.fail(given[1] as string, `--${given[0]} says already what is wanted`, "Give one of them.");
  if (degrees !== undefined) {
    if (torque !== undefined && grip !== undefined) return { turn: { torque, degrees, grip } };
    figures.fail(
      "turn",
      "an angle follows a torque, and brings preload by the length that is clamped",
      "Give --torque 20Nm --turn 90 --grip 40mm.",
    );
  }
  if (torque !== undefined) return { torque };
  if (preload !== undefined) return { preload };
  if (share !== undefined) return { share };
  if (yields !== undefined) return { yield: yields };
  return { propose: figures.has("stays") ? "to stay" : "to come apart" };
}

function frictionOf(figures: Figures): Friction | undefined {
  if (figures.has("nut-factor")) {
    if (figures.has("friction")) figures.fail("nut-factor", "--friction says it already", "Give one of them.");
    const factor = figures.range("nut-factor");
    return factor && { factor };
  }
  const text = figures.text("friction");
  if (text === undefined) return undefined;
  if (!/^\s*[\d.]/.test(text)) return stateOf(figures, "friction");
  const thread = figures.range("friction");
  const head = figures.has("head-friction") ? figures.range("head-friction") : thread;
  return thread && head && { thread, head };
}

function stateOf(figures: Figures, flag: string): Friction | undefined {
  const text = figures.text(flag);
  if (text === undefined) return undefined;
  const reading = readFriction(text);
  if ("friction" in reading) return reading.friction;
  return figures.fail(flag, reading.fault.what, reading.fault.mend);
}

function methodOf(figures: Figures): Method | undefined {
  const text = figures.text("method");
  if (text === undefined) return undefined;
  const plain = (name: string) => name.replaceAll(/[^a-z]+/g, "-");
  const found = METHODS.find((name) => name === text || plain(name) === plain(text));
  return found ?? figures.fail("method", `"${text}" is no method known here`, mendWord(text, METHODS.map(plain)));
}

function wrenchesOf(figures: Figures): Wrench[] {
  return figures.list("wrench").flatMap((text) => {
    const wrench = findWrench(/wrench/i.test(text) ? text : `torque wrench ${text}`);
    if (wrench !== undefined) return [wrench];
    figures.fail("wrench", `"${text}" is no scale of a torque wrench`, "Write its ends: 20-100, or 10-80 lbf·ft.");
    return [];
  });
}
