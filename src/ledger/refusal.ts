// Owns what is refused as it is entered, so that it does not become a contradiction, and what it warns of.

import { indexWords } from "../vehicle/index.ts";
import type { GateAnswer } from "./gate.ts";
import { askGate } from "./gates.ts";
import type { Body } from "./kinds.ts";
import type { Ledger } from "./ledger.ts";
import { Names } from "./names.ts";
import { mayEnd, stopIn } from "./stop.ts";
import { doubtTorque, sayTorqueDoubt } from "./torque-doubt.ts";

/** Why an entry was not taken. */
export interface Refusal {
  readonly what: string;
  readonly mend: string;
  /** Of a gate that is shut. */
  readonly gates?: readonly GateAnswer[];
}

/** @param sure a torque that does not fit was looked at again, and was read so. */
export const refusalOf = (ledger: Ledger, author: string, body: Body, sure: boolean): Refusal | undefined => {
  const { brief } = ledger;
  const names = new Names(brief);
  if (!brief.people.some(({ id }) => id === author))
    return {
      what: `nobody of this order is called ${author}`,
      mend: `There are: ${brief.people.map(({ id }) => id).join(", ")}.`,
    };
  const strange = ledger.strangerIn(body);
  if (strange !== undefined) {
    const near = indexWords(strange.known)(strange.id);
    return {
      what: `the vehicle file has no ${strange.as === "any" ? "thing" : strange.as} called ${strange.id}`,
      mend: near === undefined ? "See the names in the plan." : `Nearest: ${near}, ${names.label(near)}.`,
    };
  }
  switch (body.kind) {
    case "torqued":
    case "torque value": {
      const aim = brief.joints.find(({ id }) => id === body.at)?.torque?.aim;
      const doubt = aim === undefined || sure ? undefined : doubtTorque(aim, body.torque);
      return doubt === undefined
        ? undefined
        : { what: sayTorqueDoubt(doubt), mend: "Look again; if it was read so, enter it with --sure." };
    }
    case "verified": {
      const { hands, state } = ledger.joint(body.at);
      const confirms = body.found === "loose" ? state === "released" : state === "refitted";
      const did = hands.has(author) || ledger.task(body.at).last?.author === author;
      return confirms && did
        ? { what: `${names.person(author)} did it himself`, mend: "A second person looks." }
        : undefined;
    }
    case "approval":
      return mayNot(ledger, author, body.gate === "lift" ? "lift approver" : "foreman", "approve this gate");
    case "override":
      return mayNot(ledger, author, "lift approver", "pass the lift gate without the store");
    case "settled":
      return ledger.contradictions().some(({ key }) => key === body.contradiction)
        ? undefined
        : { what: `no open contradiction is called ${body.contradiction}`, mend: "Take its name from unmoor run." };
    case "resumed": {
      const stopped = body.about === undefined ? undefined : stopIn(ledger, body.about);
      return stopped === undefined || mayEnd(ledger, body.about ?? "", stopped, author)
        ? undefined
        : {
            what: `${names.person(author)} may not let a stopped load go on`,
            mend: `${[...new Set([names.person(stopped.author), ...names.with("lift approver")])].join(" or ")} may, or who signals.`,
          };
    }
    case "done":
      return stoppedLoad(ledger, body.task);
    case "passed": {
      const stopped = body.lift === undefined ? undefined : stoppedLoad(ledger, body.lift);
      if (stopped !== undefined) return stopped;
      const gates = askGate(ledger, body.gate, { decides: true }, body.lift);
      if (gates.length === 0)
        return {
          what: `the plan has no lift ${body.lift ?? ""}`,
          mend: `It has: ${brief.lifts.map(({ task }) => task).join(", ")}.`,
        };
      return gates.every(({ open }) => open)
        ? undefined
        : { what: `the ${body.gate} gate is shut`, mend: "Do what is missing, then pass it.", gates };
    }
    case "closed":
    case "left open":
      return ledger.findings().some(({ entry }) => entry === body.finding)
        ? undefined
        : { what: `there is no finding ${body.finding}`, mend: "Take its id from unmoor run." };
    case "confirmed":
      return { what: "only the store confirms", mend: "It does so by itself." };
    case "plan replaced":
      return {
        what: "only the store replaces a plan, with one that it has solved and kept",
        mend: "Enter the finding.",
      };
    default:
      return undefined;
  }
};

/** Nothing is lifted while the load is stopped. */
const stoppedLoad = (ledger: Ledger, task: string): Refusal | undefined => {
  const stopped = stopIn(ledger, task);
  return stopped === undefined
    ? undefined
    : {
        what: `the load is stopped by ${new Names(ledger.brief).person(stopped.author)}`,
        mend: "It goes on when who may says so.",
      };
};

const mayNot = (
  ledger: Ledger,
  author: string,
  role: "lift approver" | "foreman",
  what: string,
): Refusal | undefined => {
  const names = new Names(ledger.brief);
  const able = ledger.brief.people.filter(({ roles }) => roles.includes(role));
  if (able.some(({ id }) => id === author)) return undefined;
  const mend =
    able.length === 0
      ? `Nobody of this order is ${role}; name one with the order.`
      : `${names.with(role).join(" or ")} may.`;
  return { what: `${names.person(author)} may not ${what}`, mend };
};

/** What stands against an entry and does not forbid it: others in the same system, a lift whose gate nobody passed. */
export const warningsOf = (ledger: Ledger, author: string, body: Body): readonly string[] => {
  const names = new Names(ledger.brief);
  if (body.kind === "claimed" && body.system !== undefined) {
    const others = [...ledger.claim("system", body.system).people.keys()].filter((one) => one !== author);
    return others.map((one) => `${names.person(one)} is at work on ${body.system}`);
  }
  if (body.kind !== "done" || !ledger.brief.lifts.some(({ task }) => task === body.task)) return [];
  const passed = ledger.list("gates", "passed").some((one) => one.body.gate === "lift" && one.body.lift === body.task);
  return passed ? [] : ["lifted without its gate: nobody has passed it"];
};
