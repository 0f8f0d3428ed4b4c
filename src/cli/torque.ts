// Owns the command `torque`: torque and preload of a joint by hand or of the joints of a file, with every verdict.

import { type Joint, sentence, type Tightening, tighten } from "../fastening/index.ts";
import { jointOf } from "../plan/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import type { Call } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import type { JointDocument, TorqueDocument } from "./fastening-documents.ts";
import { Figures } from "./figures.ts";
import { takeVehicle } from "./files.ts";
import { refuse } from "./release.ts";
import { type Terminal, wrap } from "./terminal.ts";
import { placed, readByHand, readExtras } from "./torque-question.ts";
import { mendWord } from "./words.ts";

export async function runTorque(call: Call, terminal: Terminal): Promise<Exit> {
  const [first = "", strength] = call.operands;
  return /\.ya?ml$/i.test(first)
    ? await torqueOfFile(first, strength, call, terminal)
    : torqueByHand(first, strength, call, terminal);
}

function torqueByHand(thread: string, strength: string | undefined, call: Call, terminal: Terminal): Exit {
  const figures = new Figures(call);
  if (figures.has("joint"))
    figures.fail("joint", `"${thread}" is no vehicle file`, "Write unmoor torque FILE --joint ID.");
  const { joint, assumed, faults } = readByHand(thread, strength, figures);
  if (joint === undefined || faults.length > 0) return refuse(faults, terminal);
  const answer = tighten(joint);
  if ("faults" in answer) return refuse(answer.faults.map(placed), terminal);
  const described = describe(joint, answer.answer, assumed);
  if (call.flags.has("json")) {
    const document: TorqueDocument = { format: "unmoor/torque/1", joints: [], unknown: [], ...described };
    terminal.say(JSON.stringify(document, undefined, 2));
  } else terminal.say(sayJoint(described, terminal));
  return failed([described]) ? EXIT.not : EXIT.found;
}

async function torqueOfFile(path: string, more: string | undefined, call: Call, terminal: Terminal): Promise<Exit> {
  const json = call.flags.has("json");
  const taken = await takeVehicle(path, terminal, json);
  if (typeof taken === "number") return taken;
  const { vehicle } = taken;
  const figures = new Figures(call);
  if (more !== undefined)
    figures.faults.push({
      what: `"${more}" is one word too many`,
      mend: "The class of a joint stands in the file, under hardware.",
    });
  const asked = figures.list("joint");
  const known = vehicle.connections.map(({ id }) => id);
  for (const id of asked)
    if (!known.includes(id)) figures.fail("joint", `there is no connection called ${id}`, mendWord(id, known));
  for (const flag of ["torque", "preload", "share", "yield", "turn", "grip", "face", "hole", "stays"])
    if (figures.has(flag))
      figures.fail(flag, "the file says it", "Leave it out, or ask by hand with thread and class.");
  const extras = readExtras(figures);
  if (figures.faults.length > 0) return refuse(figures.faults, terminal);
  const joints: JointDocument[] = [];
  const unknown: { connection: string; what: string; mend: string }[] = [];
  for (const connection of chosen(vehicle, asked)) {
    const reading = jointOf(vehicle, connection);
    if (!("joint" in reading)) {
      // Of all joints only those are told that have a torque and nothing to hold it against, or a class that nobody knows.
      const classed = connection.hardware.some((one) => one.class !== undefined);
      if (asked.length > 0 || classed || connection.refit.torque !== undefined)
        unknown.push({ connection: connection.id, ...reading });
      continue;
    }
    const joint = { ...reading.joint, ...extras };
    const answer = tighten(joint);
    if ("faults" in answer)
      unknown.push(
        ...answer.faults.map((fault) => ({ connection: connection.id, what: sentence(fault), mend: fault.mend })),
      );
    else
      joints.push({
        connection: connection.id,
        label: connection.label,
        item: reading.item,
        count: reading.count,
        ...describe(joint, answer.answer, reading.assumed),
      });
  }
  if (json) {
    const document: TorqueDocument = { format: "unmoor/torque/1", file: path, joints, unknown };
    terminal.say(JSON.stringify(document, undefined, 2));
  } else {
    terminal.say(
      joints.map((one) => sayJoint(one, terminal)).join("\n\n") ||
        "No joint of this file has a thread and a torque or class.",
    );
    for (const text of sayUnknown(unknown, terminal)) terminal.say(`\n${text}`);
  }
  return failed(joints) ? EXIT.not : EXIT.found;
}

