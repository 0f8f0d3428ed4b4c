// Owns how a run is said on a terminal: orders, standing, gates, the page of a shift change, and what a finding changed.

import type { GateAnswer, Replan, ShiftJoint, ShiftPage, StepChange } from "../ledger/index.ts";
import type { Desk, OrderDocument, RunDocument, RunListDocument } from "../server/index.ts";
import { isServer } from "./server-call.ts";
import { fill, type Terminal, wrap } from "./terminal.ts";

const CAUTION =
  "A record and a calculation aid: maker's instructions, local rules and a competent person decide. What was not entered, nobody knows here.";

const clock = (at: number): string => {
  const moment = new Date(at);
  const two = (number: number) => String(number).padStart(2, "0");
  return `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())} ${two(moment.getHours())}:${two(moment.getMinutes())}`;
};

const count = (number: number, one: string, many = `${one}s`): string => `${number} ${number === 1 ? one : many}`;

const item = (text: string, { width }: Terminal, indent = "  "): string => wrap(text, width, indent).join("\n");

export const sayOrder = (order: OrderDocument, shop: string, terminal: Terminal): string => {
  const approvers = order.people.filter(({ roles }) => roles.includes("lift approver"));
  return [
    `${terminal.ink.strong(order.order)}  ${count(order.connections, "connection")} to take apart, ${order.labour} person-minutes out and back${order.status === "optimal" ? ", proved least" : ""}.`,
    ...order.lifts.map(({ label, cut }) => `  ${label}: ${count(cut, "connection")} between the load and the rest.`),
    `  People: ${order.people.map(({ label, roles }) => `${label} (${roles.join(", ")})`).join("; ")}.`,
    ...(order.lifts.length > 0 && approvers.length === 0
      ? [
          terminal.ink.doubt(
            `  Nobody of them may approve the lift: its gate will stay shut. ${isServer(shop) ? `Give one of them the role: unmoor people ${shop} ID --role …, then give the order under another --id.` : "Name one: --approver ID."}`,
          ),
        ]
      : []),
    ...(order.differences.length === 0
      ? []
      : [
          "  This machine differs from the file:",
          ...order.differences.map(({ about, text, run }) =>
            item(`${about}: ${text} (found in ${run})`, terminal, "    "),
          ),
        ]),
    `Begin it: unmoor run ${shop} ${order.order} --by WHO`,
  ].join("\n");
};

export const sayRunList = ({ orders }: RunListDocument, { ink }: Terminal): string =>
  orders.length === 0
    ? "No orders yet. Take one: unmoor order SHOP FILE --job ID --by WHO"
    : orders
        .map(
          ({ order, jobs, machine, state, entries, at }) =>
            `${ink.strong(order)}  ${state}  ${jobs.join(", ")}${machine === undefined ? "" : `  machine ${machine}`}  ${entries === 0 ? "" : `${count(entries, "entry", "entries")}  `}ordered ${clock(at)}`,
        )
        .join("\n");

export const sayRun = (run: RunDocument, page: ShiftPage, terminal: Terminal): string => {
  const { ink } = terminal;
  return [
    `${ink.strong(run.run)}  ${run.vehicle}: ${run.jobs.join(", ")}; plan ${run.plan}, ${count(run.entries, "entry", "entries")}${run.closed === null ? "" : `; closed ${clock(run.closed)}`}`,
    `  Of ${count(run.planned, "connection")}: ${run.apart} apart, ${run.loose} of them verified loose; ${run.back} made again.`,
    ...run.lifts.map(({ label, tied, cut }) =>
      item(
        `${label}: ${tied.length === 0 ? `nothing recorded ties it; all ${cut} are loose` : `${cut - tied.length} of ${cut} loose; still tied: ${tied.join(", ")}`}.`,
        terminal,
      ),
    ),
    ...(page.toVerify.length === 0
      ? []
      : [
          "  Waiting for a second person:",
          ...page.toVerify.map(({ label, where, who, hidden }) =>
            item(
              `${label}${where === undefined ? "" : `, ${where.label}`}${hidden ? ", hidden" : ""}: ${who.join(" or ")}`,
              terminal,
              "    ",
            ),
          ),
        ]),
    ...run.findings
      .filter(({ state }) => state === "open")
      .map(({ entry, what, about, text }) =>
        item(`Finding, open: ${what}${about === undefined ? "" : ` at ${about}`}: ${text}  (${entry})`, terminal),
      ),
    ...run.contradictions.map(({ says }) => ink.bad(item(says, terminal))),
    ...(run.next.length === 0
      ? ["  Every step of the plan is entered."]
      : [
          "  Next:",
          ...run.next.map(({ number, action, label, position, minutes }) =>
            item(
              `${number}. ${action} ${label}${position === undefined ? "" : `, ${position}`}, ${minutes} min`,
              terminal,
              "    ",
            ),
          ),
        ]),
    "",
    ...fill(CAUTION.split(" "), terminal.width),
  ].join("\n");
};

const GATE_NAMES = {
  isolation: "Isolation gate",
  lift: "Lift gate",
  "start-up": "Start-up gate",
  "hand-over": "Hand-over gate",
} as const;

