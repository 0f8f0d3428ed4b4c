// Owns the command `lift`: how the lifted group of a plan hangs, or a rig without a vehicle, with every check, as text, document and picture.

import { writeFileSync } from "node:fs";
import {
  groupsOf,
  type LiftOfPlan,
  type LiftWanted,
  reckonLift,
  reckonLiftOf,
  STRAIGHT_UP,
  supportAlong,
} from "../plan/index.ts";
import { readQuantity } from "../quantity/index.ts";
import {
  type Band,
  type Box,
  drawHanging,
  type FileFault,
  faultInEnglish,
  type Hanging,
  type RangeResult,
  type Rig,
  type Tipping,
} from "../rigging/index.ts";
import { computeAside } from "./background.ts";
import type { Call, CallFault } from "./call.ts";
import { EXIT, type Exit } from "./exit.ts";
import { describeHung, describeLift, describeSupport, fails } from "./lift-document.ts";
import { inVehicleFile } from "./lift-places.ts";
import { sayLift } from "./lift-text.ts";
import { refuse, takeAsked, tellRelease } from "./release.ts";
import { openRig, placed } from "./rig-file.ts";
import type { LiftDocument, OneLift } from "./rigging-documents.ts";
import type { Terminal } from "./terminal.ts";
import type { Answer, Asked } from "./thread.ts";

export async function runLift(call: Call, terminal: Terminal): Promise<Exit> {
  const path = call.operands[0] ?? "";
  const faults: CallFault[] = [];
  const wanted = wantedOf(call, faults);
  const stands = standsOf(call, faults);
  if (faults.length > 0) return refuse(faults, terminal);
  const asked: LiftWanted = {
    ...(wanted === undefined ? {} : { wanted }),
    ...(stands === undefined ? {} : { stands }),
  };
  return isRig(path) ? liftOfRig(path, asked, call, terminal) : await liftOfVehicle(path, asked, call, terminal);
}

const isRig = (path: string): boolean => /\.rig\.ya?ml$/i.test(path);

async function liftOfVehicle(path: string, wanted: LiftWanted, call: Call, terminal: Terminal): Promise<Exit> {
  const asked = await takeAsked("plan", path, call, terminal);
  if (typeof asked === "number") return asked;
  const answer = await computeAside<Asked, Answer>(asked, terminal);
  const { plan } = answer;
  if (plan === undefined) return tellRelease(call, asked.question, answer, terminal);
  const { vehicle } = asked.question;
  const [hoist, legs] = [call.flags.get("hoist")?.[0], call.flags.get("legs")];
  const lifts = groupsOf(vehicle, plan).map((group) =>
    reckonLiftOf(vehicle, group, {
      ...wanted,
      ...(hoist === undefined ? {} : { hoist }),
      ...(legs === undefined ? {} : { legs }),
    }),
  );
  const [first, ...others] = await Promise.all(
    lifts.map((lift) => describePlaced(path, plan.labels[lift.group.task] ?? lift.group.task, lift)),
  );
  if (first === undefined) {
    terminal.warn(
      `unmoor: this plan lifts nothing: ${plan.jobs.map(({ label }) => label).join("; ")}. Ask for a job that needs a lift, or see unmoor plan.`,
    );
    return EXIT.not;
  }
  const document: LiftDocument = {
    format: "unmoor/lift/1",
    file: path,
    ...first,
    others,
    support: describeSupport(supportAlong(vehicle, plan)),
  };
  const hung = lifts.find((lift) => lift.kind === "reckoned");
  const picture =
    hung?.kind === "reckoned"
      ? draw(document.label, { rig: hung.slung.rig, ...hung.answer, obstacles: hung.asked.obstacles })
      : undefined;
  return tell(document, picture, call, terminal);
}

/** One lift of a plan; of one that is refused every fault with its line. */
async function describePlaced(path: string, label: string, lift: LiftOfPlan): Promise<OneLift> {
  const one = describeLift(label, lift);
  return one.kind === "refused" ? { ...one, faults: await inVehicleFile(path, one.faults) } : one;
}

function liftOfRig(path: string, wanted: LiftWanted, call: Call, terminal: Terminal): Exit {
  const extra = ["job", "keep", "take", "hoist", "released", "crew", "without-tool", "within", "legs"].filter((flag) =>
    call.flags.has(flag),
  );
  if (extra.length > 0)
    return refuse(
      extra.map((flag) => ({
        what: `--${flag} is for a vehicle file`,
        mend: "Leave it out: the rig file says what hangs on what.",
      })),
      terminal,
    );
  const opened = openRig(path);
  if ("missing" in opened)
    return refuse(
      [{ what: `${path} cannot be read: ${opened.missing}`, mend: "Name a rig file, *.rig.yaml." }],
      terminal,
    );
  if ("faults" in opened) return refuseRig(path, opened.faults, call, terminal);
  const { rig, rules, name, obstacles, path: way, assumed } = opened.file;
  const answer = reckonLift({
    rig,
    rules,
    obstacles,
    path: way.length === 0 ? STRAIGHT_UP : way,
    ties: [],
    feet: [],
    ...wanted,
  });
  if (answer.kind === "refused")
    return refuseRig(
      path,
      answer.faults.map((fault) => placed(faultInEnglish(fault), opened.place)),
      call,
      terminal,
    );
  const document: LiftDocument = {
    format: "unmoor/lift/1",
    file: path,
    ...describeHung({ label: name }, rig, answer, assumed),
    others: [],
  };
  return tell(document, draw(name, { rig, ...answer, obstacles }), call, terminal);
}

