// Owns the start-up gate: all that was taken apart is made again, tightened, locked, counted and looked at; nothing is left in, and what comes last is last.

import { isWithin, TORQUE_SHARE, torqueLimits } from "../plan/index.ts";
import { newtonMetres, writeLimits } from "../quantity/index.ts";
import type { BriefJoint, BriefTorque } from "./brief.ts";
import { compareEntries } from "./entry.ts";
import { type GateAnswer, type GateAsked, type GateRule, Gathering } from "./gate.ts";
import type { Joint } from "./joint.ts";
import type { Ledger } from "./ledger.ts";
import type { Phrase } from "./phrase.ts";

export const startGate = (ledger: Ledger, asked: GateAsked): GateAnswer => {
  const gathering = new Gathering(ledger);
  const opened = start(gathering);
  return gathering.answer("start-up", asked, [["openedLooked", opened]]);
};

/** What is missing before it may run. Gives how many joints were apart. */
export const start = (gathering: Gathering): number => {
  const { ledger } = gathering;
  const opened = ledger.brief.joints.filter(({ id }) => ledger.joint(id).opened);
  for (const brief of opened) joint(gathering, brief, ledger.joint(brief.id));
  looks(gathering);
  left(gathering);
  fluids(gathering);
  last(gathering, opened);
  const touched = new Set(opened.map(({ id }) => id));
  for (const { found, state } of ledger.findings())
    if (state === "open" && found.about !== undefined && touched.has(found.about))
      gathering.add("S17", found.about, ["finding", found.what, found.text]);
  for (const { rule, about, key } of gathering.troubles)
    gathering.add("S16", about, ["contradicts", rule, key], { who: gathering.with("foreman") });
  return opened.length;
};

/** A joint that was apart: made again with all that it takes. */
const joint = (gathering: Gathering, brief: BriefJoint, standing: Joint): void => {
  const { id, state } = standing;
  const where = brief.position;
  const who = gathering.able(brief.skill);
  const add: Add = (rule, phrase, people = who) => gathering.add(rule, id, phrase, { where, who: people });
  if (state === "snug") add("S2", ["notTightened"]);
  else if (state !== "refitted" && state !== "proved") add("S1", ["standsAs", state]);
  torque(gathering, brief, standing, add);
  if (brief.locks && !standing.locked) add("S7", ["hasLock"]);
  if (standing.plugged) add("S9", ["endsClosed"]);
  counts(brief, standing, add);
};

type Add = (rule: GateRule, phrase: Phrase, who?: readonly string[]) => void;

const torque = (gathering: Gathering, brief: BriefJoint, { torques, hands }: Joint, add: Add): void => {
  const { torque: wanted, critical } = brief;
  if (wanted === undefined) return;
  const first = torques.findLast(({ second }) => !second);
  if (wanted.proposal) {
    add("S5", ["proposal", wanted.written]);
    return;
  }
  if (first === undefined) {
    add("S3", ["torqueWanted", wanted.written]);
    return;
  }
  for (const reading of torques)
    if (!isWithin(reading.newtonMetres, torqueLimits(wanted.aim, wanted.limits)))
      add("S4", torqueOff(gathering.person(reading.author), reading.written, wanted));
  if (critical && !torques.some(({ second, author }) => second && author !== first.author))
    add("S6", ["readAlone", gathering.person(first.author)], gathering.able(undefined, hands));
};

const torqueOff = (person: string, read: string, { written, limits }: BriefTorque): Phrase => {
  if (limits === undefined) return ["torqueOff", person, read, written, 100 * TORQUE_SHARE];
  return [
    "torqueOutside",
    person,
    read,
    written,
    writeLimits(newtonMetres(limits.low), newtonMetres(limits.high), "torque"),
  ];
};

const counts = ({ hardware }: BriefJoint, { counts: counted }: Joint, add: Add): void => {
  for (const { item, count } of hardware) {
    const { out, in: back } = counted.get(item) ?? { out: 0, in: 0 };
    if (out === 0) add("S8", ["notCounted", item, count]);
    else if (out !== back) add("S8", ["countedOff", item, out, back]);
  }
  for (const [item, { out, in: back }] of counted)
    if (out !== back && !hardware.some((one) => one.item === item)) add("S8", ["countedOff", item, out, back]);
};

