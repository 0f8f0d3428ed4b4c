// Owns the lift gate: nothing ties the load, a second person has seen that, the rigging is approved, nobody is beneath, and the trial lift reads as it should.
// The freedom is proved anew by the search of the release room, over what was recorded; what was planned opens nothing.

import { newtons, readQuantity, writeQuantity } from "../quantity/index.ts";
import { ties } from "../release/index.ts";
import type { BriefLift } from "./brief.ts";
import { compareEntries } from "./entry.ts";
import { type GateAnswer, type GateAsked, Gathering } from "./gate.ts";
import { isolation } from "./gate-isolation.ts";
import type { Ledger } from "./ledger.ts";
import type { Phrase } from "./phrase.ts";

export const liftGate = (ledger: Ledger, lift: BriefLift, asked: GateAsked): GateAnswer => {
  const gathering = new Gathering(ledger);
  isolation(gathering);
  const made = cut(gathering, lift);
  freedom(gathering, lift, made);
  before(gathering, lift);
  beneath(gathering, lift);
  findings(gathering, lift);
  rigging(gathering, lift);
  trial(gathering, lift);
  return gathering.answer(
    "lift",
    asked,
    [
      ["tiesLooked", lift.cut.length],
      ["partsLooked", lift.parts.length],
    ],
    lift.task,
  );
};

/** Each connection of the cut is loose: released, and verified by somebody else. Gives those that are not. */
const cut = (gathering: Gathering, lift: BriefLift): ReadonlySet<string> => {
  const { ledger } = gathering;
  const joints = new Map(ledger.brief.joints.map((one) => [one.id, one]));
  const made = new Set<string>();
  for (const id of lift.cut) {
    const joint = ledger.joint(id);
    if (joint.state === "loose") continue;
    made.add(id);
    const brief = joints.get(id);
    const where = brief?.position;
    if (joint.state === "released")
      gathering.add("L2", id, ["releasedBy", [...joint.hands].map((one) => gathering.person(one))], {
        where,
        who: gathering.able(undefined, joint.hands),
      });
    else gathering.add("L1", id, ["standsAs", joint.state], { where, who: gathering.able(brief?.skill) });
  }
  const touched = new Set(lift.cut);
  for (const { rule, about, key } of gathering.troubles)
    if (touched.has(about) || lift.parts.includes(about)) gathering.add("L9", about, ["contradicts", rule, key]);
  return made;
};

/** A search from the load over everything that is not recorded loose, straps among it. What is tied by a connection that was named already is not said twice. */
const freedom = (gathering: Gathering, lift: BriefLift, made: ReadonlySet<string>): void => {
  const { ledger } = gathering;
  const { brief } = ledger;
  const loose = brief.joints.filter(({ id }) => ledger.joint(id).state === "loose").map(({ id }) => id);
  const straps = brief.parts.flatMap(({ id }) => {
    const { away } = ledger.part(id);
    return away?.how === "hung aside" ? [{ id: `strap of ${id}`, joins: [id, away.to] }] : [];
  });
  const found = ties({ parts: brief.parts, connections: brief.joints }, loose, lift.parts, straps);
  if (found.free || found.chain.some((id) => made.has(id))) return;
  gathering.add("L3", lift.task, ["tiedBy", found.chain.map((id) => gathering.label(id))], {
    where: brief.joints.find(({ id }) => found.chain.includes(id))?.position,
  });
};

/** States of the vehicle as they must be, and tasks that the plan has before the lift. */
const before = (gathering: Gathering, lift: BriefLift): void => {
  const { ledger } = gathering;
  const { steps, tasks } = ledger.brief;
  const on = new Map<string, boolean>();
  for (const { action, id } of steps) {
    if (id === lift.task && action === "do") break;
    if (action === "do") on.set(id, true);
    else if (action === "undo") on.set(id, false);
  }
  for (const [id, wanted] of on) {
    const task = tasks.find((one) => one.id === id);
    // A hang is a part's matter, and what was drained need not be drained at this moment.
    if (task === undefined) continue;
    const isDone = ledger.task(id).state === "done";
    if (wanted === isDone) continue;
    const who = gathering.able(task.skill);
    gathering.add("L10", id, wanted ? ["beforeLift"] : ["undoneBeforeLift"], {
      where: task.position,
      who,
    });
  }
};

