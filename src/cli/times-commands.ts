// Owns the entries of times, finish, improve, ways, figures, demonstrate and learn in the list of commands.

import type { Flag, Operand } from "./call.ts";
import type { Command } from "./command.ts";

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
    name: "improve",
    summary: "what to change first: the change of the design that shortens the jobs most",
    about:
      "Tries quick couplings, hatches, captive bolts, one person more … and your own changes, each on every job, solved again.\nCtrl-C, or --within, gives what there is.",
    operands: [FILE],
    flags: [
      { name: "job", value: "ID", many: true, text: "only these jobs; else all of the file" },
      { name: "weight", value: "JOB=N", many: true, text: "how often a job comes a year; else all alike" },
      {
        name: "crew",
        value: "N|FILE",
        many: true,
        text: "who is there, as in plan; else as many as some step asks for",
      },
      { name: "changes", value: "FILE", text: "your own changes, weights and rate (*.changes.yaml)" },
      { name: "rate", value: "MONEY", number: true, text: "what an hour of labour costs" },
      { name: "most", value: "N", number: true, text: "try so many changes of the rules; else 60" },
      { name: "rank", value: "BY", text: "elapsed, labour or p95; else elapsed" },
      ...CHANCE.filter(({ name }) => name !== "by").map((flag) =>
        flag.name === "runs" ? { ...flag, text: "simulate so many; else 2000" } : flag,
      ),
      { name: "within", value: "SECONDS", number: true, text: "stop then with what there is" },
      { name: "seed", value: "N", number: true, text: "search and simulate from another beginning" },
    ],
    example: "unmoor improve demo/bench-pump.vehicle.yaml --weight shaft-seal=12",
    load: async () => (await import("./improve.ts")).runImprove,
  },
  {
    name: "ways",
    summary: "repair in place, take out, or swap: which is done first, with its chances",
    about:
      "Plans the job of each way and waits for its parts; what is not given a lead time lies on the shelf. Times: one, or least,\nlikeliest and most. Ctrl-C gives what there is.",
    operands: [FILE],
    flags: [
      { name: "in-place", value: "JOB", text: "the job that mends it where it is" },
      { name: "out", value: "JOB", text: "the job that takes it out, mends it and puts it back" },
      { name: "swap", value: "JOB", text: "the job that puts a ready one in" },
      { name: "lead", value: "WAY=T", many: true, text: "when its parts are there: swap=2d, or out=4h,6h,12h" },
      { name: "mend", value: "WAY=T", many: true, text: "how long the repair itself takes; else the job's own work" },
      {
        name: "crew",
        value: "N|FILE",
        many: true,
        text: "who is there, as in plan; else as many as some step asks for",
      },
      ...CHANCE,
      { name: "within", value: "SECONDS", number: true, text: "stop then with what there is" },
      { name: "seed", value: "N", number: true, text: "search and simulate from another beginning" },
      { name: "svg", value: "FILE", text: "also draw it into this file" },
    ],
    example: "unmoor ways demo/plover-28.vehicle.yaml --out renew-crank-seal --swap swap-unit --lead swap=2h,4h,12h",
    load: async () => (await import("./ways.ts")).runWays,
  },
  {
    name: "figures",
    summary: "mean time to repair, median, 90 and 95 %, over the jobs by how often each comes",
    about:
      "Elapsed, by simulation, as MIL-HDBK-472, 470A and IEC 60706 define them. Labour is another figure, and is given with its name.\nCtrl-C gives those of the jobs that were reckoned.",
    operands: [FILE],
    flags: [
      { name: "job", value: "ID", many: true, text: "these jobs; else all" },
      { name: "weight", value: "JOB=N", many: true, text: "how often a job comes a year; else all alike" },
      { name: "preventive", value: "ID", many: true, text: "these are done before anything fails" },
      {
        name: "crew",
        value: "N|FILE",
        many: true,
        text: "who is there, as in plan; else as many as some step asks for",
      },
      ...CHANCE.filter(({ name }) => name !== "by"),
      { name: "within", value: "SECONDS", number: true, text: "stop then with what there is" },
      { name: "seed", value: "N", number: true, text: "search and simulate from another beginning" },
    ],
    example: "unmoor figures demo/bench-pump.vehicle.yaml --weight shaft-seal=12",
    load: async () => (await import("./standard-figures.ts")).runFigures,
  },
  {
    name: "demonstrate",
    summary: "is a required time to repair met? how many to time; accept, reject or go on, with its risks",
    about:
      "Plans of MIL-STD-471A and MIL-HDBK-470A appendix B. What is as good as --good is to be accepted, what is as bad as --bad rejected. Exit code 1: rejected.",
    operands: [{ name: "OF", text: "mean, percentile, or share (of the repairs that take longer than --critical)" }],
    flags: [
      { name: "good", value: "T|SHARE", text: "a time, of a share a share: 40min, 5%" },
      { name: "bad", value: "T|SHARE", text: "what is to be rejected: 80min, 15%" },
      { name: "spread", value: "S", number: true, text: "of the logarithm of lognormal times, known beforehand" },
      { name: "deviation", value: "T", text: "of a mean: standard deviation of times of any kind, instead" },
      { name: "percentile", value: "SHARE", text: "95%" },
      { name: "critical", value: "T", text: "of a share: the time that a repair may take" },
      { name: "one-by-one", text: "of a share: decide after each repair" },
      { name: "times", value: "T|FILE", many: true, text: "the repairs that were timed, in their order" },
      { name: "producer", value: "SHARE", text: "risk that what is good is rejected; else 10%" },
      { name: "consumer", value: "SHARE", text: "risk that what is bad is accepted; else 10%" },
    ],
    example: "unmoor demonstrate share --critical 90min --good 5% --bad 15% --one-by-one --times 50,70,95,40",
    load: async () => (await import("./demonstrate.ts")).runDemonstrate,
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
