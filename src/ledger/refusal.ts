// Owns what is refused as it is entered, so that it does not become a contradiction, and what it warns of.

import { indexWords } from "../vehicle/index.ts";
import type { GateAnswer } from "./gate.ts";
import { askGate } from "./gates.ts";
import type { Body } from "./kinds.ts";
import type { Ledger } from "./ledger.ts";
import { Names } from "./names.ts";
import { type Phrase, sayPhrase } from "./phrase.ts";
import { mayEnd, stopIn } from "./stop.ts";
import { doubtTorque } from "./torque-doubt.ts";

/** Why an entry was not taken. */
export interface Refusal {
  readonly what: string;
  readonly mend: string;
  /** The same as data: what, and what would mend it. */
  readonly phrases: readonly [what: Phrase, mend: Phrase];
  /** Of a gate that is shut. */
  readonly gates?: readonly GateAnswer[];
}

export const refuse = (what: Phrase, mend: Phrase): Refusal => ({
  what: sayPhrase(what),
  mend: sayPhrase(mend),
  phrases: [what, mend],
});

/** @param sure a torque that does not fit was looked at again, and was read so. */
export const refusalOf = (ledger: Ledger, author: string, body: Body, sure: boolean): Refusal | undefined => {
  const { brief } = ledger;
  const names = new Names(brief);
  if (!brief.people.some(({ id }) => id === author))
    return refuse(["stranger", author], ["thereAre", brief.people.map(({ id }) => id)]);
  const strange = ledger.strangerIn(body);
  if (strange !== undefined) {
    const near = indexWords(strange.known)(strange.id);
    const mend: Phrase = near === undefined ? ["seeNames"] : ["nearest", near, names.label(near)];
    return refuse(["noSuchThing", strange.as, strange.id], mend);
  }
  switch (body.kind) {
    case "torqued":
    case "torque value": {
      const wanted = brief.joints.find(({ id }) => id === body.at)?.torque;
      const doubt = wanted === undefined || sure ? undefined : doubtTorque(wanted, body.torque);
      return doubt === undefined
        ? undefined
        : refuse(["torqueDoubt", doubt.read, doubt.wanted, doubt.fits], ["lookAgain"]);
    }
    case "verified": {
      const { hands, state } = ledger.joint(body.at);
      const confirms = body.found === "loose" ? state === "released" : state === "refitted";
      const did = hands.has(author) || ledger.task(body.at).last?.author === author;
      return confirms && did ? refuse(["didItHimself", names.person(author)], ["secondLooks"]) : undefined;
    }
    case "approval":
      return mayNot(ledger, author, body.gate === "lift" ? "lift approver" : "foreman", "mayNotApprove");
    case "override":
      return mayNot(ledger, author, "lift approver", "mayNotOverride");
    case "settled":
      return ledger.contradictions().some(({ key }) => key === body.contradiction)
        ? undefined
        : refuse(["noContradiction", body.contradiction], ["nameFromRun"]);
    case "resumed": {
      const stopped = body.about === undefined ? undefined : stopIn(ledger, body.about);
      return stopped === undefined || mayEnd(ledger, body.about ?? "", stopped, author)
        ? undefined
        : refuse(
            ["mayNotGoOn", names.person(author)],
            ["theyOrSignaller", [...new Set([names.person(stopped.author), ...names.with("lift approver")])]],
          );
    }
    case "done":
      return stoppedLoad(ledger, body.task);
    case "passed": {
      const stopped = body.lift === undefined ? undefined : stoppedLoad(ledger, body.lift);
      if (stopped !== undefined) return stopped;
      const gates = askGate(ledger, body.gate, { decides: true }, body.lift);
      if (gates.length === 0)
        return refuse(["noLift", body.lift ?? ""], ["itHas", brief.lifts.map(({ task }) => task)]);
      return gates.every(({ open }) => open) ? undefined : { ...refuse(["gateShut", body.gate], ["doMissing"]), gates };
    }
    case "closed":
    case "left open":
      return ledger.findings().some(({ entry }) => entry === body.finding)
        ? undefined
        : refuse(["noFinding", body.finding], ["idFromRun"]);
    case "confirmed":
      return refuse(["storeConfirms"], ["byItself"]);
    case "plan replaced":
      return refuse(["storeReplaces"], ["enterFinding"]);
    default:
      return undefined;
  }
};

/** Nothing is lifted while the load is stopped. */
const stoppedLoad = (ledger: Ledger, task: string): Refusal | undefined => {
  const stopped = stopIn(ledger, task);
  return stopped === undefined
    ? undefined
    : refuse(["loadStopped", new Names(ledger.brief).person(stopped.author)], ["goesOnWhen"]);
};

const mayNot = (
  ledger: Ledger,
  author: string,
  role: "lift approver" | "foreman",
  what: "mayNotApprove" | "mayNotOverride",
): Refusal | undefined => {
  const names = new Names(ledger.brief);
  const able = ledger.brief.people.filter(({ roles }) => roles.includes(role));
  if (able.some(({ id }) => id === author)) return undefined;
  return refuse([what, names.person(author)], able.length === 0 ? ["nobodyIs", role] : ["theyMay", names.with(role)]);
};

/** What stands against an entry and does not forbid it: others in the same system, a lift whose gate nobody passed. */
export const warningsOf = (ledger: Ledger, author: string, body: Body): readonly Phrase[] => {
  const names = new Names(ledger.brief);
  if (body.kind === "claimed" && body.system !== undefined) {
    const { system } = body;
    const others = [...ledger.claim("system", body.system).people.keys()].filter((one) => one !== author);
    return others.map((one) => ["atWorkOn", names.person(one), system]);
  }
  if (body.kind !== "done" || !ledger.brief.lifts.some(({ task }) => task === body.task)) return [];
  const passed = ledger.list("gates", "passed").some((one) => one.body.gate === "lift" && one.body.lift === body.task);
  return passed ? [] : [["liftedWithoutGate"]];
};