export const sayGates = (gates: readonly GateAnswer[], terminal: Terminal): string =>
  [
    ...gates.flatMap(({ gate, lift, open, provisional, missing, looked }) => [
      `${terminal.ink.strong(`${GATE_NAMES[gate]}${lift === undefined ? "" : `, ${lift}`}`)}: ${open ? `open by what is recorded${provisional ? ", until the store has seen everything" : ""}` : `shut, ${count(missing.length, "thing")} missing`}. Looked at ${looked.join(", ")}.`,
      ...missing.map(({ rule, label, what, where, who }) =>
        item(
          `${rule}  ${label}: ${what}.${where === undefined ? "" : ` ${where.label}.`}${who.length === 0 ? "" : ` ${who.join(" or ")}.`}`,
          terminal,
        ),
      ),
    ]),
    "",
    ...fill(CAUTION.split(" "), terminal.width),
  ].join("\n");

/** The end of an entry's id, by which it can be named. */
export const shortId = (id: string): string => id.slice(-8);

const change = ({ action, label, minutes }: StepChange): string => `${action} ${label}, ${minutes} min`;

export const sayReplan = (replan: Replan): string => {
  const why = replan.because.map(({ says }) => says).join("; ");
  if (replan.kind === "none")
    return [
      `No new plan: ${replan.why}${why === "" ? "" : ` (${why})`}. The plan in force stays; somebody decides.`,
      ...(replan.conflict?.rules ?? []).map(({ says }) => `  ${says}`),
    ].join("\n");
  const { added, dropped, altered, left, before, status } = replan;
  if (added.length + dropped.length + altered.length === 0)
    return `The plan stays as it is: ${left} person-minutes are left${why === "" ? "" : ` (${why})`}.`;
  return [
    `A new plan for what is left: ${left} person-minutes, ${before} by the old one${status === "optimal" ? "; proved least" : ""}. Because ${why === "" ? "a finding is closed" : why}.`,
    ...added.map((one) => `  new      ${change(one)}`),
    ...altered.map((one) => `  changed  ${change(one)}`),
    ...dropped.map((one) => `  not now  ${change(one)}`),
  ].join("\n");
};

export const sayShift = (
  page: ShiftPage & { readonly run: string; readonly vehicle: string },
  desk: Desk,
  terminal: Terminal,
): string => {
  const { ink } = terminal;
  const at = (one: ShiftJoint) =>
    `${one.label}${one.where === undefined ? "" : `, ${one.where.label}`}: ${one.state}, ${one.by.join(" and ")}, ${clock(one.at)}`;
  const part = (title: string, lines: readonly string[]) =>
    lines.length === 0 ? [] : ["", ink.strong(title), ...lines.map((line) => item(line, terminal))];
  return [
    `${ink.strong("SHIFT CHANGE")}  ${page.run}, ${page.vehicle}, as of ${clock(page.at)}`,
    `${page.percentApart} % apart, ${page.percentBack} % made again.`,
    ...(page.handing === undefined
      ? []
      : [
          `Handed over by ${page.handing.from} to ${page.handing.to} at ${clock(page.handing.at)}, and not yet taken over.`,
        ]),
    ...part("SNUG ONLY: looks done and is not", page.snug.map(at)),
    ...part("HALF DONE", page.half.map(at)),
    ...part(
      "WAITS FOR A SECOND PERSON, hidden ones first",
      page.toVerify.map((one) => `${at(one)}; looks: ${one.who.join(" or ")}${one.hidden ? " (hidden)" : ""}`),
    ),
    ...part(
      "ENERGY OFF",
      page.off.map(({ energy, key }) => `${energy}: ${key} holds the key`),
    ),
    ...part(
      "THE VEHICLE IS",
      page.on.map(
        ({ label, drained }) =>
          `${label}${
            Object.keys(drained).length === 0
              ? ""
              : `: ${Object.entries(drained)
                  .map(([fluid, amount]) => `${amount} ${fluid} out`)
                  .join(", ")}`
          }`,
      ),
    ),
    ...part(
      "PARTS AWAY",
      page.lying.map(({ label, where }) => `${label}: ${where}`),
    ),
    ...part(
      "STILL IN THE VEHICLE",
      page.things.map(
        ({ item: thing, count: many, at: where }) =>
          `${many} × ${thing}${where === undefined ? "" : `, at ${desk.label(where)}`}`,
      ),
    ),
    ...part(
      "TOOLS OUT",
      page.tools.map(({ tool, count: many, by }) => `${many} × ${tool}, ${by.join(" and ")}`),
    ),
    ...part(
      "WHO IS WHERE",
      page.claims.map(({ place, people }) => `${place}: ${people.join(", ")}`),
    ),
    ...part(
      "FINDINGS OPEN",
      page.findings.map(
        ({ found, entry }) =>
          `${found.what}${found.about === undefined ? "" : ` at ${desk.label(found.about)}`}: ${found.text}  (${shortId(entry)})`,
      ),
    ),
    ...part(
      "CONTRADICTIONS",
      page.contradictions.map((one) => desk.sayContradiction(one)),
    ),
    ...part(
      "NEXT",
      page.next.map(
        ({ number, action, label, position, minutes }) =>
          `${number}. ${action} ${label}${position === undefined ? "" : `, ${position.label}`}, ${minutes} min`,
      ),
    ),
    "",
    "Handed over by ____________________  taken over by ____________________",
    ...fill(CAUTION.split(" "), terminal.width),
  ].join("\n");
};
