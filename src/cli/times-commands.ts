// Owns the entries of times, finish and learn in the list of commands.

import type { Flag, Operand } from "./call.ts";
import type { Command } from "./commands.ts";

const FILE: Operand = { name: "FILE", text: "the vehicle file (*.vehicle.yaml)" };

const CHANCE: readonly Flag[] = [
  { name: "by", value: "MINUTES", number: true, text: "the chance to be done within so many minutes" },
  { name: "learnt", value: "FILE", text: "times that runs have taught, as learn --write wrote them" },
  { name: "runs", value: "N", number: true, text: "simulate so many; else 10 000" },
  { name: "common", value: "SPREAD", text: "what all steps of a run have in common; else 0.1" },
];

/** `order` and `search` are what every command takes that plans, and that schedules a crew. */
export const timesCommands = (order: readonly Flag[], search: readonly Flag[]): readonly Command[] => [
  {
    name: "times",
    summary: "a first time for a connection out of the catalogue, or a time by hand, with its spread",
    about:
      "(handling + count × fastener × size) × access × tool; each figure says where it comes from. The catalogue is a start: a shop's own runs replace it.",
    operands: [
      { name: "KIND", text: "hose, flange, mount …; absent with --minutes or --three: the catalogue", optional: true },
    ],
    flags: [
      { name: "fastener", value: "NAME", text: "bolt, nut, hose clamp …" },
      { name: "count", value: "N", number: true, text: "how many of it; else 1" },
      { name: "size", value: "MM", number: true, text: "nominal diameter of the thread" },
      { name: "access", value: "NAME", text: "free, tight, overhead or blind" },
      { name: "tool", value: "NAME", text: "hand, power, torque wrench or special" },
      { name: "minutes", value: "N", text: "instead: one number, with the default spread" },
      { name: "three", value: "A,M,B", many: true, text: "instead: least, likeliest and most minutes" },
    ],
    example: "unmoor times flange --fastener bolt --count 6 --size 12 --access tight",
    load: async () => (await import("./times.ts")).runTimes,
  },
  {
    name: "finish",
    summary: "when is it done: percentiles, the chance of a time, what the finish waits for",
    about:
      "Simulates the crew's schedule in its order with times by chance. Percentiles by nearest rank, each with its standard error.\nCtrl-C takes the best schedule and the runs so far; --within SECONDS ends the runs as well.",
    operands: [FILE],
    flags: [
      ...order.filter(({ name }) => name !== "crew"),
      { name: "crew", value: "N|FILE", many: true, text: "who is there, as in plan; else 2 people" },
      ...CHANCE,
      ...search,
    ],
    example: "unmoor finish demo/bench-pump.vehicle.yaml --job shaft-seal --crew 2 --by 150 --seconds 1",
    load: async () => (await import("./finish.ts")).runFinish,
  },
  {
    name: "learn",
    summary: "what runs taught: times before and after, causes of waiting, ties that are forgotten",
    about:
      "Runs are JSON Lines, docs/times.md describes them. What was learnt goes to a side file, never into the vehicle file.",
    operands: [FILE, { name: "RUNS", text: "the runs (*.jsonl), one file or more", many: true }],
    flags: [{ name: "write", value: "FILE", text: "write what was learnt for finish --learnt" }],
    example: "unmoor learn demo/bench-pump.vehicle.yaml demo/bench-pump.runs.jsonl",
    load: async () => (await import("./learn.ts")).runLearn,
  },
];