function refuseRig(path: string, faults: readonly FileFault[], call: Call, terminal: Terminal): Exit {
  if (call.flags.has("json")) {
    const document: LiftDocument = {
      format: "unmoor/lift/1",
      file: path,
      kind: "refused",
      label: path,
      faults,
      others: [],
    };
    terminal.say(JSON.stringify(document, undefined, 2));
  }
  for (const { at, what, mend } of faults) terminal.warn(`${at}: ${what}. ${mend}`);
  return EXIT.not;
}

/** The picture of what hangs, or tips; undefined where nothing does. */
const draw = (
  title: string,
  drawn: { rig: Rig; hanging: Hanging | Tipping; ranges: RangeResult; obstacles: readonly Box[] } | undefined,
): string | undefined =>
  drawn === undefined
    ? undefined
    : drawHanging(drawn.rig, drawn.hanging, {
        title,
        obstacles: drawn.obstacles,
        ...(drawn.ranges.kind === "ranges" ? { ranges: drawn.ranges } : {}),
      });

function tell(document: LiftDocument, picture: string | undefined, call: Call, terminal: Terminal): Exit {
  const svg = call.flags.get("svg")?.[0];
  if (svg !== undefined) {
    if (picture === undefined)
      return refuse([{ what: "--svg: nothing hangs here that could be drawn", mend: "Leave it out." }], terminal);
    try {
      writeFileSync(svg, picture);
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      return refuse([{ what: `--svg ${svg} cannot be written: ${why}`, mend: "Name a file that can be." }], terminal);
    }
  }
  terminal.say(call.flags.has("json") ? JSON.stringify(document, undefined, 2) : sayLift(document, terminal));
  const held = document.support?.checks.some(({ verdict }) => verdict === "fails") ?? false;
  return held || [document, ...document.others].some(fails) ? EXIT.not : EXIT.found;
}

const BAND = /^\s*([-+−]?\d+(?:\.\d+)?)\s*(?:(?:\.\.|to)\s*([-+−]?\d+(?:\.\d+)?)\s*)?(deg|°|mrad|rad)\s*$/;
/** Degrees either way that a single wanted value leaves. */
const ABOUT = 0.5;

/** A wanted band, `0..3deg`; a single value is half a degree either way; what is not given is free. */
function wantedOf(call: Call, faults: CallFault[]): Band | undefined {
  const read = (flag: "pitch" | "roll"): readonly [number, number] | undefined => {
    const text = call.flags.get(flag)?.[0];
    if (text === undefined) return undefined;
    const [, from = "", to, unit = ""] = BAND.exec(text) ?? [];
    const [low, high] = [from, to ?? from].map((value) => {
      const reading = readQuantity(`${value.replace("−", "-")} ${unit}`, "angle");
      return "fault" in reading ? Number.NaN : (reading.value.nominal * 180) / Math.PI;
    });
    if (low === undefined || high === undefined || !(low <= high) || Math.max(Math.abs(low), Math.abs(high)) > 90) {
      faults.push({
        what: `--${flag} ${text} is no band of angles`,
        mend: `Write --${flag} 0..3deg, the lower end first; ${flag === "pitch" ? "nose down" : "left side up"} is positive.`,
      });
      return undefined;
    }
    return to === undefined ? [low - ABOUT, high + ABOUT] : [low, high];
  };
  const [pitch, roll] = [read("pitch"), read("roll")];
  return pitch === undefined && roll === undefined
    ? undefined
    : { pitch: pitch ?? [-90, 90], roll: roll ?? [-180, 180] };
}

/** Where the hook stands: two lengths, forward and to the left. */
function standsOf(call: Call, faults: CallFault[]): readonly [number, number] | undefined {
  const given = call.flags.get("stands");
  if (given === undefined) return undefined;
  const values = given.map((text) => readQuantity(text, "length"));
  const [x, y, ...more] = values.map((reading) => ("fault" in reading ? Number.NaN : reading.value.nominal));
  if (x !== undefined && y !== undefined && more.length === 0 && Number.isFinite(x + y)) return [x, y];
  faults.push({ what: `--stands ${given.join(",")} is no place`, mend: "Write --stands X,Y: --stands 0.3m,-0.02m." });
  return undefined;
}
