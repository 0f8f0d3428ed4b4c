// Owns how a joint stands: the fold of its own entries over the table of its states.

import { newtonMetres, readQuantity } from "../quantity/index.ts";
import type { Entry } from "./entry.ts";
import { isRule, JOINT_TABLE, type JointMove, type JointState, OPEN } from "./joint-table.ts";
import { type Contradiction, contradiction, type RuleId } from "./rules.ts";

/** A torque as somebody read it. */
export interface TorqueReading {
  readonly entry: string;
  readonly author: string;
  /** As it was read, and in newton-metres. */
  readonly written: string;
  readonly newtonMetres: number;
  readonly tool: string;
  /** The second person's. */
  readonly second: boolean;
}

export interface Doing {
  readonly entry: string;
  readonly author: string;
  /** Milliseconds since 1970, by the device's own clock. */
  readonly at: number;
}

export interface Joint {
  readonly id: string;
  readonly state: JointState;
  /** What brought it into this state; absent: as the run found it. */
  readonly last?: Doing;
  /** Who had a hand in the way it stands; none of them verifies it. */
  readonly hands: ReadonlySet<string>;
  readonly way?: string;
  readonly verified?: Doing;
  /** Since it was last taken apart. */
  readonly torques: readonly TorqueReading[];
  readonly locked: boolean;
  readonly marked: boolean;
  readonly matchMarked: boolean;
  /** Its ends are closed; and whether they ever were since it was last taken apart. */
  readonly plugged: boolean;
  readonly wasPlugged: boolean;
  /** SHA-256 of each that was made as it was last released. */
  readonly photos: readonly string[];
  /** Pieces by item. */
  readonly counts: ReadonlyMap<string, { readonly out: number; readonly in: number }>;
  /** Times that a verification found it still made, or still loose, though it was booked otherwise. */
  readonly surprises: readonly (Doing & { readonly found: "loose" | "made"; readonly of: string })[];
  /** Whether it has ever been apart in this run, and the entry that first took it apart. */
  readonly opened: boolean;
  readonly firstOpened?: string;
  /** The entry by which it was last refitted, as long as it is. */
  readonly closed?: string;
  readonly contradictions: readonly Contradiction[];
}

/** Shares by which two readings of one torque may differ: each tool 4 % (ISO 6789-1, hand torque tools above 10 N·m; 6 % at and below; from memory). */
const apart = (a: number, b: number): boolean => {
  const share = Math.max(a, b) > 10 ? 0.04 : 0.06;
  return Math.abs(a - b) > 2 * share * Math.max(a, b);
};

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/**
 * How a joint stands after these entries about it, in their order.
 *
 * @param start as the run found it. A work that is looked at is like a joint that was refitted.
 */
export const foldJoint = (id: string, start: "tied" | "released" | "refitted", entries: readonly Entry[]): Joint => {
  const counts = new Map<string, { out: number; in: number }>();
  const contradictions: Contradiction[] = [];
  const surprises: Joint["surprises"][number][] = [];
  let hands = new Set<string>();
  let torques: TorqueReading[] = [];
  const joint: Mutable<Joint> = {
    id,
    state: start,
    hands,
    torques,
    locked: false,
    marked: false,
    matchMarked: false,
    plugged: false,
    wasPlugged: false,
    photos: [],
    counts,
    surprises,
    opened: start === "released",
    contradictions,
  };
  const breaks = (rule: RuleId, entry: Entry, other?: string) =>
    contradictions.push(contradiction(rule, id, ...(other === undefined ? [] : [other]), entry.id));

  const move = (kind: JointMove, entry: Entry): boolean => {
    const cell = JOINT_TABLE[joint.state][kind];
    if (isRule(cell)) {
      breaks(cell, entry, joint.last?.entry);
      return false;
    }
    if (OPEN.has(cell) && !OPEN.has(joint.state)) {
      // Taken apart: whatever was done to make it is gone, and who did that has no hand in this.
      hands = new Set();
      torques = [];
      Object.assign(joint, { hands, torques, locked: false, marked: false, wasPlugged: false, opened: true });
      joint.firstOpened ??= entry.id;
      delete joint.verified;
      delete joint.closed;
    } else if (OPEN.has(joint.state) && !OPEN.has(cell)) {
      hands = new Set();
      joint.hands = hands;
      delete joint.verified;
    }
    joint.state = cell;
    joint.last = { entry: entry.id, author: entry.author, at: entry.at };
    return true;
  };

  for (const entry of entries) {
    const { body, author } = entry;
    switch (body.kind) {
      case "verified": {
        const found = body.found === "loose" ? "found loose" : "found made";
        const cell = JOINT_TABLE[joint.state][found];
        const confirms = cell === "loose" || cell === "proved";
        if (confirms && hands.has(author)) {
          breaks("J8", entry, joint.last?.entry);
          break;
        }
        const surprised = !isRule(cell) && !confirms && cell !== joint.state && joint.last !== undefined;
        const doing = { entry: entry.id, author, at: entry.at };
        if (surprised) surprises.push({ ...doing, found: body.found, of: joint.last?.author ?? author });
        if (move(found, entry) && confirms) joint.verified = doing;
        break;
      }
      case "loosened":
      case "released":
        if (move(body.kind, entry)) {
          hands.add(author);
          if (body.way !== undefined) joint.way = body.way;
          if (body.kind === "released") joint.photos = body.photos ?? [];
        }
        break;
      case "in place":
      case "snug":
      case "refitted":
        if (!move(body.kind, entry)) break;
        hands.add(author);
        if (body.kind === "refitted") joint.closed = entry.id;
        break;
      case "locked":
        if (move("locked", entry)) {
          hands.add(author);
          joint.locked = true;
        }
        break;
      case "marked":
        if (move("marked", entry)) {
          hands.add(author);
          joint.marked = true;
        }
        break;
      case "torqued":
        if (move("torqued", entry)) {
          hands.add(author);
          torques.push(readTorque(entry, body.torque, body.tool, false));
        }
        break;
      case "torque value":
        torques.push(readTorque(entry, body.torque, body.tool, true));
        break;
      case "match marked":
        joint.matchMarked = true;
        break;
      case "plugged":
        joint.plugged = true;
        joint.wasPlugged = true;
        break;
      case "unplugged":
        joint.plugged = false;
        break;
      case "counted": {
        const count = counts.get(body.item) ?? { out: 0, in: 0 };
        count[body.way] += body.count;
        counts.set(body.item, count);
        break;
      }
    }
  }
  const first = torques.find(({ second }) => !second);
  if (first !== undefined)
    for (const other of torques)
      if (other.second && apart(first.newtonMetres, other.newtonMetres))
        contradictions.push(contradiction("J9", id, first.entry, other.entry));
  return joint;
};

const readTorque = (entry: Entry, written: string, tool: string, second: boolean): TorqueReading => {
  const reading = readQuantity(written, "torque");
  const value = "value" in reading ? reading.value.nominal : newtonMetres(Number.NaN);
  return { entry: entry.id, author: entry.author, written, newtonMetres: value, tool, second };
};