/** What is wanting at many joints alike is said once, with their names before it. */
function sayUnknown(unknown: TorqueDocument["unknown"], { ink, width }: Terminal): string[] {
  const alike = new Map<string, string[]>();
  for (const { connection, what, mend } of unknown) {
    const rest = what.startsWith(`${connection} `) ? what.slice(connection.length + 1) : what;
    const key = `${rest}. ${mend}`;
    alike.set(key, [...(alike.get(key) ?? []), connection]);
  }
  return [...alike].map(([rest, ids]) => {
    const [first = ""] = ids;
    return ids.length === 1
      ? `${ink.doubt(first)}: ${rest}`
      : [`${ink.doubt(`${ids.length} joints`)}: each ${rest}`, ...wrap(`${ids.join(", ")}.`, width, "  ")].join("\n");
  });
}

const chosen = ({ connections }: Vehicle, asked: readonly string[]) =>
  asked.length === 0 ? connections : connections.filter(({ id }) => asked.includes(id));

const failed = (joints: readonly JointDocument[]): boolean =>
  joints.some(({ verdicts }) => verdicts.some(({ standing }) => standing === "fails"));

function describe({ thread, strength, friction }: Joint, one: Tightening, assumed: readonly string[]): JointDocument {
  const { preload, proofShare, yieldShare, assumed: also, ...rest } = one;
  return {
    thread: thread.name,
    ...(strength === undefined ? {} : { class: strength.name }),
    friction: "factor" in friction ? { factor: friction.factor } : { thread: friction.thread, head: friction.head },
    ...rest,
    preload: preload.nominal,
    range: { low: preload.low, high: preload.high },
    ...(proofShare === undefined ? {} : { proofShare: proofShare.nominal }),
    ...(yieldShare === undefined ? {} : { yieldShare: yieldShare.nominal }),
    assumed: [...assumed, ...also],
  };
}

const three = (value: number): string => String(Number(value.toPrecision(3)));

function sayJoint(one: JointDocument, { ink, width }: Terminal): string {
  const name = `${one.thread}${one.class === undefined ? "" : ` ${one.class}`}`;
  const head = one.label === undefined ? name : `${one.label} (${one.connection}): ${one.count} × ${one.item}`;
  const mark = { holds: ink.good("holds"), fails: ink.bad("fails"), doubtful: ink.doubt("doubtful"), note: "note" };
  const share = (value: number | undefined, of: string) =>
    value === undefined ? "" : `, ${Math.round(value * 100)} % of ${of}`;
  return [
    ink.strong(head),
    `  torque   ${three(one.torque)} N·m, ${one.proposal ? ink.doubt(`a proposal: ${one.by}`) : one.by}`,
    ...(one.set === one.torque ? [] : [`  set      ${three(one.set)} N·m on the wrench`]),
    `  preload  ${three(one.preload / 1000)} kN, ${three(one.range.low / 1000)} to ${three(one.range.high / 1000)}${share(one.proofShare, "proof")}${share(one.yieldShare, "yield")}`,
    ...(one.split === undefined
      ? []
      : [
          `  of it    ${three(one.split.pitch)} N·m up the thread, ${three(one.split.thread)} in the thread, ${three(one.split.head)} under the head; loose at ${three(one.loosening ?? 0)}`,
        ]),
    ...one.verdicts.flatMap(({ standing, what, mend }) =>
      wrap(`${mark[standing]}: ${what}.${mend === undefined ? "" : ` ${mend}`}`, width, "  "),
    ),
    ...(one.assumed.length === 0 ? [] : wrap(`assumed: ${one.assumed.join("; ")}.`, width, "  ")),
  ].join("\n");
}
