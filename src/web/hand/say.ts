// Owns how an entry is said on the tablet: short, in the language of the screens, as it was or is to be entered.

import { type Body, type Brief, type BriefStep, type BriefTorque, Names, type StepActs } from "../../ledger/index.ts";
import { torqueLimits } from "../../plan/index.ts";
import type { Figures } from "../sheet/figures.ts";
import { verbBefore } from "../sheet/step-words.ts";
import type { Words } from "../words/said.ts";

/** What was done, without what it was done to. */
export const sayAct = ({ hand, gates }: Words, brief: Brief, body: Body): string => {
  const names = new Names(brief);
  const acts = hand.acts;
  switch (body.kind) {
    case "counted":
      return acts.counted(body.count, body.item, body.way === "out");
    case "put in":
    case "taken out":
      return acts[body.kind](body.count, body.item);
    case "brought back":
    case "set aside":
    case "hung aside":
      return acts[body.kind](names.label(body.part));
    case "isolated":
    case "restored":
      return acts[body.kind](body.energy);
    case "verified":
      return body.found === "loose" ? acts.foundLoose : acts.foundMade;
    case "torqued":
    case "torque value":
      return body.torque === "" ? acts[body.kind] : `${acts[body.kind]}: ${body.torque}`;
    case "match marked":
    case "released":
    case "loosened":
    case "plugged":
    case "unplugged":
    case "in place":
    case "snug":
    case "locked":
    case "marked":
    case "refitted":
    case "done":
    case "undone":
    case "drained":
    case "filled":
    case "failed":
      return acts[body.kind];
    case "note":
      return `${hand.note}: ${body.text}`;
    case "paused":
      return body.cause === "fetching" ? hand.fetching : hand.waiting;
    case "resumed":
      return hand.goesOn;
    case "finding":
      return gates.kinds[body.what];
    case "closed":
      return gates.close;
    case "left open":
      return gates.leaveOpen;
    case "trial":
      return `${gates.trial}, ${body.load}`;
    case "approval":
      return gates.approve;
    case "override":
      return gates.override;
    case "passed":
      return `${gates.pass}: ${gates.names[body.gate]}`;
    case "settled":
      return gates.settle;
    case "handing over":
      return `${gates.handTo} ${names.person(body.to)}`;
    case "taken over":
      return gates.takeFrom(names.person(body.from));
    case "correction":
      return hand.takenBack;
    default:
      return body.kind;
  }
};

/** What an entry is about, where that is one thing of the vehicle. */
export const aboutOf = (body: Body): string | undefined =>
  "at" in body
    ? body.at
    : "task" in body
      ? body.task
      : "part" in body
        ? body.part
        : "about" in body
          ? body.about
          : undefined;

/** The same with what it was done to: "Released: Heater hose, upper". */
export const sayBody = (words: Words, brief: Brief, body: Body): string => {
  const about = aboutOf(body);
  const act = sayAct(words, brief, body);
  return about === undefined || "part" in body ? act : `${act}: ${new Names(brief).label(about)}`;
};

/** A task that goes back as it came has no words of its own for that: the action says it, in the language of the page. */
const isWordless = (action: string, task: string, label: string): action is "undo" | "return" =>
  (action === "undo" || action === "return") && label.startsWith(`${task}: `);

/** What a step is called: what is done, and to what; of a last look what is looked at. */
export const sayStep = (words: Words, brief: Brief, { action, id, label, verify }: BriefStep): string => {
  const names = new Names(brief);
  if (action === "verify") return `${words.hand.lastLook}: ${verify.map((one) => names.label(one)).join("; ")}`;
  const task = names.label(id);
  return isWordless(action, task, label)
    ? `${words.ties.actions[action]}: ${task}`
    : `${verbBefore(words, action)}${label}`;
};

/** What a tap on a step says: what goes back is done as well, by the step's own words. */
export const sayTap = (words: Words, brief: Brief, body: Body): string =>
  body.kind === "undone" ? words.hand.acts.done : sayAct(words, brief, body);

/** What a step is about as it stands: of a last look what is looked at next. */
export const concernOf = ({ step, acts }: StepActs): string =>
  step.action !== "verify"
    ? step.id
    : (acts.map(({ body, done }) => (done ? undefined : aboutOf(body))).find((one) => one !== undefined) ??
      step.verify[0] ??
      step.id);

/** What a reading of a torque may be, and whether that is the file's word or common practice. */
export const sayLimits = ({ aim, limits }: BriefTorque, figures: Figures, { hand }: Words): string => {
  const { low, high } = torqueLimits(aim, limits);
  const said = figures.limits(low, high, "torque");
  return limits === undefined ? hand.practice(said) : hand.limits(said);
};