const beneath = (gathering: Gathering, lift: BriefLift): void => {
  for (const position of lift.empties) {
    const { people } = gathering.ledger.claim("position", position.id);
    for (const person of people.keys())
      gathering.add("L7", position.id, ["isThere", gathering.person(person)], {
        where: position,
        who: [gathering.person(person)],
      });
  }
};

const findings = (gathering: Gathering, lift: BriefLift): void => {
  const touched = new Set([...lift.cut, ...lift.parts, lift.task]);
  for (const { found, state } of gathering.ledger.findings())
    if (state === "open" && found.about !== undefined && touched.has(found.about))
      gathering.add("L4", found.about, ["finding", found.what, found.text]);
};

/** Approved by somebody who may, for the plan in force; and taken by the store, unless the competent person passes over that with a reason. */
const rigging = (gathering: Gathering, lift: BriefLift): void => {
  const { ledger } = gathering;
  const approvers = gathering.with("lift approver");
  const mayApprove = (author: string) =>
    ledger.brief.people.some(({ id, roles }) => id === author && roles.includes("lift approver"));
  const plan = ledger.planInForce();
  const approvals = ledger
    .list("gates", "approval")
    .filter(({ body }) => body.gate === "lift" && body.lift === lift.task);
  const good = approvals.filter(({ author, body }) => mayApprove(author) && body.plan === plan);
  if (good.length === 0) {
    const last = approvals.at(-1);
    const phrase: Phrase =
      last === undefined
        ? ["notApproved"]
        : mayApprove(last.author)
          ? ["approvedOther", gathering.person(last.author), last.body.plan, plan]
          : ["approvedByNobodyWhoMay", gathering.person(last.author)];
    gathering.add("L5", lift.task, phrase, { where: lift.position, who: approvers });
    return;
  }
  const confirmed = new Set(ledger.list("gates", "confirmed").map(({ body }) => body.approval));
  const isOverridden = ledger
    .list("gates", "override")
    .some(({ author, body }) => body.lift === lift.task && mayApprove(author));
  if (!good.some(({ id }) => confirmed.has(id)) && !isOverridden)
    gathering.add("L6", lift.task, ["approvedUnseen"], {
      who: approvers,
    });
};

const trial = (gathering: Gathering, lift: BriefLift): void => {
  const { ledger } = gathering;
  const last = ledger.list("gates", "trial").findLast(({ body }) => body.lift === lift.task);
  const shown = (value: number) => writeQuantity(newtons(value), "force", "kN", 2);
  const { band } = lift;
  const wanted = band === undefined ? undefined : ([shown(band.low), shown(band.high)] as const);
  if (last === undefined) {
    gathering.add("L8", lift.task, wanted === undefined ? ["noReadingNoBand"] : ["noReading", ...wanted], {
      where: lift.position,
      who: gathering.with("lift approver"),
    });
    return;
  }
  const since = lift.cut.find((id) => {
    const change = ledger.joint(id).last;
    const entry = change === undefined ? undefined : ledger.entry(change.entry);
    return entry !== undefined && compareEntries(entry, last) > 0;
  });
  if (since !== undefined) {
    const label = gathering.label(since);
    const phrase: Phrase = wanted === undefined ? ["readBeforeNoBand", label] : ["readBefore", label, ...wanted];
    gathering.add("L8", lift.task, phrase, {
      where: lift.position,
      who: gathering.with("lift approver"),
    });
    return;
  }
  const reading = readQuantity(last.body.load, "force");
  if (band === undefined || wanted === undefined || "fault" in reading) return;
  const load = reading.value.nominal;
  if (load >= band.low && load <= band.high) return;
  gathering.add("L8", lift.task, [load > band.high ? "readAbove" : "readBelow", last.body.load, ...wanted], {
    where: lift.position,
  });
};
