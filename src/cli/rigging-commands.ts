// Owns the entries of lift and trial in the list of commands.

import type { Flag } from "./call.ts";
import type { Command } from "./command.ts";

const LIFT: readonly Flag[] = [
  {
    name: "legs",
    value: "LEG|EYE=LENGTH",
    many: true,
    text: "only these legs of the file; or a leg from this eye, so long: front-eye=0.8m",
  },
  {
    name: "pitch",
    value: "BAND",
    text: "wanted pitch, nose down positive: 0..3deg, -3..-1deg; searches the lengths for it",
  },
  { name: "roll", value: "BAND", text: "wanted roll, left side up positive" },
  { name: "stands", value: "X,Y", many: true, text: "where the hook stands before the lift: how far the load swings" },
  { name: "svg", value: "FILE", text: "also draw side, end and top view into this file" },
];

const TRIAL: readonly Flag[] = [
  { name: "lift", value: "TASK", text: "which lift of the plan, where there are several" },
  {
    name: "reading",
    value: "FORCE",
    many: true,
    text: "of the load cell, tackle and all: 3.1kN, 3.1kN±20N; again for more",
  },
  { name: "pitch", value: "ANGLE", many: true, text: "of the load at each reading, nose down positive: 1.2deg" },
  { name: "roll", value: "ANGLE", many: true, text: "of the load at each reading, left side up positive" },
  { name: "rise", value: "LENGTH", many: true, text: "of the hook since the legs came taut, at each reading: 30mm" },
  {
    name: "legs",
    value: "LEG|EYE=LENGTH",
    many: true,
    text: "only these legs of the file; or a leg from this eye, so long",
  },
];

/** `order`: what every command that plans takes. */
export const riggingCommands = (order: readonly Flag[]): readonly Command[] => [
  {
    name: "lift",
    summary: "how the lifted group hangs, what each leg carries over all that is not known, every check",
    about:
      "For the lifts of a plan, or for a rig by itself: unmoor lift RIG.rig.yaml. Says which check passed on which figures. Exit code 1 when\na check fails, it tips, touches something, or nothing fits what is wanted.",
    operands: [{ name: "FILE", text: "the vehicle file, or a rig file (*.rig.yaml)" }],
    flags: [...LIFT, ...order],
    example: "unmoor lift demo/plover-28.vehicle.yaml --job clutch-plate --pitch -3..1deg",
    load: async () => (await import("./lift.ts")).runLift,
  },
  {
    name: "trial",
    summary: "is it free? from load cell and tilt at the trial lift, what most likely still holds it",
    about:
      "Ranks the connections of the cut that may have been left on, alone and in pairs, against nothing, parts left on and a mass nobody knows of.\nExit code 1 when it is more likely tied than free.",
    operands: [{ name: "FILE", text: "the vehicle file (*.vehicle.yaml)" }],
    flags: [...TRIAL, ...order],
    example: "unmoor trial demo/plover-28.vehicle.yaml --job clutch-plate --reading 4.5kN --pitch 0.5deg --rise 30mm",
    load: async () => (await import("./trial.ts")).runTrial,
  },
];