/** What cannot be seen later was seen before it was covered, by somebody who had not done it. */
const looks = (gathering: Gathering): void => {
  const { ledger } = gathering;
  const { works } = ledger.brief;
  for (const { closes, label, verify } of ledger.brief.looks) {
    const lid = ledger.joint(closes);
    const closed = ledger.task(closes);
    const covering = lid.opened
      ? lid.closed
      : closed.undone > 0 && closed.state === "open"
        ? closed.last?.entry
        : undefined;
    const cover = covering === undefined ? undefined : ledger.entry(covering);
    for (const id of verify) {
      const work = works.some((one) => one.id === id);
      const standing = ledger.joint(id);
      if (!work && !standing.opened) continue;
      if (work && ledger.task(id).state !== "done") continue;
      const by = standing.verified;
      const seen = by === undefined || standing.state !== "proved" ? undefined : ledger.entry(by.entry);
      const hands = work ? new Set([ledger.task(id).last?.author ?? ""]) : standing.hands;
      const where = ledger.brief.joints.find((one) => one.id === id)?.position;
      const who = gathering.able(undefined, hands);
      if (seen !== undefined && hands.has(seen.author)) gathering.add("S11", id, ["lookedByDoer"], { where, who });
      else if (seen === undefined && cover === undefined)
        gathering.add("S11", id, ["lookBefore", label], { where, who });
      else if (seen === undefined || (cover !== undefined && compareEntries(cover, seen) < 0))
        gathering.add("S11", id, ["coveredBefore", label], { where, who });
    }
  }
};

/** Nothing is left in the vehicle or away from it. */
const left = (gathering: Gathering): void => {
  const { ledger } = gathering;
  for (const { item, at, there, by } of ledger.things())
    if (there > 0)
      gathering.add("S9", item, at === undefined ? ["stillIn", there] : ["stillInFor", there, gathering.label(at)], {
        who: by.map((one) => gathering.person(one)),
      });
  for (const { item, there, by } of ledger.tools())
    if (there > 0) gathering.add("S14", item, ["notBack", there], { who: by.map((one) => gathering.person(one)) });
  for (const { id } of ledger.brief.parts) {
    const { away } = ledger.part(id);
    if (away !== undefined)
      gathering.add(
        "S15",
        id,
        away.how === "set aside" ? ["liesAt", away.place] : ["hangsOn", gathering.label(away.to)],
      );
  }
};

/** What was drained is filled, and every state of the vehicle is off that was on for the job. */
const fluids = (gathering: Gathering): void => {
  const { ledger } = gathering;
  const { first } = ledger.brief;
  for (const { id, drains, toggles, returned, lifts, position, skill } of ledger.brief.tasks) {
    const { state, drained } = ledger.task(id);
    if (state !== "done" || first.includes(id)) continue;
    const more = { where: position, who: gathering.able(skill) };
    if (drains.length > 0)
      gathering.add(
        "S10",
        id,
        Object.keys(drained).length === 0
          ? ["drains", drains]
          : ["cameOut", Object.keys(drained), Object.values(drained)],
        more,
      );
    else if (lifts.length > 0) gathering.add("S15", id, ["liftedNotBack"], more);
    else if (toggles || returned) gathering.add("S18", id, ["notUndone"], more);
  }
};

/** What came first comes last, in reverse, but for what the plan closes after it; then the energies are on again. */
const last = (gathering: Gathering, opened: readonly BriefJoint[]): void => {
  const { ledger } = gathering;
  const { first, energies, steps, tasks } = ledger.brief;
  const back = (id: string) => {
    const { closed, opened: was } = ledger.joint(id);
    const task = ledger.task(id);
    const entry = was ? closed : task.state === "open" && task.undone > 0 ? task.last?.entry : undefined;
    return entry === undefined ? undefined : ledger.entry(entry);
  };
  const planned = new Map(steps.map(({ id }, place) => [id, place]));
  const others = opened.filter(({ id }) => !first.includes(id)).map(({ id }) => id);
  for (const [place, id] of first.entries()) {
    const own = back(id);
    if (own === undefined) {
      const task = tasks.find((one) => one.id === id);
      if (task !== undefined && (task.toggles || task.returned) && ledger.task(id).state === "done")
        gathering.add("S18", id, ["notUndoneLast"]);
      continue;
    }
    for (const other of [...first.slice(place + 1), ...others]) {
      const one = back(other);
      const later = (planned.get(other) ?? -1) > (planned.get(id) ?? steps.length);
      if (later || one === undefined || compareEntries(one, own) < 0) continue;
      gathering.add("S12", id, ["cameAfter", gathering.label(other)]);
      break;
    }
  }
  for (const { energy, by } of energies) {
    const { off, restored } = ledger.energy(energy);
    if (off !== undefined) gathering.add("S13", energy, ["stillOff"], { who: [gathering.person(off.key)] });
    const own = restored === undefined ? undefined : ledger.entry(restored);
    // Energies come on again in the order in which the plan gives back what shut them off.
    for (const other of energies) {
      const one = ledger.energy(other.energy).restored;
      const before = (planned.get(other.by) ?? -1) < (planned.get(by) ?? -1);
      const its = one === undefined ? undefined : ledger.entry(one);
      if (before && own !== undefined && its !== undefined && compareEntries(own, its) < 0)
        gathering.add("S12", energy, ["onBefore", other.energy]);
    }
  }
};
